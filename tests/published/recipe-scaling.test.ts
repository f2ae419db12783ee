/**
 * Published conversions of recipes to another yield. Each case names its source; the exact figure is asserted first,
 * then the printed one under the rounding that its source uses.
 */
import { describe, expect, test } from "vitest";
import { Decimal, type Exact, type Quantity, type Unit, amountIn, exact, toDecimal } from "@/lib/measure";
import { conversionFactor, needsCare, scaled, totalYield } from "@/lib/menu";
import cases from "./fixtures/recipe-scaling.json";

function published(id: string) {
  const one = cases.find((candidate) => candidate.id === id);
  if (!one) throw new Error(`expected a published case ${id}`);
  return {
    title: `${one.source.author}, ${one.source.title}, ${one.source.location}`,
    exact: one.expected.exact as Record<string, string>,
    fraction: one.expected.exact_fraction as Record<string, string>,
    published: one.expected.published as Record<string, string>,
    rounding: one.expected.rounding as Record<string, string>,
  };
}

function agrees(id: string, key: string, figure: Decimal) {
  const want = published(id);
  const [n, d = "1"] = (want.fraction[key] ?? want.exact[key] ?? "NaN").split("/");
  expect(figure.toString(), `${id} ${key} exact`).toBe(new Decimal(n ?? "NaN").div(d).toString());
  const printed = want.published[key];
  if (printed) {
    const places = /half-up at (\d+) places reproduces/.exec(want.rounding[key] ?? "")?.[1];
    expect(places, `${id} ${key} has a stated rounding`).toBeDefined();
    expect(figure.toFixed(Number(places), Decimal.ROUND_HALF_UP)).toBe(new Decimal(printed).toFixed(Number(places)));
  }
}

const of = (amount: string, unit: Unit): Quantity => ({ amount: exact(amount), unit });

function factor(old: Quantity, wanted: Quantity): Exact {
  const found = conversionFactor(old, wanted);
  if (found === null) throw new Error("expected two yields of one kind");
  return found;
}

describe("recipe conversion as published", () => {
  test("every published case of this kind is in this file", () => {
    expect(cases.map((one) => one.id).sort()).toEqual([
      "rs-afrs-348", "rs-ninemeier-75-100", "rs-ninemeier-factors", "rs-stroganoff", "rs-wall-178",
    ]);
  });

  test(`rs-afrs-348: ${published("rs-afrs-348").title}`, () => {
    const working = factor(of("100", "portion"), of("348", "portion"));
    agrees("rs-afrs-348", "working_factor", toDecimal(working));
    const quantity = scaled(of("1.25", "lb"), working);
    agrees("rs-afrs-348", "quantity_lb", toDecimal(quantity.amount));
    agrees("rs-afrs-348", "fraction_oz", amountIn(quantity, "oz").mod(16));
  });

  test(`rs-wall-178: ${published("rs-wall-178").title}`, () => {
    // Portions of another size: the total weights are compared, not the counts.
    const given = totalYield(exact("35"), of("185", "g"));
    const desired = totalYield(exact("50"), of("230", "g"));
    agrees("rs-wall-178", "given_total_kg", amountIn(given, "kg"));
    agrees("rs-wall-178", "desired_total_kg", amountIn(desired, "kg"));
    agrees("rs-wall-178", "factor", toDecimal(factor(given, desired)));
  });

  test(`rs-ninemeier-factors: ${published("rs-ninemeier-factors").title}`, () => {
    const pairs: readonly (readonly [Quantity, Quantity])[] = [
      [totalYield(exact("60"), of("3", "oz")), totalYield(exact("80"), of("3", "oz"))],
      [totalYield(exact("70"), of("5", "oz")), totalYield(exact("45"), of("5", "oz"))],
      [totalYield(exact("80"), of("0.5", "cup")), totalYield(exact("100"), of("0.5", "cup"))],
      [totalYield(exact("50"), of("0.75", "cup")), totalYield(exact("35"), of("0.75", "cup"))],
    ];
    pairs.forEach(([old, wanted], index) => agrees("rs-ninemeier-factors", `factor_${index + 1}`, toDecimal(factor(old, wanted))));
  });

  test(`rs-ninemeier-75-100: ${published("rs-ninemeier-75-100").title}`, () => {
    const found = factor(totalYield(exact("75"), of("5", "oz")), totalYield(exact("100"), of("6", "oz")));
    agrees("rs-ninemeier-75-100", "factor", toDecimal(found));
    const sugar = scaled(of("2", "lb"), found);
    agrees("rs-ninemeier-75-100", "brown_sugar_lb", toDecimal(sugar.amount));
    agrees("rs-ninemeier-75-100", "brown_sugar_oz", amountIn(sugar, "oz"));
    agrees("rs-ninemeier-75-100", "milk_qt", toDecimal(scaled(of("3", "qt"), found).amount));
    const mustard = scaled(of("1", "tbsp"), found);
    agrees("rs-ninemeier-75-100", "dry_mustard_tbsp", toDecimal(mustard.amount));
    agrees("rs-ninemeier-75-100", "dry_mustard_tsp", amountIn(mustard, "tsp"));
  });

  test(`rs-stroganoff: ${published("rs-stroganoff").title}`, () => {
    const found = factor(of("6", "portion"), of("15", "portion"));
    const lines: readonly (readonly [string, Quantity])[] = [
      ["round_steak_lb", of("1.5", "lb")], ["mushrooms_lb", of("0.5", "lb")], ["sour_cream_floz", of("12", "fl oz")],
      ["white_wine_floz", of("4", "fl oz")], ["onion_tbsp", of("2", "tbsp")], ["nutmeg_tsp", of("1.5", "tsp")],
      ["garlic_tsp", of("2", "tsp")], ["pasta_cup", of("8", "cup")],
    ];
    for (const [key, quantity] of lines) agrees("rs-stroganoff", key, toDecimal(scaled(quantity, found).amount));
    expect(needsCare(found)).toBe(false);
    expect(needsCare(exact("4"))).toBe(false);
    expect(needsCare(exact("4.01"))).toBe(true);
    expect(needsCare(exact("0.49"))).toBe(true);
  });
});
