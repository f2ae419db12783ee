/**
 * Published plate costs, food-cost percentages, contribution margins and scaled recipes. Each case names its source;
 * the exact figure is asserted first, then the printed one under the rounding that its source uses.
 */
import { describe, expect, test } from "vitest";
import { Decimal, type Exact, exact } from "@/lib/measure";
import { contributionMargin, foodCostRatio, netPrice, netPriceAtRatio, passThrough } from "@/lib/menu";
import contributionCases from "./fixtures/contribution-margin.json";
import plateCases from "./fixtures/plate-cost.json";

const cases = { ...Object.fromEntries([...plateCases, ...contributionCases].map((one) => [one.id, one])) };

/** The expected figures of a case, as the fixture holds them. */
function expected(id: string) {
  const one = cases[id];
  if (!one) throw new Error(`expected a published case ${id}`);
  return {
    title: `${one.source.author}, ${one.source.title}, ${one.source.location}`,
    exact: one.expected.exact as Record<string, string>,
    fraction: one.expected.exact_fraction as Record<string, string>,
    published: one.expected.published as Record<string, string>,
    rounding: one.expected.rounding as Record<string, string>,
  };
}

/** Each step of a figure is correct to 34 digits; a figure of a few steps is compared to 32. */
const DIGITS = 32;

/** Asserts a computed figure: exactly (by fraction where given, else the terminating decimal), then as printed. */
function agrees(id: string, key: string, computed: Decimal | null) {
  const want = expected(id);
  expect(computed, `${id} ${key}`).not.toBeNull();
  const figure = computed ?? new Decimal(NaN);
  const fraction = want.fraction[key];
  if (fraction) {
    const [n, d = "1"] = fraction.split("/");
    expect(figure.toSignificantDigits(DIGITS).toString(), `${id} ${key} exact`)
      .toBe(new Decimal(n ?? "NaN").div(d).toSignificantDigits(DIGITS).toString());
  }
  const terminating = want.exact[key];
  if (terminating) expect(figure.toDecimalPlaces(12).toString()).toBe(new Decimal(terminating).toString());
  const printed = want.published[key];
  if (printed) {
    const places = /half-up at (\d+) places reproduces/.exec(want.rounding[key] ?? "")?.[1];
    expect(places, `${id} ${key} has a stated rounding`).toBeDefined();
    expect(figure.toFixed(Number(places), Decimal.ROUND_HALF_UP)).toBe(new Decimal(printed).toFixed(Number(places)));
  }
}

const money = (text: string): Decimal => new Decimal(text);
const percent = (ratio: Decimal | null): Decimal | null => ratio?.mul(100) ?? null;
/** A price printed without tax. */
const untaxed = (text: string): Decimal => netPrice(exact(text), "0" as Exact);

describe("plate cost, food-cost percentage and contribution as published", () => {
  test("every published case of these kinds is in this file", () => {
    expect(plateCases.map((one) => one.id).sort()).toEqual([
      "fc-cm-clam-chowder", "fc-cm-spinach-salad", "fc-lamb-chops-q3", "fc-ontario-pork", "fc-pizza-sizes", "fc-q-factor-steak",
    ]);
    expect(contributionCases.map((one) => one.id)).toEqual(["fc-cm-strip-chicken"]);
  });

  test(`fc-ontario-pork: ${expected("fc-ontario-pork").title}`, () => {
    agrees("fc-ontario-pork", "food_cost_pct", percent(foodCostRatio(money("4.00"), untaxed("16.00"))));
  });

  test(`fc-q-factor-steak: ${expected("fc-q-factor-steak").title}`, () => {
    const components = money("6");
    const withQ = components.plus("1");
    agrees("fc-q-factor-steak", "food_cost_pct_without_q", percent(foodCostRatio(components, untaxed("18"))));
    agrees("fc-q-factor-steak", "food_cost_pct_with_q", percent(foodCostRatio(withQ, untaxed("18"))));
    // Keeping the percentage of the plate without its cover items: 7 over 1/3.
    const kept = passThrough(components, withQ, untaxed("18"), money("0.33"), "0" as Exact);
    agrees("fc-q-factor-steak", "price_to_hold_33_33", kept.keepsPercentage?.net ?? null);
  });

  test(`fc-lamb-chops-q3: ${expected("fc-lamb-chops-q3").title}`, () => {
    const withQ = money("104.56").mul(money("3").div(100).plus(1));
    agrees("fc-lamb-chops-q3", "subtotal_with_q", withQ);
    agrees("fc-lamb-chops-q3", "per_plate", withQ.div(10));
    const plate = withQ.div(10).plus("1.00");
    agrees("fc-lamb-chops-q3", "plate_cost", plate);
    agrees("fc-lamb-chops-q3", "price_at_target_exact", netPriceAtRatio(plate, money("0.33")));
    // The source rounds the plate to the cent before it divides; its two later figures follow from 11.77.
    const printedPlate = plate.toDecimalPlaces(2, Decimal.ROUND_HALF_UP);
    agrees("fc-lamb-chops-q3", "price_at_target", netPriceAtRatio(printedPlate, money("0.33")));
    agrees("fc-lamb-chops-q3", "pct_at_chosen_price", percent(foodCostRatio(printedPlate, untaxed("34.00"))));
  });

  test(`fc-cm-clam-chowder: ${expected("fc-cm-clam-chowder").title}`, () => {
    const portion = money("38.00").div(30);
    agrees("fc-cm-clam-chowder", "cost", portion);
    agrees("fc-cm-clam-chowder", "food_cost_pct", percent(foodCostRatio(portion, untaxed("5.00"))));
  });

  test(`fc-cm-spinach-salad: ${expected("fc-cm-spinach-salad").title}`, () => {
    agrees("fc-cm-spinach-salad", "cost", Decimal.sum("1.30", "0.45", "0.70", "0.64"));
  });

  test(`fc-pizza-sizes: ${expected("fc-pizza-sizes").title}`, () => {
    const sizes = [["small", "3.10", "9.99"], ["medium", "4.10", "11.99"], ["large", "5.10", "13.99"], ["extra large", "6.10", "15.99"]] as const;
    for (const [size, cost, price] of sizes) {
      agrees("fc-pizza-sizes", `food_cost_pct:${size}`, percent(foodCostRatio(money(cost), untaxed(price))));
      agrees("fc-pizza-sizes", `contribution:${size}`, contributionMargin(money(cost), untaxed(price)));
    }
  });

  test(`fc-cm-strip-chicken: ${expected("fc-cm-strip-chicken").title}`, () => {
    const strip = contributionMargin(money("7.50"), untaxed("23.65"));
    const chicken = contributionMargin(money("5.20"), untaxed("16.45"));
    agrees("fc-cm-strip-chicken", "cm_strip", strip);
    agrees("fc-cm-strip-chicken", "cm_chicken", chicken);
    agrees("fc-cm-strip-chicken", "difference", strip.minus(chicken));
    agrees("fc-cm-strip-chicken", "difference_100", strip.minus(chicken).mul(100));
  });
});
