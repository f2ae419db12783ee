/**
 * Published prices by the methods of the textbooks. Each case names its source in the fixture; where the source rounds
 * on the way (a multiplier to two places), its printed price is reproduced from the rounded figure and ours stands
 * beside it.
 */
import { describe, expect, test } from "vitest";
import type { Budget } from "@/lib/book";
import { Decimal, exact, roundHalfUp } from "@/lib/measure";
import { houseRatio, labourAGuest, netPriceAtRatio, passThrough, priceByContribution, priceByFactor, priceByPrimeCost, priceByRatio } from "@/lib/menu";
import cases from "./fixtures/menu-pricing.json";

function expected(id: string): { readonly published: Readonly<Record<string, string>>; readonly exact: Readonly<Record<string, string>> } {
  const one = cases.find((each) => each.id === id);
  if (!one) throw new Error(`expected a published case ${id}`);
  return { published: one.expected.published as unknown as Record<string, string>, exact: one.expected.exact as unknown as Record<string, string> };
}

const d = (text: string): Decimal => new Decimal(text);
const twelve = (price: Decimal | null): string => price?.toDecimalPlaces(12).toString() ?? "none";
const cents = (price: Decimal): string => roundHalfUp(price, 2).toFixed(2);
const money = (amount: string) => ({ amount: exact(amount) });
const budget = (more: Partial<Budget>): Budget => ({ period: "a year", guests: exact("1"), foodCost: money("1"), nonFoodCost: money("0"), profit: money("0"), labour: null, primeCostShare: null, ...more });

test("every published case of these kinds is in this file", () => {
  expect(cases.map((one) => one.id).sort()).toEqual([
    "pr-featured-item", "pr-four-methods", "pr-gw-hamburger", "pr-gw-salmon", "pr-ninemeier-1", "pr-ninemeier-2", "pr-ninemeier-3a", "pr-ninemeier-3b", "pr-ninemeier-4", "pr-ninemeier-5a",
  ]);
});

describe("prices as published", () => {
  test("a multiplier of the desired food cost: 37.5 % is 2.67 times (pr-ninemeier-1)", () => {
    const { published, exact: want } = expected("pr-ninemeier-1");
    const factor = d("1").div("0.375");
    expect(cents(factor)).toBe(published["multiplier"]);
    expect(cents(priceByFactor(d("4.73"), d("2.67")))).toBe(published["price_by_rounded_multiplier"]);
    expect(twelve(netPriceAtRatio(d("4.73"), d("0.375")))).toBe(want["price_exact"]);
    expect(twelve(priceByFactor(d("4.73"), factor))).toBe(want["price_exact"]);
  });

  test("a printed 23.59 that is 23.58: 6.34 times 3.72 (pr-ninemeier-2, a printed error)", () => {
    const price = priceByFactor(d("6.34"), d("3.72"));
    expect(twelve(price)).toBe(expected("pr-ninemeier-2").exact["price"]);
    expect(cents(price)).not.toBe(expected("pr-ninemeier-2").published["price"]);
  });

  test("by contribution: what each of 161,580 guests has to leave over (pr-ninemeier-3a)", () => {
    const { published, exact: want } = expected("pr-ninemeier-3a");
    const house = budget({ nonFoodCost: money("710000"), profit: money("80000"), guests: exact("161580") });
    const price = priceByContribution(d("4.85"), house);
    expect(twelve(price)).toBe(want["price"]);
    expect(cents(price)).toBe(published["price"]);
    expect(cents(price.minus("4.85"))).toBe(published["cm_per_guest"]);
  });

  test("by ratio: 1.35 of everything else to the food (pr-ninemeier-3b)", () => {
    const { published, exact: want } = expected("pr-ninemeier-3b");
    const house = budget({ nonFoodCost: money("710000"), profit: money("80000"), foodCost: money("585000") });
    expect(twelve(houseRatio(house))).toBe(want["ratio"]);
    expect(cents(houseRatio(house))).toBe(published["ratio"]);
    expect(twelve(priceByRatio(d("4.85"), house))).toBe(want["price_exact"]);
    expect(cents(d("4.85").mul("2.35"))).toBe(published["price_by_rounded_ratio"]);
  });

  test("by factor on a plate with what comes with it (pr-ninemeier-4)", () => {
    const price = priceByFactor(d("2.12").plus("1.70"), d("2.1"));
    expect(twelve(price)).toBe(expected("pr-ninemeier-4").exact["price"]);
    expect(cents(price)).toBe(expected("pr-ninemeier-4").published["price"]);
  });

  test("by the percentage of the budget (pr-ninemeier-5a)", () => {
    const { published, exact: want } = expected("pr-ninemeier-5a");
    const share = d("403580").div("1187000");
    expect(share.mul(100).toFixed(0)).toBe(published["food_cost_pct"]);
    expect(twelve(netPriceAtRatio(d("4.57"), share))).toBe(want["price_exact"]);
    expect(cents(netPriceAtRatio(d("4.57"), d("0.34")) ?? d("0"))).toBe(published["price_by_rounded_pct"]);
  });

  test("one item by contribution, by ratio and by simple prime cost; inputs as published, answers ours (pr-featured-item)", () => {
    const want = expected("pr-featured-item").exact;
    const house = budget({ foodCost: money("35000"), nonFoodCost: money("30000"), profit: money("7500"), guests: exact("12000"), labour: money("18500"), primeCostShare: exact("0.58") });
    expect(twelve(priceByContribution(d("5.70"), house))).toBe(want["contribution_method"]);
    expect(twelve(houseRatio(house))).toBe(want["ratio"]);
    expect(twelve(priceByRatio(d("5.70"), house))).toBe(want["ratio_method"]);
    const labour = labourAGuest(house);
    expect(twelve(labour)).toBe(want["labour_per_guest"]);
    expect(twelve(priceByPrimeCost(d("5.70"), labour ?? d("0"), d("0.58")))).toBe(want["prime_method"]);
  });

  test("four methods; inputs as published, answers ours (pr-four-methods)", () => {
    const want = expected("pr-four-methods").exact;
    expect(twelve(netPriceAtRatio(d("5"), d("0.35")))).toBe(want["food_pct_price"]);
    expect(twelve(priceByContribution(d("10"), budget({ nonFoodCost: money("500000"), profit: money("65000"), guests: exact("90000") })))).toBe(want["contribution_price"]);
    expect(twelve(priceByPrimeCost(d("3"), d("2"), d("0.15").plus("0.20")))).toBe(want["prime_price"]);
    const house = budget({ nonFoodCost: money("500000"), profit: money("90000"), foodCost: money("300000") });
    expect(twelve(houseRatio(house))).toBe(want["ratio"]);
    expect(twelve(priceByRatio(d("5"), house))).toBe(want["ratio_price"]);
  });

  test("prime cost of a plate of salmon, 6.15, at half of the price (pr-gw-salmon); the price line is ours", () => {
    const labour = d("2.00").plus("0.40");
    expect(d("3.75").plus(labour).toFixed(2)).toBe(expected("pr-gw-salmon").published["prime_cost"]);
    expect(twelve(priceByPrimeCost(d("3.75"), labour, d("0.5")))).toBe(expected("pr-gw-salmon").exact["price"]);
  });

  test("direct labour of a hamburger, by minutes at wages, each rounded as the book does (pr-gw-hamburger)", () => {
    const { published } = expected("pr-gw-hamburger");
    const food = d("0.43").plus("0.19").plus("0.03");
    const payroll = [["10", "10.00"], ["3", "3.50"], ["1", "8.00"]].map(([minutes = "0", hourly = "0"]) => cents(d(minutes).mul(hourly).div(60))).reduce((sum, one) => sum.plus(one), d("0"));
    expect([food.toFixed(2), payroll.toFixed(2)]).toEqual([published["food_cost"], published["payroll_of_rounded"]]);
    expect(food.plus(payroll).plus(cents(payroll.mul("0.2"))).toFixed(2)).toBe(published["prime_cost"]);
  });
});

test("passing 0.91 on at 32 %: keeping the percentage asks 2.84, keeping the margin 0.91 (derived, no source)", () => {
  const net = d("10").div("0.32");
  const asked = passThrough(d("10"), d("10.91"), net, d("0.32"), exact("0"));
  expect(asked.keepsPercentage?.net.minus(net).toFixed(5)).toBe("2.84375");
  expect(asked.keepsMargin.net.minus(net).toFixed(5)).toBe("0.91000");
  expect(asked.meetsTarget?.net.toFixed(5)).toBe(asked.keepsPercentage?.net.toFixed(5));
});
