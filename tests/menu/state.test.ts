/** A dish against its target: the lines themselves belong to the better side, decided exactly. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Decimal, type Exact, type Ratio, exact, ratio } from "@/lib/measure";
import { dishState, netPriceExactly } from "@/lib/menu";

const TARGET = exact("0.32");
const NEAR = exact("0.01");

/** The state of a plate that costs n/d, sold at a gross price with tax in it. */
function stateOf(cost: Ratio, gross: string, tax = "0", complete = true, target: Exact = TARGET, near: Exact = NEAR) {
  return dishState({ amount: ratio.toDecimal(cost), exactly: () => cost }, complete, netPriceExactly(exact(gross), exact(tax)), target, near);
}
const plate = (text: string): Ratio => ratio.fromExact(exact(text));
/** The least that can be told apart from nothing. */
const HAIR: Ratio = { n: 1n, d: 10n ** 60n };

describe("where a dish stands", () => {
  test("precisely at target is not over: 12.16 of 38.00 at 32 %", () => {
    expect(stateOf(plate("12.16"), "38")).toBe("near");
    expect(stateOf(ratio.add(plate("12.16"), HAIR), "38")).toBe("over");
    expect(stateOf(plate("12.17"), "38")).toBe("over");
  });

  test("precisely a point under target is near: 11.78 of 38.00 at 32 %", () => {
    expect(stateOf(plate("11.78"), "38")).toBe("near");
    expect(stateOf(ratio.sub(plate("11.78"), HAIR), "38")).toBe("under");
    expect(stateOf(plate("11.77"), "38")).toBe("under");
  });

  test("a cost that no decimal can hold is judged at its fraction: a third of 3.00 at 33 1/3 %", () => {
    const third = exact("1/3");
    expect(stateOf({ n: 1n, d: 1n }, "3", "0", true, third)).toBe("near");
    expect(stateOf({ n: 1n, d: 3n }, "1", "0", true, third)).toBe("near");
    expect(stateOf(ratio.add({ n: 1n, d: 3n }, HAIR), "1", "0", true, third)).toBe("over");
  });

  test("tax within the menu price is not the house's: 9.80 of 34.95 with 20 % in it is over 33 %, not at 28 %", () => {
    expect(stateOf(plate("9.80"), "34.95", "0.2", true, exact("0.33"))).toBe("over");
    expect(stateOf(plate("9.80"), "34.95", "0", true, exact("0.33"))).toBe("under");
  });

  test("a lower bound is over once it is over, and otherwise incomplete, never under", () => {
    expect(stateOf(plate("13"), "38", "0", false)).toBe("over");
    expect(stateOf(plate("1"), "38", "0", false)).toBe("incomplete");
    expect(stateOf(plate("12"), "38", "0", false)).toBe("incomplete");
  });

  test("no price, or one of nothing, is unpriced", () => {
    const cost = { amount: new Decimal(1), exactly: () => ratio.ONE };
    expect(dishState(cost, true, null, TARGET, NEAR)).toBe("unpriced");
    expect(dishState(cost, false, null, TARGET, NEAR)).toBe("unpriced");
    expect(dishState(cost, true, ratio.ZERO, TARGET, NEAR)).toBe("unpriced");
  });

  test("the exact fraction is asked for only near a line", () => {
    const never = () => { throw new Error("expected the fast figure to decide"); };
    expect(dishState({ amount: new Decimal("11"), exactly: never }, true, plate("38"), TARGET, NEAR)).toBe("under");
    expect(dishState({ amount: new Decimal("13"), exactly: never }, true, plate("38"), TARGET, NEAR)).toBe("over");
  });

  test("agrees with exact fractions for any cost, price, tax, target and margin", () => {
    const amount = fc.tuple(fc.bigInt(0n, 10n ** 9n), fc.bigInt(1n, 10n ** 6n)).map(([n, d]) => ratio.of(n, d));
    const share = fc.integer({ min: 1, max: 100 });
    fc.assert(fc.property(amount, fc.integer({ min: 1, max: 100_000 }), fc.integer({ min: 0, max: 25 }), share, fc.integer({ min: 0, max: 10 }), (cost, cents, tax, target, near) => {
      const net = ratio.div(ratio.of(BigInt(cents), 100n), ratio.of(100n + BigInt(tax), 100n));
      const foodCost = ratio.div(cost, net);
      const over = ratio.compare(foodCost, ratio.of(BigInt(target), 100n)) > 0;
      const close = ratio.compare(foodCost, ratio.of(BigInt(target - near), 100n)) >= 0;
      const gross = ratio.toExact(ratio.of(BigInt(cents), 100n));
      const hundredth = (whole: number): Exact => ratio.toExact(ratio.of(BigInt(whole), 100n));
      expect(stateOf(cost, gross, hundredth(tax), true, hundredth(target), hundredth(near))).toBe(over ? "over" : close ? "near" : "under");
    }));
  });
});
