/** Price, margin and what a dearer plate asks for. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Decimal, exact } from "@/lib/measure";
import { contributionMargin, foodCostRatio, grossPrice, netPrice, netPriceAtRatio, passThrough } from "@/lib/menu";

const money = (text: string): Decimal => new Decimal(text);
const cents = (amount: Decimal | undefined | null): string | undefined => amount?.toFixed(2);

describe("price and margin", () => {
  test("34.95 with 20 % tax in it, at a cost of 9.80: 33.6 %, and 28.0 % if the tax is forgotten", () => {
    const net = netPrice(exact("34.95"), exact("0.2"));
    expect(net.toString()).toBe("29.125");
    expect(foodCostRatio(money("9.80"), net)?.mul(100).toFixed(1)).toBe("33.6");
    expect(foodCostRatio(money("9.80"), money("34.95"))?.mul(100).toFixed(1)).toBe("28.0");
    expect(cents(contributionMargin(money("9.80"), net))).toBe("19.33");
    expect(cents(grossPrice(net, exact("0.2")))).toBe("34.95");
  });

  test("a plate dearer by 0.91 at 32 %: 2.85 keeps the percentage (2.84 before rounding up), 0.91 keeps the margin", () => {
    const net = money("20");
    const passed = passThrough(money("6.40"), money("7.31"), net, money("0.30"), exact("0"));
    expect(passed.keepsPercentage?.net.minus(net).toDecimalPlaces(4).toString()).toBe("2.8438");
    expect(passed.keepsMargin.net.minus(net).toString()).toBe("0.91");
    expect(cents(passed.meetsTarget?.net)).toBe("24.37");
  });

  test("prices are told with the menu's tax put back", () => {
    const passed = passThrough(money("6.40"), money("7.31"), money("20"), money("0.30"), exact("0.1"));
    expect(passed.keepsMargin.gross.toString()).toBe("23.001");
  });

  test("what is undefined is null, not zero", () => {
    expect(foodCostRatio(money("5"), money("0"))).toBeNull();
    expect(netPriceAtRatio(money("5"), money("0"))).toBeNull();
    expect(passThrough(money("0"), money("1"), money("20"), money("0.3"), exact("0")).keepsPercentage).toBeNull();
  });

  test("the kept percentage is kept, and the kept margin too", () => {
    const amount = fc.integer({ min: 1, max: 1_000_000 }).map((n) => new Decimal(n).div(100));
    fc.assert(fc.property(amount, amount, amount, (before, after, net) => {
      const passed = passThrough(before, after, net, money("0.3"), exact("0.2"));
      const kept = passed.keepsPercentage;
      if (!kept) throw new Error("expected a price");
      const was = foodCostRatio(before, net) ?? money("0");
      expect(foodCostRatio(after, kept.net)?.minus(was).abs().lte(was.mul("1e-30"))).toBe(true);
      expect(passed.keepsMargin.net.minus(after).eq(net.minus(before))).toBe(true);
    }));
  });
});
