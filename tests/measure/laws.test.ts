/** Laws that hold for every figure: exact numbers, conversions, and that what is printed is read back as it was. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Decimal, type Exact, type Habits, type Quantity, UNIT_NAMES, type Unit, amountIn, exact, exactRatio, inBase, inBaseExactly, isExact, kindOf, parseMoney, parseNumber, parseQuantity, parseRate, parseShare, printMoney, printNumber, printShare, quantityText, rateText, ratio, toDecimal, toRatio } from "@/lib/measure";
import { KITCHENS, us } from "./habits";

const whole = fc.bigInt({ min: -(10n ** 20n), max: 10n ** 20n });
const above = fc.bigInt({ min: 1n, max: 10n ** 20n });
const kitchen = fc.constantFrom(...KITCHENS);
const unit = fc.constantFrom(...UNIT_NAMES);
/** Amounts as people state them: up to three decimals, or a kitchen fraction. */
const decimalAmount = fc.tuple(fc.bigInt({ min: 1n, max: 99_999_999n }), fc.constantFrom(1n, 10n, 100n, 1000n, 10000n)).map(([n, d]) => exactRatio(n, d));
const fractionAmount = fc.tuple(fc.bigInt({ min: 1n, max: 2000n }), fc.constantFrom(2n, 3n, 4n, 6n, 8n, 16n, 7n)).map(([n, d]) => exactRatio(n, d));
const amount: fc.Arbitrary<Exact> = fc.oneof(decimalAmount, fractionAmount);

describe("exact numbers", () => {
  test("n/d as text gives n/d back in lowest terms", () => {
    fc.assert(fc.property(whole, above, (n, d) => {
      const text = exactRatio(n, d);
      const back = toRatio(text);
      expect(back.n * d).toBe(n * back.d);
      expect(back).toEqual(ratio.of(n, d));
    }));
  });
  test("the text is canonical whenever it fits, and says the same number whatever n and d are scaled by", () => {
    fc.assert(fc.property(whole, above, fc.bigInt({ min: 1n, max: 1000n }), (n, d, k) => {
      const text = exactRatio(n, d);
      expect(exactRatio(n * k, d * k)).toBe(text);
      expect(exactRatio(-n, -d)).toBe(text);
      if (text.length <= 120) expect(isExact(text)).toBe(true);
    }));
  });
  test("a decimal is read to the digit", () => {
    fc.assert(fc.property(fc.bigInt({ min: 0n, max: 10n ** 30n }), fc.integer({ min: 0, max: 12 }), (digits, places) => {
      const text = exactRatio(digits, 10n ** BigInt(places));
      expect(toDecimal(text).eq(new Decimal(digits.toString()).div(new Decimal(10).pow(places)))).toBe(true);
    }));
  });
  test("ratios add and multiply as numbers do", () => {
    const any = fc.tuple(whole, above).map(([n, d]) => ratio.of(n, d));
    fc.assert(fc.property(any, any, any, (a, b, c) => {
      expect(ratio.add(a, b)).toEqual(ratio.add(b, a));
      expect(ratio.mul(a, ratio.add(b, c))).toEqual(ratio.add(ratio.mul(a, b), ratio.mul(a, c)));
      expect(ratio.sub(ratio.add(a, b), b)).toEqual(a);
      if (b.n !== 0n) expect(ratio.mul(ratio.div(a, b), b)).toEqual(a);
      expect(ratio.compare(a, b)).toBe(ratio.sign(ratio.sub(a, b)));
      expect(ratio.floor(a) <= ratio.ceil(a)).toBe(true);
    }));
  });
});

describe("units", () => {
  test("there and back within a kind is the same quantity, exactly", () => {
    fc.assert(fc.property(amount, unit, (value, from) => {
      const quantity: Quantity = { amount: value, unit: from };
      const base = toRatio(inBaseExactly(quantity));
      const factor = toRatio(inBaseExactly({ amount: exact("1"), unit: from }));
      expect(ratio.toExact(ratio.div(base, factor))).toBe(ratio.toExact(ratio.fromExact(value)));
      expect(ratio.toDecimal(base).toSignificantDigits(30).eq(inBase(quantity).toSignificantDigits(30))).toBe(true);
    }));
  });
  test("kinds never mix", () => {
    fc.assert(fc.property(unit, unit, (from, to) => {
      const convert = (): Decimal => amountIn({ amount: exact("1"), unit: from }, to);
      if (kindOf(from) === kindOf(to)) expect(convert().gt(0)).toBe(true);
      else expect(convert).toThrow();
    }));
  });
});

describe("what is printed is read back", () => {
  const same = (quantity: Quantity, habits: Habits, printed: string): void => {
    const read = parseQuantity(printed, habits, { kinds: [kindOf(quantity.unit)] });
    if (!read.ok) throw new Error(`${habits.locale}: ${printed}: ${read.problems[0]?.sentence ?? ""}`);
    expect([printed, inBaseExactly(read.value)]).toEqual([printed, inBaseExactly(quantity)]);
    const spoken: readonly Unit[] = quantity.unit === "lb" ? ["lb", "oz"] : [quantity.unit];
    expect(spoken).toContain(read.value.unit);
  };
  test("quantities, in every unit and kitchen", () => {
    fc.assert(fc.property(amount, unit, kitchen, (value, of, habits) => same({ amount: value, unit: of }, habits, quantityText({ amount: value, unit: of }, habits))), { numRuns: 2000 });
  });
  test("numbers, money, rates and shares", () => {
    fc.assert(fc.property(decimalAmount, unit, kitchen, (value, per, habits) => {
      const figure = toDecimal(value);
      const number = parseNumber(printNumber(figure, habits), habits);
      expect(number.ok && toDecimal(number.value).eq(figure)).toBe(true);
      const places = Math.max(2, figure.decimalPlaces());
      const money = parseMoney(printMoney(figure, habits, { places }), habits);
      expect(money).toMatchObject({ ok: true });
      expect(money.ok && toDecimal(money.value.amount).eq(figure)).toBe(true);
      const rate = parseRate(rateText({ amount: value, per }, habits), habits, { bare: per });
      expect(rate.ok && rate.value.per === per && toDecimal(rate.value.amount).eq(figure)).toBe(true);
    }), { numRuns: 1000 });
    fc.assert(fc.property(fc.integer({ min: 10, max: 999 }), kitchen, (thousandths, habits) => {
      const share = new Decimal(thousandths).div(1000);
      const read = parseShare(`${printShare(share, habits)} %`, habits);
      expect(read.ok && toDecimal(read.value).eq(share)).toBe(true);
    }));
  });
});

describe("hostile text", () => {
  const readAll = (text: string): void => {
    for (const habits of KITCHENS) {
      for (const read of [
        parseNumber(text, habits), parseMoney(text, habits), parseShare(text, habits), parseRate(text, habits, { bare: "lb" }),
        parseQuantity(text, habits, { kinds: ["mass", "volume", "count"], bare: "lb" }), parseQuantity(text, habits, { kinds: ["mass"] }),
      ]) {
        if (read.ok) continue;
        const sentence = read.problems[0]?.sentence ?? "";
        expect(sentence.length).toBeGreaterThan(10);
        expect(sentence.length).toBeLessThan(400);
        expect(sentence).toMatch(/[.?]$/);
      }
    }
  };
  test("anything at all is read or refused with a sentence, never thrown", () => {
    fc.assert(fc.property(fc.oneof(fc.string({ unit: "binary", maxLength: 150 }), fc.stringMatching(/^[0-9.,\-/ #lbozkg$€%½¾'ae]{0,60}$/)), readAll), { numRuns: 1500 });
  });
  test.each([
    ["100,000 letters", "a".repeat(100_000)], ["100,000 digits", "1".repeat(100_000)], ["100,000 spaces", " ".repeat(100_000)], ["a tower of fractions", "1/".repeat(50_000)],
    ["direction marks", "\u202e\u200f".repeat(50_000)], ["nested pairs", "1 lb ".repeat(24)], ["halves", "½".repeat(119)], ["stacked accents", `1${"\u0301".repeat(110)} lb`], ["1e999999", "1e999999"], ["commas", "1,".repeat(59)],
    ["one long number", `${"9".repeat(118)}lb`], ["ligatures that grow", "ﷺ".repeat(118)],
  ])("%s: answered at once", (_name, text) => {
    readAll(text);
    const started = performance.now();
    for (let turn = 0; turn < 20; turn += 1) parseQuantity(text, us, { kinds: ["mass"], bare: "lb" });
    expect((performance.now() - started) / 20).toBeLessThan(5);
  });
});
