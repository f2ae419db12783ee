/**
 * An independent oracle for the cascade: a nested recipe on a butcher test and a cooking-loss test, recomputed from the
 * same typed figures with a general-purpose fraction library, which knows nothing of books, rows or units. The figures
 * of the lamb loin are those of Dittmer & Keefe, Principles of Food, Beverage, and Labor Cost Controls, 9th ed., ch. 6
 * (as posted in coursework); the recipe around it is made up for this check. Exact to 30 digits.
 */
import Fraction from "fraction.js";
import { describe, expect, test } from "vitest";
import type { Change } from "@/lib/book";
import { type Cascade, advance, compile, costExactly, costOf } from "@/lib/cascade";
import { Decimal, exact } from "@/lib/measure";
import { bookOf, butcherTest, cut, density, dish, item, part, quote, recipe, spec, typed } from "../menu/small-books";

const GRAMS_IN_POUND = new Fraction("453.59237");
const GRAMS_IN_OUNCE = new Fraction("28.349523125");
const ML_IN_QUART = new Fraction("946.352946");
const ML_IN_CUP = new Fraction("236.5882365");

const facts: readonly Change[] = [
  item("loin"), quote("loin", "6.65 a lb"),
  butcherTest("raw", "loin", "12 lb", "6.65 a lb", [
    part("main", "usable", "6 lb"), part("discard", "fat", "3 lb"),
    part("by-product", "kidneys", "1 lb", { value: typed("6.10 a lb") }), part("by-product", "flanks", "1.5 lb", { value: typed("4.60 a lb") }),
  ]),
  cut("trimmed", { kind: "item", id: "loin" }, ["raw"], { partKey: "usable", repricing: "by-products-at-own-price" }),
  butcherTest("roast", "loin", "6 lb", null, [part("main", "saleable", "5 lb"), part("discard", "bones", "0.5 lb")], {
    kind: "cooking", of: { kind: "cut", id: "trimmed" },
    cooking: { method: "roast", temperature: "", endPoint: "", time: "", trimmed: { amount: exact("6"), unit: "lb" }, cooked: { amount: exact("5.5"), unit: "lb" } },
  }),
  cut("roasted", { kind: "cut", id: "trimmed" }, ["roast"], { partKey: "saleable" }),
  spec("portion", "roasted", "5 oz"),
  item("cream", "volume", { density: density("1.01") }), quote("cream", "4.19 a qt"),
  item("shallot"), quote("shallot", "1.89 a lb"),
  recipe("base", ["3 qt", "7 lb"], ["item cream 2.5 qt", "item shallot 11 oz"]),
  recipe("sauce", ["24 portion"], ["recipe base 1 lb", "item cream 1.75 cup", "cut trimmed 3 oz"]),
  dish("plate", ["spec portion 1 portion", "recipe sauce 1 portion", "item shallot 0.3 oz"]),
];

/** The same in fractions, straight from the figures above: money a plate at a price of loin a pound. */
function byHand(loin: string): Fraction {
  const trimmedALb = new Fraction(12).mul(loin).sub(new Fraction("6.10")).sub(new Fraction("1.5").mul("4.60")).div(6);
  const roastedALb = trimmedALb.mul(6).div(5);
  const portion = roastedALb.mul(GRAMS_IN_OUNCE).mul(5).div(GRAMS_IN_POUND);
  const ounceOfALb = GRAMS_IN_OUNCE.div(GRAMS_IN_POUND);
  const base = new Fraction("2.5").mul("4.19").add(new Fraction(11).mul(ounceOfALb).mul("1.89"));
  const cream = new Fraction("1.75").mul(ML_IN_CUP).div(ML_IN_QUART).mul("4.19");
  const sauce = base.div(7).add(cream).add(new Fraction(3).mul(ounceOfALb).mul(trimmedALb)).div(24);
  return portion.add(sauce).add(new Fraction("0.3").mul(ounceOfALb).mul("1.89"));
}

function plate(cascade: Cascade): { readonly carried: Decimal | undefined; readonly exactly: string } {
  const ref = { kind: "dish", id: "plate" } as const;
  const { n, d } = costExactly(cascade, ref);
  return { carried: costOf(cascade, ref)?.amount, exactly: `${n}/${d}` };
}

const Decimal50 = Decimal.clone({ precision: 50 });
const asDecimal = (fraction: Fraction): Decimal => new Decimal50((fraction.n * fraction.s).toString()).div(fraction.d.toString());
const digitsOf = (value: Decimal | undefined, digits: number): string | undefined => value && new Decimal50(value).toSignificantDigits(digits).toString();

describe("a nested recipe on a butcher test and a cooking-loss test, by a fraction library", () => {
  const compiled = compile(bookOf(facts));
  if (!compiled.ok) throw new Error("expected the book to compile");

  test.each(["6.65", "7.07", "0.01", "123.456789"])("loin at %s a pound", (loin) => {
    const advanced = advance(compiled.value, [quote("loin", `${loin} a lb`)]);
    if (!advanced.ok) throw new Error("expected the price to be laid over the book");
    const expected = byHand(loin);
    const { carried, exactly } = plate(advanced.value.cascade);
    expect(exactly).toBe(`${expected.n * expected.s}/${expected.d}`);
    expect(digitsOf(carried, 30)).toBe(digitsOf(asDecimal(expected), 30));
  });

  test("the published cost of the usable and of the saleable pound stands inside it", () => {
    const aPound = (id: string): string | undefined => costOf(compiled.value, { kind: "cut", id })?.amount.mul("453.59237").toDecimalPlaces(12).toString();
    expect(aPound("trimmed")).toBe("11.133333333333");
    expect(aPound("roasted")).toBe("13.36");
  });
});
