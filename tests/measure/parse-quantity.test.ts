/** What a kitchen types as a quantity, and what is understood. */
import { describe, expect, test } from "vitest";
import { type Habits, type Kind, type QuantityOptions, otherReadings, parseQuantity } from "@/lib/measure";
import { british, french, german, us } from "./habits";

const ANY: readonly Kind[] = ["mass", "volume", "count"];

function understood(text: string, habits: Habits = us, options: QuantityOptions = { kinds: ANY, bare: "lb" }): string {
  const read = parseQuantity(text, habits, options);
  if (!read.ok) throw new Error(`${text}: ${read.problems[0]?.sentence ?? ""}`);
  return `${read.value.amount} ${read.value.unit}`;
}

function refusal(text: string, habits: Habits = us, options: QuantityOptions = { kinds: ANY, bare: "lb" }): { code: string; sentence: string } {
  const read = parseQuantity(text, habits, options);
  if (read.ok) throw new Error(`${text} was read as ${read.value.amount} ${read.value.unit}`);
  const [problem] = read.problems;
  if (!problem || read.problems.length !== 1) throw new Error("expected one problem");
  expect(problem.path).toBe("");
  return problem;
}

describe("a quantity as a kitchen types it", () => {
  test.each([
    ["18 lb 6 oz", "18.375 lb"], ["18-6", "18.375 lb"], ["18# 6", "18.375 lb"], ["18#6", "18.375 lb"], ["18 lb 6", "18.375 lb"],
    ["18lb6oz", "18.375 lb"], ["18 LBS. and 6 ozs.", "18.375 lb"], ["18 lb, 6 oz", "18.375 lb"], ["18-6 1/2", "18.40625 lb"],
    ["3 3/8 lb", "3.375 lb"], ["3-3/8 lb", "3.375 lb"], ["18 3/8", "18.375 lb"], ["¾ lb", "0.75 lb"], ["1¾ lb", "1.75 lb"], ["1³⁄₄ lb", "1.75 lb"],
    [".75", "0.75 lb"], ["5.", "5 lb"], ["0.62 lb", "0.62 lb"], ["7.10 lb", "7.10 lb"], ["10 oz", "10 oz"], ["10oz", "10 oz"], ["284 g", "284 g"],
    ["6.9 kg", "6.9 kg"], ["6,9 kg", "6.9 kg"], ["2 kg 300 g", "2.3 kg"], ["2 kg 300", "2.3 kg"], ["1,234.5 g", "1234.5 g"], ["1.234,5 g", "1234.5 g"],
    ["1 234,5 g", "1234.5 g"], ["1'234.5 g", "1234.5 g"], ["1,23,456 g", "123456 g"], ["2 dozen", "2 dozen"], ["half a dozen", "0.5 dozen"], ["dozen", "1 dozen"],
    ["2 doz 6", "2.5 dozen"], ["a pint", "1 pt"], ["1/3 cup", "1/3 cup"], ["2 qt 1 cup", "2.25 qt"], ["1 gal 2 qt 1 pt", "1.625 gal"], ["1 fl. oz.", "1 fl oz"], ["3 imp pt", "3 imp pt"],
    ["1،234 g", "1234 g"], ["6 ea", "6 each"], ["32 servings", "32 portion"], ["٣ kg", "3 kg"], ["\u200f18 lb\u200f", "18 lb"], ["1\u00a0234,5\u202fg", "1234.5 g"], ["0 lb", "0 lb"],
  ])("%s is %s", (text, expected) => expect(understood(text)).toBe(expected));

  test("the kitchen's locale decides where two readings are possible, the number itself where only one is", () => {
    expect(understood("1,234 g", us)).toBe("1234 g");
    expect(understood("1,234 kg", german)).toBe("1.234 kg");
    expect(understood("1.234 g", german)).toBe("1234 g");
    expect(understood("1.234 kg", us)).toBe("1.234 kg");
    expect(understood("1.234 kg", french)).toBe("1.234 kg");
    expect(understood("0,234 kg", us)).toBe("0.234 kg");
    expect(understood("1.5 kg", german)).toBe("1.5 kg");
  });

  test("a pint is imperial in Britain, and a US pint says so", () => {
    expect(understood("2 pt", british)).toBe("2 imp pt");
    expect(understood("2 US pt", british)).toBe("2 pt");
    expect(understood("2 pt", us)).toBe("2 pt");
  });

  test("what was typed is kept where it says more than amount and unit", () => {
    const plain = parseQuantity("10 oz", us, { kinds: ANY });
    const pair = parseQuantity(" 18  lb 6 oz\u200e", us, { kinds: ANY });
    expect(plain).toEqual({ ok: true, value: { amount: "10", unit: "oz" } });
    expect(pair).toEqual({ ok: true, value: { amount: "18.375", unit: "lb", typed: "18 lb 6 oz" } });
  });
});

describe("what has two readings, or none, is refused with what would be right", () => {
  test("17 oz behind pounds", () => {
    expect(refusal("18 lb 17 oz")).toMatchObject({ code: "over-one-unit", sentence: "17 oz is 1 lb 1 oz: did you mean 19 lb 1 oz?" });
    expect(refusal("18-16").sentence).toBe("16 oz is 1 lb: did you mean 19 lb?");
  });
  test.each([
    ["", "missing"], ["   ", "missing"], ["lb", "not-a-quantity"], ["NaN", "not-a-quantity"], ["Infinity lb", "not-a-quantity"], ["1e999999", "not-a-number"], ["1e3 lb", "not-a-number"],
    ["-3 lb", "negative"], ["−3 lb", "negative"], ["1/0 lb", "zero-denominator"], ["1/2/3 lb", "not-a-quantity"], ["1 5/4 lb", "fraction-over-one"], ["12/5", "two-readings"],
    ["6-8 oz", "two-readings"], ["18 6", "two-readings"], ["4 lb 3/4", "two-readings"], ["18.5 lb 6 oz", "part-told-twice"], ["1 lb 200 g", "units-do-not-join"], ["1 lb 2 qt", "units-do-not-join"],
    ["#10", "can-size"], ["3 furlongs", "unknown-unit"], ["1,2,3 lb", "not-a-quantity"], ["1.2.3 lb", "not-a-quantity"], ["9999999999999 lb", "too-large"], [`0.${"1".repeat(30)} lb`, "too-many-digits"],
    ["1/1234567 lb", "too-many-digits"], ["2 lb 3 oz 4 g 5", "units-do-not-join"], ["__proto__", "not-a-quantity"], ["5 constructor", "unknown-unit"],
  ])("%j: %s", (text, code) => expect(refusal(text).code).toBe(code));

  test("a number without a unit is not guessed", () => {
    expect(refusal("5", us, { kinds: ["mass"] })).toMatchObject({ code: "unit-missing", sentence: "“5” has no unit: write it with one, such as 18 lb 6 oz." });
    expect(refusal("18-6", us, { kinds: ["mass"] }).code).toBe("two-readings");
  });
  test("an ounce of weight is not a fluid ounce", () => {
    expect(refusal("3 oz", us, { kinds: ["volume"] }).sentence).toBe("“3 oz” is a weight (oz); a volume is needed here, such as 4 qt. For fluid ounces write fl oz.");
    expect(refusal("3 qt", us, { kinds: ["mass", "count"] }).sentence).toBe("“3 qt” is a volume (qt); a weight or a count is needed here, such as 18 lb 6 oz or 2 dozen.");
  });
});

test("the same unit twice, and units that do not join, are named", () => {
  expect(refusal("1 lb 1 lb").sentence).toBe("“lb” stands twice in one quantity: write one unit, or pairs such as 18 lb 6 oz.");
  expect(refusal("1 lb 200 g").sentence).toBe("“lb” and “g” do not belong together in one quantity: write one unit, or pairs such as 18 lb 6 oz.");
});

describe("what else a text could have meant", () => {
  const options: QuantityOptions = { kinds: ["mass"], bare: "lb" };
  const amounts = (text: string, habits: Habits = us) => otherReadings(text, habits, options).map((other) => `${other.amount} ${other.unit}`);
  test("ounces behind a decimal point", () => {
    expect(amounts("2.12")).toEqual(["2.75 lb"]);
    expect(amounts("2.12 lb")).toEqual(["2.75 lb"]);
    expect(amounts("2.16")).toEqual([]);
    expect(amounts("2.5")).toEqual([]);
    expect(amounts("6.12 kg")).toEqual([]);
  });
  test("a mark that is another country's", () => {
    expect(amounts("1,234 kg")).toEqual(["1.234 kg"]);
    expect(amounts("1.234 kg", german)).toEqual(["1.234 kg"]);
    expect(amounts("1,234.5 kg")).toEqual([]);
  });
});
