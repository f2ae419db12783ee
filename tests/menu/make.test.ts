/** A recipe asked for at another size: how it may be written, and its lines as a kitchen measures them. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Exact, type Habits, type Quantity, type Unit, inBaseExactly, quantityText, ratio } from "@/lib/measure";
import { asMeasured, brokenCount, readMake, scaled } from "@/lib/menu";

const US: Habits = { locale: "en-US", measures: "us", currency: "USD" };
const q = (amount: string, unit: Unit): Quantity => ({ amount: amount as Exact, unit });
const YIELDS = [q("22", "lb"), q("64", "portion")];

describe("what is asked", () => {
  const factor = (text: string, yields = YIELDS): string | undefined => { const read = readMake(text, yields, US); return read.ok ? read.value.factor : read.problems[0]?.code; };
  it.each([
    ["×2", "2"], ["x 2", "2"], ["2x", "2"], ["×1/2", "0.5"], ["0.75 times", "0.75"], ["11 lb", "0.5"], ["176 oz", "0.5"], ["128 portions", "2"], ["96", "1.5"], ["64 portions of 11 oz", "2"], ["32 x 5.5 oz", "0.5"],
  ])("%s", (text, expected) => { expect(ratio.fromExact(factor(text) as Exact)).toEqual(ratio.fromExact(expected as Exact)); });
  it("stays exact where no decimal would", () => { expect(factor("1 lb")).toBe("1/22"); });
  it.each([["", "missing"], ["7 qt", "other-kind"], ["×0", "not-a-batch"], ["x a lot", "not-a-batch"], ["×10001", "too-much"], ["x".repeat(61), "not-a-batch"]])("%s is refused: %s", (text, code) => { expect(factor(text)).toBe(code); });
  it("says in which measures the recipe can be asked for", () => {
    const read = readMake("7 qt", YIELDS, US);
    expect(!read.ok && read.problems[0]?.sentence).toBe("A batch of it is measured as 22 lb, or 64 portions, not by volume: ask in one of these, or for ×2.");
  });
});

describe("what is measured", () => {
  const measured = (amount: string, unit: Unit): string => { const { quantity, exact } = asMeasured(q(amount, unit)); return `${exact ? "" : "about "}${quantityText(quantity, US)}`; };
  it.each([
    ["12", "cup", "3 qt"], ["1/2", "cup", "1/2 cup"], ["1/8", "cup", "2 tbsp"], ["3", "tsp", "1 tbsp"], ["32", "oz", "2 lb"], ["0.5", "lb", "8 oz"], ["1/24", "cup", "2 tsp"],
    ["2.5", "kg", "2.5 kg"], ["0.0125", "kg", "12.5 g"], ["0.1234", "kg", "about 123 g"], ["3000", "mL", "3 L"], ["7.5", "each", "7 1/2 each"], ["100", "fl oz", "100 fl oz"], ["48", "qt", "12 gal"],
  ] as const)("%s %s is %s", (amount, unit, expected) => { expect(measured(amount, unit)).toBe(expected); });
  it("rounds by no more than one part in a hundred above what a spoon or a scale still shows, and says so", () => {
    fc.assert(fc.property(fc.integer({ min: 1, max: 400_000 }), fc.integer({ min: 1, max: 997 }), fc.constantFrom<Unit>("oz", "lb", "g", "kg", "mL", "L", "tsp", "tbsp", "cup", "qt", "gal"), (n, d, unit) => {
      const quantity = q(`${n}/${d}`, unit);
      const { quantity: out, exact } = asMeasured(quantity);
      const was = ratio.fromExact(inBaseExactly(quantity));
      const off = ratio.sub(ratio.fromExact(inBaseExactly(out)), was);
      expect(exact).toBe(ratio.sign(off) === 0);
      const apart = ratio.toDecimal(off).abs();
      const spoon = { oz: "0.9", lb: "0.9", g: "0.05", kg: "0.05", mL: "0.25", L: "0.25" }[unit as string] ?? "0.31";
      expect(apart.lte(spoon) || apart.times(100).lte(ratio.toDecimal(was))).toBe(true);
    }));
  });
});

describe("whole things", () => {
  it("that come out broken are said with the whole numbers beside; dozens are eggs", () => {
    expect(brokenCount(q("7.5", "each"))).toEqual({ below: "7", above: "8" });
    expect(brokenCount(q("1.5", "dozen"))).toBeNull();
    expect(brokenCount(q("7.5", "lb"))).toBeNull();
    expect(brokenCount(scaled(q("4", "each"), "1/22" as Exact))).toEqual({ below: "0", above: "1" });
  });
});
