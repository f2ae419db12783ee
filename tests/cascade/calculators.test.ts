/**
 * The arithmetic of the cascade, each fast way held to a slow one: double-double to exact fractions, the registers' way
 * of reading facts to the BigInt way bit for bit, the written-out sweep to the calculator it writes out, the engine to
 * decimal.js at 60 digits.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Quote, askedRate, lineInBase } from "@/lib/book";
import { type Cascade, NODE_KINDS, compile } from "@/lib/cascade";
import type { Calculator } from "@/lib/cascade/calculator";
import { decimal60 } from "@/lib/cascade/decimal-60";
import { decimalOf, doubleDouble, exactly, fromBigRatio, lowOfQuotient } from "@/lib/cascade/double-double";
import { costRows, keyOf, rowsBelow } from "@/lib/cascade/exact";
import { fractions } from "@/lib/cascade/fractions";
import { readAmount, readShare } from "@/lib/cascade/rows/amount";
import { readRate } from "@/lib/cascade/rows/item";
import { SmallRatio } from "@/lib/cascade/small-ratio";
import { type Exact, Decimal, type Ratio, UNIT_NAMES, exact, kindOf, ratio } from "@/lib/measure";
import { bookOf, item, quote, randomBook, recipe } from "../menu/small-books";

const whole = fc.bigInt({ min: -(10n ** 24n), max: 10n ** 24n });
const above = fc.bigInt({ min: 1n, max: 10n ** 24n });
const aRatio = fc.tuple(whole, above).map(([n, d]) => ratio.of(n, d));
const size = (a: Ratio): Ratio => (ratio.sign(a) < 0 ? ratio.neg(a) : a);
/** 2^-102: the pair carries 106 bits and an operation may lose the last few. */
const CLOSE = ratio.of(1n, 1n << 102n);

function close(got: Ratio, wanted: Ratio, measure: Ratio = wanted): boolean {
  return ratio.compare(size(ratio.sub(got, wanted)), ratio.mul(size(measure), CLOSE)) <= 0;
}

describe("double-double against exact fractions", () => {
  test("a ratio becomes the double nearest to it and the double nearest to the rest", () => {
    fc.assert(fc.property(aRatio, ({ n, d }) => {
      const { hi, lo } = fromBigRatio(n, d);
      // Correctly rounded: what is left is at most half a step of the low part.
      expect(hi + lo).toBe(hi);
      const off = ratio.sub({ n, d }, exactly(hi, lo));
      expect(ratio.compare(size(off), ratio.mul(size({ n, d }), ratio.of(1n, 1n << 106n))) <= 0).toBe(true);
    }), { numRuns: 1000 });
  });

  test("whole numbers below 2^53 divided in registers give the bits of the BigInt way", () => {
    const small = fc.maxSafeInteger();
    const divisor = fc.integer({ min: 1, max: Number.MAX_SAFE_INTEGER });
    fc.assert(fc.property(small, divisor, (n, d) => {
      const hi = n / d;
      expect({ hi: hi + 0, lo: lowOfQuotient(n, d, hi) + 0 }).toEqual(plain(fromBigRatio(BigInt(n), BigInt(d))));
    }), { numRuns: 2000 });
  });

  test("sums, products and quotients agree", () => {
    fc.assert(fc.property(aRatio, aRatio, aRatio, (x, y, z) => {
      const [a, b, c] = [x, y, z].map(({ n, d }) => fromBigRatio(n, d)) as [DD, DD, DD];
      const [ea, eb, ec] = [a, b, c].map(doubleDouble.toRatio) as [Ratio, Ratio, Ratio];
      const most = ratio.add(size(ea), size(eb));
      expect(close(doubleDouble.toRatio(doubleDouble.add(a, b)), ratio.add(ea, eb), most)).toBe(true);
      const step = doubleDouble.settle(doubleDouble.multiplyAdd(c, a, b));
      expect(close(doubleDouble.toRatio(step), ratio.add(ec, ratio.mul(ea, eb)), ratio.add(size(ec), size(ratio.mul(ea, eb))))).toBe(true);
      if (ratio.sign(eb) !== 0) expect(close(doubleDouble.toRatio(doubleDouble.divide(a, b)), ratio.div(ea, eb))).toBe(true);
      expect(Math.sign(doubleDouble.compare(a, b))).toBe(ratio.compare(ea, eb));
    }), { numRuns: 1000 });
  });

  test("is handed to Decimal exactly", () => {
    fc.assert(fc.property(aRatio, ({ n, d }) => {
      const { hi, lo } = fromBigRatio(n, d);
      expect(decimal60.toRatio(decimalOf(hi, lo))).toEqual(exactly(hi, lo));
    }), { numRuns: 500 });
    expect(decimalOf(0.1, 0).toFixed()).toBe("0.1000000000000000055511151231257827021181583404541015625");
    const Decimal80 = Decimal.clone({ precision: 80 });
    expect(decimalOf(-3, 2 ** -60).toFixed()).toBe(new Decimal80(-3).plus(new Decimal80(2).pow(-60)).toFixed());
  });

  test.each<[string, Calculator<unknown>]>([
    ["double-double", doubleDouble as Calculator<unknown>], ["60 digits", decimal60 as Calculator<unknown>], ["fractions", fractions as Calculator<unknown>],
  ])("%s: half and a third make five sixths", (_, calculator) => {
    const half = calculator.fromRatio(1n, 2n);
    const third = calculator.fromRatio(1n, 3n);
    const sum = calculator.add(half, third);
    expect(calculator.toDecimal(sum).toSignificantDigits(30).toString()).toBe("0.833333333333333333333333333333");
    expect(calculator.toDecimal(calculator.divide(half, third)).toSignificantDigits(30).toString()).toBe("1.5");
    const product = calculator.settle(calculator.multiplyAdd(calculator.zero, half, third));
    expect(calculator.toDecimal(product).toSignificantDigits(30).toString()).toBe("0.166666666666666666666666666667");
    expect(calculator.compare(third, half)).toBeLessThan(0);
    expect(calculator.compare(half, half)).toBe(0);
  });
});

type DD = ReturnType<typeof fromBigRatio>;

/** Without the sign of zero, which no figure shows. */
function plain({ hi, lo }: DD): DD {
  return { hi: hi + 0, lo: lo + 0 };
}

/** Texts as kitchens type them, and some that do not fit a register. */
const amountText = fc.oneof(
  fc.tuple(fc.integer({ min: 1, max: 99_999 }), fc.integer({ min: 0, max: 4 })).map(([n, places]) => ratio.toExact(ratio.of(BigInt(n), 10n ** BigInt(places)))),
  fc.tuple(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: 17 })).map(([n, d]) => ratio.toExact(ratio.of(BigInt(n), BigInt(d)))),
  above.map((n) => ratio.toExact(ratio.of(n, 10n ** 20n))),
);

describe("what is read in registers is what the book says", () => {
  const into = new SmallRatio();
  const said = (): Ratio => ratio.of(BigInt(into.n), BigInt(into.d));

  test("a quantity of an item", () => {
    fc.assert(fc.property(amountText, fc.constantFrom(...UNIT_NAMES), (amount, unit) => {
      const book = bookOf([item("thing", kindOf(unit))]);
      if (!readAmount({ amount, unit }, into)) return;
      expect(lineInBase(book, { key: "", of: { kind: "item", id: "thing" }, quantity: { amount, unit }, note: "" })).toMatchObject({ ok: true, amount: said() });
    }), { numRuns: 600 });
  });

  test("a share of a batch", () => {
    fc.assert(fc.property(amountText, fc.constantFrom(...UNIT_NAMES), amountText, fc.constantFrom(...UNIT_NAMES), (amount, unit, batch, batchUnit) => {
      if (kindOf(unit) !== kindOf(batchUnit) || !readShare({ amount, unit }, { amount: batch, unit: batchUnit }, into)) return;
      const book = bookOf([recipe("base", [`${batch} ${batchUnit}`], [])]);
      expect(lineInBase(book, { key: "", of: { kind: "recipe", id: "base" }, quantity: { amount, unit }, note: "" })).toMatchObject({ ok: true, amount: said() });
    }), { numRuns: 1500 });
  });

  test("the rate of a quote, by the unit and by the pack", () => {
    fc.assert(fc.property(amountText, amountText, amountText, fc.constantFrom(...UNIT_NAMES), fc.boolean(), (price, count, each, unit, byPack) => {
      const asked = quoteOf(price, count, each, unit, byPack);
      if (readRate(asked, into)) expect(said()).toEqual(askedRate(asked));
    }), { numRuns: 1500 });
  });

  test("everyday figures do fit", () => {
    expect(readAmount({ amount: exact("12.375"), unit: "lb" }, into)).toBe(true);
    expect(readAmount({ amount: exact("1/3"), unit: "cup" }, into)).toBe(true);
    expect(readShare({ amount: exact("2.5"), unit: "oz" }, { amount: exact("11.25"), unit: "kg" }, into)).toBe(true);
    expect(readRate(quoteOf(exact("142.50"), exact("6"), exact("12.5"), "lb", true), into)).toBe(true);
    expect(readAmount({ amount: exact("0.12345678901234567"), unit: "oz" }, into)).toBe(false);
  });
});

function quoteOf(price: Exact, count: Exact, each: Exact, unit: Quote["pack"]["size"]["unit"], byPack: boolean): Quote {
  const made = quote("thing", "1 a lb", {
    price: { amount: price }, per: byPack ? "pack" : unit,
    pack: { levels: [{ count: exact("1"), container: "case" }, { count, container: "bag" }], size: { amount: each, unit }, catchWeight: false },
  });
  if (made.kind !== "quote" || made.after === null) throw new Error("expected a quote");
  return made.after;
}

describe("the engine", () => {
  const everything = (cascade: Cascade) => NODE_KINDS.flatMap((kind) => [...cascade.book.shelves[kind].keys()].map((id) => ({ kind, id })));

  test("has the bits of the double-double calculator", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const compiled = compile(randomBook(g));
      if (!compiled.ok) throw new Error("expected a random book to compile");
      const cascade = compiled.value;
      const refs = everything(cascade);
      const slow = costRows(doubleDouble, rowsBelow(cascade, refs));
      for (const ref of refs) {
        const { hi, lo } = cascade.rowAt(cascade.engine.graph.rowOf[cascade.numberOf(ref)] as number);
        expect(plain({ hi, lo }), keyOf(ref)).toEqual(plain(slow.get(keyOf(ref)) ?? doubleDouble.zero));
      }
    }), { numRuns: 200 });
  });

  test("agrees with decimal.js at 60 digits to 1e-24 of the larger of cost and one unit of money", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const compiled = compile(randomBook(g));
      if (!compiled.ok) throw new Error("expected a random book to compile");
      const cascade = compiled.value;
      const refs = everything(cascade);
      const judged = costRows(decimal60, rowsBelow(cascade, refs));
      for (const ref of refs) {
        const { hi, lo } = cascade.rowAt(cascade.engine.graph.rowOf[cascade.numberOf(ref)] as number);
        const judge = judged.get(keyOf(ref)) ?? decimal60.zero;
        expect(judge.minus(decimalOf(hi, lo)).abs().lte(Decimal.max(1, judge.abs()).times("1e-24")), keyOf(ref)).toBe(true);
      }
    }), { numRuns: 100 });
  });
});
