import { describe, expect, test } from "vitest";
import { ratio } from "@/lib/measure";
import { type StandingTest, STALENESS_LIMITS, daysBetween, factorDrift, individualsChart, rateInBase, sayStale, stalenessOf, yieldLine } from "@/lib/yield";
import { US, byProduct, main, rate, sheet, show, won } from "./sheets";
import { told } from "./yields";

const fresh: StandingTest = { testedOn: "2026-05-04", today: "2026-06-10", tests: 5, changes: [], price: null, chart: null };

/** The codes of every reason, and its sentence. */
function reasons(asked: Partial<StandingTest>): readonly (readonly [string, string])[] {
  return stalenessOf({ ...fresh, ...asked }).map((reason) => [reason.code, sayStale(reason, US)]);
}

describe("whether a test still stands", () => {
  test("five tests, the newest five weeks old, nothing changed: no doubt", () => {
    expect(reasons({})).toEqual([]);
  });

  test("the dealer changed since", () => {
    expect(reasons({ changes: [{ what: "dealer", on: "2026-06-02", before: "Harbour Meats", after: "Northside" }] })).toEqual([
      ["condition-changed", "The dealer changed from Harbour Meats to Northside, from Tue 2 Jun 2026: the test was made before, so test again."],
    ]);
  });

  test("what changed before the test, on its day, after today, or not at all, is no reason", () => {
    const dealer = { what: "dealer", before: "Harbour Meats", after: "Northside" } as const;
    for (const on of ["2026-04-01", "2026-05-04", "2026-06-11"]) expect(reasons({ changes: [{ ...dealer, on }] })).toEqual([]);
    expect(reasons({ changes: [{ ...dealer, on: "2026-06-10" }] })).toHaveLength(1);
    expect(reasons({ changes: [{ what: "cutter", on: null, before: "Ana", after: "Ana" }] })).toEqual([]);
  });

  test("each condition has its own words; a day that is not known is not made up", () => {
    const said = reasons({
      changes: [
        { what: "specification", on: "2026-05-20", before: "Choice, 13 lb up", after: "Select, 13 lb up" },
        { what: "cutting", on: null, before: "fat 1/4 in", after: "fat 1/8 in" },
        { what: "portion", on: null, before: "9 oz", after: "8 oz" },
        { what: "cooking", on: null, before: "", after: "roasted at 250 °F" },
        { what: "cutter", on: null, before: "Ana", after: "" },
      ],
    }).map(([, sentence]) => sentence.replace(/: the test was made before, so test again\.$/, ""));
    expect(said).toEqual([
      "The purchase specification changed from Choice, 13 lb up to Select, 13 lb up, from Wed 20 May 2026",
      "The cutting specification changed from fat 1/4 in to fat 1/8 in since the test",
      "The portion changed from 9 oz to 8 oz since the test",
      "The way it is cooked changed to roasted at 250 °F since the test",
      "The cutter changed from Ana to nothing said since the test",
    ]);
  });

  test("older than a quarter, dated ahead, and few", () => {
    expect(reasons({ testedOn: "2026-03-10" })).toEqual([]);
    expect(reasons({ testedOn: "2026-03-09" })).toEqual([["old", "The newest test is 93 days old (Mon 9 Mar 2026), over the house's 92: test again when you can."]]);
    expect(reasons({ testedOn: "2026-07-01" })).toEqual([["dated-ahead", "The newest test is dated Wed 1 Jul 2026, which is still to come: check its date."]]);
    expect(reasons({ tests: 1 })).toEqual([["few-tests", "Only one test stands behind this: make it 3, and the yield can be given a range."]]);
    expect(reasons({ tests: 2 }).map(([, sentence]) => sentence)).toEqual(["Only 2 tests stand behind this: 3 are a start."]);
  });

  test("a house may set its own limits", () => {
    expect(stalenessOf({ ...fresh, testedOn: "2026-05-04" }, { ...STALENESS_LIMITS, days: 30 }).map((reason) => reason.code)).toEqual(["old"]);
  });

  test("a price that moved far is told with what the factor of that day now says wrong", () => {
    // 10 lb at 5.00, 6 lb usable, 2 lb of trim at 3.00: C = 44/6, F = 44/30. At 6.50 the factor tells 9.53, by-products held 9.83.
    const line = won(yieldLine([sheet("butcher", "10 lb", "5.00", [main("strip", "6 lb"), byProduct("trim", "2 lb", "3.00")])], "strip", "weight"));
    const at = (price: string): { price: ReturnType<typeof rateInBase>; values: ReturnType<typeof rateInBase>[] } => ({ price: rateInBase(rate(price)), values: [rateInBase(rate("3.00"))] });
    const drift = factorDrift(line, at("5.00"), at("6.50"));
    expect(show(drift ?? ratio.ZERO, 6)).toBe("-0.030508");
    expect(reasons({ price: { then: rate("5.00"), now: rate("6.50"), factorDrift: drift } })).toEqual([
      ["price-moved", "The price went from $5.00 / lb to $6.50 / lb, up 30.0 %, since the test. The factor of that day now tells 3.1 % too little; with by-products at their own price the cost holds."],
    ]);
    expect(reasons({ price: { then: rate("5.00"), now: rate("5.75"), factorDrift: null } })).toEqual([]);
    expect(reasons({ price: { then: rate("5.00"), now: rate("4.00"), factorDrift: null } })).toEqual([
      ["price-moved", "The price went from $5.00 / lb to $4.00 / lb, down 20.0 %, since the test. The weights hold at any price; the factor of that day may not."],
    ]);
    expect(reasons({ price: { then: rate("0"), now: rate("4.00"), factorDrift: null } })).toEqual([]);
  });

  test("without by-products, or with by-products that moved in step, the factor does not drift", () => {
    const bare = won(yieldLine([sheet("butcher", "10 lb", "5.00", [main("strip", "6 lb")])], "strip", "weight"));
    expect(factorDrift(bare, { price: ratio.of(5n), values: [] }, { price: ratio.of(9n), values: [] })).toEqual(ratio.ZERO);
    const line = won(yieldLine([sheet("butcher", "10 lb", "5.00", [main("strip", "6 lb"), byProduct("trim", "2 lb", "3.00")])], "strip", "weight"));
    expect(factorDrift(line, { price: ratio.of(5n), values: [ratio.of(3n)] }, { price: ratio.of(10n), values: [ratio.of(6n)] })).toEqual(ratio.ZERO);
    expect(factorDrift(line, { price: ratio.ZERO, values: [ratio.of(3n)] }, { price: ratio.of(10n), values: [ratio.of(6n)] })).toBeNull();
  });

  test("the control chart signals", () => {
    const chart = won(individualsChart(told(["0.71", "0.72", "0.70", "0.715", "0.705", "0.72", "0.71", "0.70", "0.62"])));
    expect(reasons({ chart }).map(([code, sentence]) => [code, sentence.slice(0, 49)])).toEqual([["chart-signal", "The newest test lies beyond the control limits: l"]]);
  });

  test("all of it at once, the changes first", () => {
    const all = stalenessOf({
      testedOn: "2025-01-01", today: "2026-06-10", tests: 1, chart: null,
      changes: [{ what: "dealer", on: "2026-06-02", before: "A", after: "B" }],
      price: { then: rate("5"), now: rate("7"), factorDrift: null },
    });
    expect(all.map((reason) => reason.code)).toEqual(["condition-changed", "old", "price-moved", "few-tests"]);
  });

  test("days are counted by the calendar", () => {
    expect([daysBetween("2026-02-27", "2026-03-01"), daysBetween("2024-02-27", "2024-03-01"), daysBetween("2026-03-01", "2026-02-27")]).toEqual([2, 3, -2]);
    expect(() => daysBetween("today", "2026-01-01")).toThrow("expected a day");
  });
});
