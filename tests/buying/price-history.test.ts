/** Prices over time, and the season in them. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { ExchangeRate, Quote } from "@/lib/book";
import { type Dated, monthMeans, priceSteps, seasonOf, seasonalIndex, stepOn } from "@/lib/buying";
import { baseFactor, exact, ratio } from "@/lib/measure";

const QUOTE: Quote = {
  id: "q", itemId: "i", dealerId: "d", pack: { levels: [{ count: exact("1"), container: "case" }], size: { amount: exact("10"), unit: "lb" }, catchWeight: false },
  price: { amount: exact("5") }, per: "lb", currency: null, basis: "quoted", until: null, code: "", gtin: "", landed: [],
};

function asked(revision: number, validFrom: string, price: string | null, over: Partial<Quote> = {}, replacedBy: number | null = null): Dated<Quote> {
  return { revision, validFrom, replacedBy, fact: price === null ? null : { ...QUOTE, price: { amount: exact(price) }, ...over } };
}

function rates(revision: number, validFrom: string, rate: string | null): Dated<{ readonly exchangeRates: readonly ExchangeRate[] }> {
  return { revision, validFrom, replacedBy: null, fact: { exchangeRates: rate === null ? [] : [{ currency: "EUR", rate: exact(rate), source: "the bank", on: validFrom }] } };
}

/** Per pound, as text. */
const told = (steps: ReturnType<typeof priceSteps>) => steps.map((step) => [step.from, step.until, step.door === null ? null : ratio.toDecimal(ratio.mul(step.door, ratio.fromExact(baseFactor("lb")))).toFixed(4), step.by, step.waits]);

describe("the prices of a dealer", () => {
  test("step from day to day; a corrected one never was, of one day the last counts, and one recorded ahead waits", () => {
    const steps = priceSteps([
      asked(1, "2026-01-05", "5"), asked(2, "2026-02-02", "9.99", {}, 3), asked(3, "2026-02-02", "6"), asked(4, "2026-03-02", "7"), asked(5, "2026-03-02", "7.10"), asked(6, "2026-12-01", "8"),
    ], [], "2026-11-24");
    expect(told(steps)).toEqual([
      ["2026-01-05", "2026-02-02", "5.0000", "price", false], ["2026-02-02", "2026-03-02", "6.0000", "price", false],
      ["2026-03-02", "2026-12-01", "7.1000", "price", false], ["2026-12-01", null, "8.0000", "price", true],
    ]);
    expect(stepOn(steps, "2026-01-04")).toBeNull();
    expect(stepOn(steps, "2026-11-24")?.revision).toBe(5);
  });

  test("end where the dealer offers it no more, and begin again", () => {
    const steps = priceSteps([asked(1, "2026-01-05", "5"), asked(2, "2026-02-02", null), asked(3, "2026-04-06", "6")], [], "2026-11-24");
    expect(told(steps).map(([from, until]) => [from, until])).toEqual([["2026-01-05", "2026-02-02"], ["2026-04-06", null]]);
    expect(stepOn(steps, "2026-03-01")).toBeNull();
  });

  test("in other money move with the exchange rate of the day, with freight on top", () => {
    const freight = { currency: "EUR", landed: [{ key: "f", name: "Freight", way: "adds", of: { kind: "money", amount: { amount: exact("1") }, per: "pack" } }] } as const;
    const steps = priceSteps([asked(2, "2026-01-05", "5", freight), asked(5, "2026-06-01", "6", freight)], [rates(1, "2025-12-01", null), rates(3, "2026-02-01", "1.10"), rates(4, "2026-03-01", "1.10"), rates(6, "2026-07-01", "1.20")], "2026-11-24");
    // (5 + 1/10) × 1.10, (6 + 1/10) × 1.10, × 1.20.
    expect(told(steps)).toEqual([
      ["2026-01-05", "2026-02-01", null, "price", false], ["2026-02-01", "2026-06-01", "5.6100", "exchange", false],
      ["2026-06-01", "2026-07-01", "6.7100", "price", false], ["2026-07-01", null, "7.3200", "exchange", false],
    ]);
  });

  test("never overlap, whatever was recorded", () => {
    const day = fc.integer({ min: 1, max: 27 }).chain((date) => fc.integer({ min: 1, max: 12 }).map((month) => `2026-${String(month).padStart(2, "0")}-${String(date).padStart(2, "0")}`));
    const revision = fc.record({ day, price: fc.option(fc.integer({ min: 1, max: 99 }).map(String), { nil: null }), abroad: fc.boolean(), corrected: fc.boolean() });
    fc.assert(fc.property(fc.array(revision, { maxLength: 12 }), fc.array(fc.record({ day, rate: fc.constantFrom("1.1", "1.2", null) }), { maxLength: 5 }), (made, settings) => {
      const steps = priceSteps(made.map((one, index) => asked(index, one.day, one.price, one.abroad ? { currency: "EUR" } : {}, one.corrected ? 99 : null)), settings.map((one, index) => rates(index, one.day, one.rate)), "2026-06-15");
      steps.forEach((step, index) => {
        const next = steps[index + 1];
        expect(step.until === null || step.from < step.until).toBe(true);
        if (next !== undefined) expect(step.until !== null && step.until <= next.from).toBe(true);
      });
    }));
  });
});

describe("the season", () => {
  const months = (from: number, count: number) => Array.from({ length: count }, (_, index) => `${from + Math.floor(index / 12)}-${String(index % 12 + 1).padStart(2, "0")}-01`);

  test("of a month is weighted by the days a price stood", () => {
    const steps = priceSteps([asked(1, "2026-01-01", "5"), asked(2, "2026-01-11", "8")], [], "2026-03-10");
    const means = monthMeans(steps, "2026-03-10");
    expect(means.map(({ month }) => month)).toEqual(["2026-01", "2026-02"]);
    // (10 × 5 + 21 × 8) / 31.
    expect(ratio.compare(ratio.mul(means[0]?.mean ?? ratio.ZERO, ratio.fromExact(baseFactor("lb"))), ratio.of(218n, 31n))).toBe(0);
  });

  test("is told of two whole years, and until then how many months are lacking", () => {
    const steps = (count: number) => priceSteps(months(2024, count).map((day, index) => asked(index, day, String(10 + index % 12))), [], "2027-06-15");
    expect(seasonOf(steps(1), "2025-10-15")).toMatchObject({ index: null, lacking: 3 });
    expect(seasonOf([], "2025-10-15")).toMatchObject({ index: null, lacking: 24 });
    const season = seasonOf(steps(24), "2026-01-01");
    expect(season.lacking).toBe(0);
    expect(season.index).toHaveLength(12);
    expect(season.index?.every(({ ratios }) => ratios.length === 1)).toBe(true);
    expect(ratio.compare(season.index?.[0]?.index ?? ratio.ONE, season.index?.[11]?.index ?? ratio.ONE)).toBe(-1);
  });

  test("a gap begins it anew", () => {
    const steps = priceSteps([asked(1, "2024-01-01", "5"), asked(2, "2025-03-05", null), asked(3, "2025-04-10", "6")], [], "2026-11-24");
    expect(monthMeans(steps, "2026-11-24")[0]?.month).toBe("2025-05");
  });

  test("a shape laid over a level is found again exactly, the mean is 1, and a price twice as high has the same season", () => {
    const shape = fc.array(fc.integer({ min: 50, max: 150 }), { minLength: 12, maxLength: 12 });
    fc.assert(fc.property(shape, fc.integer({ min: 1, max: 500 }), fc.integer({ min: 24, max: 60 }), fc.integer({ min: 0, max: 11 }), (of, level, count, first) => {
      const values = Array.from({ length: count }, (_, index) => ratio.of(BigInt((of[(index + first) % 12] ?? 0) * level)));
      const index = seasonalIndex(values, 12, first);
      const mean = ratio.of(BigInt(of.reduce((sum, one) => sum + one, 0)), 12n);
      index?.forEach((one) => expect(ratio.compare(one.index, ratio.div(ratio.of(BigInt(of[one.place] ?? 0)), mean))).toBe(0));
      expect(ratio.compare(ratio.sum(index?.map((one) => one.index) ?? []), ratio.of(12n))).toBe(0);
      const doubled = seasonalIndex(values.map((value) => ratio.mul(value, ratio.of(2n))), 12, first);
      expect(doubled?.map((one) => ratio.toDecimal(one.index).toFixed(20))).toEqual(index?.map((one) => ratio.toDecimal(one.index).toFixed(20)));
    }), { numRuns: 40 });
  });
});
