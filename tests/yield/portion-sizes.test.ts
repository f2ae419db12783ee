/** Sizes counted out on pieces, the usual tolerances, what is given away: examples, and laws over random pieces. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Ratio, baseFactor, exact, quantityText, ratio } from "@/lib/measure";
import { giveaway, limitsOf, overByWeight, pieceOfPortion, quantityInBase, sensibleStep, sizesAround, sizesTried, usualThicknessTolerance, usualTolerance, wholeCost } from "@/lib/yield";
import { US, codes, main, quantity, sheet, show, won } from "./sheets";

const METRIC = { locale: "de-DE", measures: "metric", currency: "EUR" } as const;
const oz = (text: string) => quantity(text, "oz");

/** A loin worked into pieces of so many quarter ounces. */
function worked(quarters: readonly number[]) {
  const pieces = quarters.map((each) => `${each / 4} oz`);
  const usable = quarters.reduce((sum, each) => sum + each, 0) / 4;
  return sheet("butcher", `${usable + 20} oz`, null, [main("steak", `${usable} oz`, { pieces })]);
}

describe("the usual tolerance", () => {
  test.each([
    ["5.99 oz", "1/4 oz"], ["6 oz", "1/2 oz"], ["11.9 oz", "1/2 oz"], ["12 oz", "3/4 oz"], ["1 lb", "3/4 oz"], ["18 oz", "1 oz"], ["3 lb", "1 oz"],
  ])("of %s is %s", (size, off) => {
    expect(quantityText(usualTolerance(oz(size), "us") ?? oz("0"), US)).toBe(off);
  });

  test("converted for a metric kitchen, and none for what is not weighed", () => {
    expect(usualTolerance({ amount: exact("250"), unit: "g" }, "metric")).toEqual({ amount: "14", unit: "g" });
    expect(usualTolerance({ amount: exact("120"), unit: "g" }, "metric")).toEqual({ amount: "7", unit: "g" });
    expect(usualTolerance({ amount: exact("2"), unit: "each" }, "us")).toBeNull();
    expect(usualTolerance({ amount: exact("1"), unit: "cup" }, "us")).toBeNull();
  });

  test("of a thickness: 1 in still belongs to the thin ones", () => {
    expect(["3/4 in", "1 in", "1 1/8 in", "1\"", "two fingers", ""].map((text) => usualThicknessTolerance(text, US))).toEqual(["3/16 in", "3/16 in", "1/4 in", "3/16 in", null, null]);
    expect(["25 mm", "2,5 cm", "28 mm"].map((text) => usualThicknessTolerance(text, METRIC))).toEqual(["5 mm", "5 mm", "6 mm"]);
  });
});

describe("what is given away", () => {
  const C = ratio.div(ratio.of(16n), quantityInBase(oz("16 oz")));

  test("over the size it is money; under it nothing is saved; under the tolerance it is short", () => {
    const off = (mean: string, tolerance: string | null = "1/2 oz") => giveaway(oz("10 oz"), oz(mean), tolerance === null ? null : oz(tolerance), C);
    expect(off("10.3 oz").standing).toBe("over");
    expect(show(off("10.3 oz").perPortion ?? ratio.ZERO, 6)).toBe("0.3");
    expect(show(off("10.3 oz").share, 6)).toBe("0.03");
    expect(off("10 oz")).toMatchObject({ standing: "on", perPortion: null });
    expect(off("9.5 oz")).toMatchObject({ standing: "under", perPortion: null });
    expect(off("9.49 oz")).toMatchObject({ standing: "short", perPortion: null });
    expect(off("9.99 oz", null)).toMatchObject({ standing: "short" });
    expect(giveaway(oz("10 oz"), oz("11 oz"), null, null)).toMatchObject({ standing: "over", perPortion: null });
  });

  test("the limits lie as far below as above", () => {
    const { least, most } = limitsOf(oz("10 oz"), oz("1/2 oz"));
    expect([least, most]).toEqual([quantityInBase(oz("9.5 oz")), quantityInBase(oz("10.5 oz"))]);
  });

  test("law: giveaway and size together cost what is cut", () => {
    fc.assert(fc.property(fc.integer({ min: 1, max: 400 }), fc.integer({ min: 1, max: 400 }), (s, w) => {
      const size = oz(`${s / 4} oz`);
      const mean = oz(`${w / 4} oz`);
      const told = giveaway(size, mean, oz("0.25 oz"), C);
      if (told.perPortion !== null) expect(ratio.add(ratio.mul(quantityInBase(size), C), told.perPortion)).toEqual(ratio.mul(quantityInBase(mean), C));
      else expect(w).toBeLessThanOrEqual(s);
    }));
  });
});

describe("sizes around one", () => {
  test("in half ounces from 6 oz, in quarters below, in 10 and 5 g; the size itself among them", () => {
    expect(sizesAround(oz("10 oz"), sensibleStep(oz("10 oz")) ?? oz("1 oz"), 2n).map((size) => size.amount)).toEqual(["9", "9.5", "10", "10.5", "11"]);
    expect(sizesAround(oz("4.1 oz"), sensibleStep(oz("4.1 oz")) ?? oz("1 oz"), 1n).map((size) => size.amount)).toEqual(["3.75", "4", "4.1", "4.25"]);
    expect(sizesAround({ amount: exact("250"), unit: "g" }, sensibleStep({ amount: exact("250"), unit: "g" }) ?? oz("1 oz"), 1n).map((size) => size.amount)).toEqual(["240", "250", "260"]);
    expect(sensibleStep({ amount: exact("120"), unit: "g" })).toEqual({ amount: "5", unit: "g" });
    expect(sensibleStep({ amount: exact("3"), unit: "each" })).toBeNull();
    expect(sizesAround(oz("0.5 oz"), oz("0.25 oz")).every((size) => ratio.sign(quantityInBase(size)) > 0)).toBe(true);
  });

  test("a portion by the piece has none; a size no piece holds is refused; others of that kind fall out", () => {
    expect(codes(sizesTried([worked([40])], "steak", { amount: exact("1"), unit: "each" }))).toEqual(["not-divided"]);
    expect(codes(sizesTried([worked([40])], "steak", oz("11 oz")))).toEqual(["portion-larger-than-piece"]);
    expect(won(sizesTried([worked([40])], "steak", oz("10 oz"))).map((row) => row.size.amount)).toEqual(["7", "7.5", "8", "8.5", "9", "9.5", "10"]);
  });

  test("a piece of 68 oz divides well into 8 1/2 oz, badly into 10", () => {
    const rows = won(sizesTried([worked([272])], "steak", oz("9 oz")));
    expect(rows.filter((row) => row.dividesWell).map((row) => row.size.amount)).toEqual(["6", "8.5", "11"]);
    expect(rows.find((row) => row.asked)?.size.amount).toBe("9");
  });

  const pieces = fc.array(fc.integer({ min: 40, max: 400 }), { minLength: 1, maxLength: 6 });

  test("law: never more portions than fit, and the ends are what is missing to the pieces", () => {
    fc.assert(fc.property(pieces, fc.integer({ min: 8, max: 40 }), (quarters, s) => {
      for (const { size, counted, extra, usablePerPortion, endPerPortion } of won(sizesTried([worked(quarters)], "steak", oz(`${s / 4} oz`)))) {
        const each = quantityInBase(size);
        for (const piece of counted.pieces) {
          expect(ratio.compare(ratio.mul(ratio.of(piece.portions), each), piece.piece)).toBeLessThanOrEqual(0);
          expect(ratio.compare(piece.end, each)).toBe(-1);
        }
        const whole = ratio.sum(counted.pieces.map(({ piece }) => piece));
        expect(ratio.add(ratio.mul(ratio.of(counted.portions), each), counted.ends)).toEqual(whole);
        expect(ratio.sign(extra)).toBeGreaterThanOrEqual(0);
        // C·s is the lower bound of the honest cost, and with the end at C the two are one.
        expect(ratio.mul(each, ratio.add(ratio.ONE, extra))).toEqual(usablePerPortion);
        expect(wholeCost({ usablePerPortion, endPerPortion }, ratio.ONE, ratio.ONE)).toEqual(each);
      }
    }));
  });

  test("law: what divides well leaves the smallest ends of all sizes within two steps", () => {
    fc.assert(fc.property(pieces, fc.integer({ min: 8, max: 40 }), (quarters, s) => {
      const asked = oz(`${s / 4} oz`);
      const step = quantityInBase(sensibleStep(asked) ?? asked);
      const rows = won(sizesTried([worked(quarters)], "steak", asked));
      for (const good of rows.filter((row) => row.dividesWell)) {
        for (const other of rows) {
          const off = ratio.div(ratio.sub(quantityInBase(other.size), quantityInBase(good.size)), step);
          if (ratio.compare(abs(off), ratio.of(2n)) <= 0) expect(ratio.compare(good.counted.ends, other.counted.ends)).toBeLessThanOrEqual(0);
        }
        expect(ratio.compare(good.counted.ends, ratio.mul(quantityInBase(good.size), ratio.of(BigInt(quarters.length), 2n)))).toBe(-1);
      }
    }));
  });

  test("over by weight counts what the end is worth", () => {
    const [row] = won(sizesTried([worked([272])], "steak", oz("10 oz"))).filter((one) => one.asked);
    if (row === undefined) throw new Error("expected the size asked about");
    expect(show(overByWeight(row, ratio.ONE, ratio.ZERO) ?? ratio.ZERO, 4)).toBe("0.1333");
    expect(show(overByWeight(row, ratio.ONE, ratio.ONE) ?? ratio.ONE, 4)).toBe("0");
    expect(overByWeight(row, ratio.ZERO, ratio.ZERO)).toBeNull();
  });
});

test("one of the pieces to a portion", () => {
  expect(pieceOfPortion(oz("4 oz"), exact("3"))).toEqual({ amount: "4/3", unit: "oz" });
  expect(pieceOfPortion(oz("4 oz"), null)).toBeNull();
  expect(quantityInBase(oz("1 oz"))).toEqual(ratio.fromExact(baseFactor("oz")));
});

function abs(a: Ratio): Ratio {
  return ratio.sign(a) < 0 ? ratio.neg(a) : a;
}
