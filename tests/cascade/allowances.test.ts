/** What is reckoned and not weighed: shares on the cost, shares of the whole, money; plates at the table; portions as cut. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Allowance, type Change, type Dish, type PortionSpec, allowanceFactors } from "@/lib/book";
import { type Cascade, advance, compile, costExactly, costOf, explain } from "@/lib/cascade";
import { exact, ratio } from "@/lib/measure";
import { bookOf, butcherTest, cut, dish, item, line, part, q, quote, recipe, spec } from "../menu/small-books";

const onCost = (share: string): Allowance => ({ key: `c${share}`, name: "Seasoning", kind: "share", share: exact(share), basis: "on-cost" });
const ofWhole = (share: string): Allowance => ({ key: `w${share}`, name: "Spilt", kind: "share", share: exact(share), basis: "of-whole" });
const money = (amount: string): Allowance => ({ key: `m${amount}`, name: "Cover", kind: "money", amount: { amount: exact(amount) } });

function compiled(facts: readonly Change[]): Cascade {
  const made = compile(bookOf(facts));
  if (!made.ok) throw new Error(made.problems.map((problem) => problem.sentence).join(" "));
  return made.value;
}

/** A batch whose lines come to 10.00. */
const ten = (allowances: readonly Allowance[]): readonly Change[] => [item("butter"), quote("butter", "5 a lb"), recipe("sauce", ["1 qt"], ["item butter 2 lb"], { allowances })];
const costOfTen = (allowances: readonly Allowance[]): string => costOf(compiled(ten(allowances)), { kind: "recipe", id: "sauce" })?.amount.toFixed(4) ?? "";

describe("an allowance", () => {
  test("of 5 % on 10.00 is 10.50 on the cost, and 10.53 of the whole", () => {
    expect(costOfTen([])).toBe("10.0000");
    expect(costOfTen([onCost("0.05")])).toBe("10.5000");
    expect(costOfTen([ofWhole("0.05")])).toBe("10.5263");
  });

  test("of money comes beside the lines, and shares on the cost are not taken of it", () => {
    expect(costOfTen([money("1.50")])).toBe("11.5000");
    expect(costOfTen([money("1.50"), onCost("0.1")])).toBe("12.5000");
    expect(costOfTen([money("1.50"), ofWhole("0.5")])).toBe("23.0000");
  });

  test("is one formula, in fractions", () => {
    fc.assert(fc.property(fc.array(fc.tuple(fc.constantFrom(onCost, ofWhole), fc.integer({ min: 1, max: 9 })), { maxLength: 8 }), fc.integer({ min: 1, max: 999 }), (shares, cents) => {
      const allowances = [...shares.map(([make, percent]) => make(`0.0${percent}`)), money((cents / 100).toFixed(2))];
      const { onCost: times, ofWhole: left } = allowanceFactors(allowances);
      const expected = ratio.mul(ratio.add(ratio.mul(ratio.of(10n), times), ratio.of(BigInt(cents), 100n)), left);
      expect(costExactly(compiled(ten(allowances)), { kind: "recipe", id: "sauce" })).toEqual(expected);
    }));
  });

  test("opened, the lines and what is reckoned on them add up to the cost", () => {
    const opened = explain(compiled(ten([onCost("0.05"), ofWhole("0.1"), money("0.75")])), { kind: "recipe", id: "sauce" });
    expect(opened?.total.toFixed(12)).toBe(opened?.cost.amount.toFixed(12));
    expect(opened?.steps.map((step) => step.kind)).toEqual(["line", "allowance", "allowance", "allowance"]);
  });

  test("on something whose price is missing leaves a lower bound, and says what is missing", () => {
    const cost = costOf(compiled([item("butter"), recipe("sauce", ["1 qt"], ["item butter 2 lb"], { allowances: [money("1")] })]), { kind: "recipe", id: "sauce" });
    expect(cost?.missing.map((one) => one.what)).toEqual(["price"]);
    expect(cost?.amount.toFixed(2)).toBe("1.00");
  });

  test("changed, gives what compiling anew gives, digit for digit", () => {
    const before = compiled([...ten([]), dish("plate", ["recipe sauce 0.25 qt"])]);
    const [, , changed] = ten([onCost("0.033"), ofWhole("0.07"), money("0.333")]);
    const after = advance(before, changed === undefined ? [] : [changed]);
    if (!after.ok) throw new Error("expected the change to fit");
    const anew = compiled([...ten([onCost("0.033"), ofWhole("0.07"), money("0.333")]), dish("plate", ["recipe sauce 0.25 qt"])]);
    expect(costOf(after.value.cascade, { kind: "dish", id: "plate" })?.amount.toString()).toBe(costOf(anew, { kind: "dish", id: "plate" })?.amount.toString());
  });
});

test("what only goes with a plate that is taken away is not in its cost at the table", () => {
  const lines: Dish["lines"] = [{ ...line("item butter 1 lb", 0), role: "main", channel: "any" }, { ...line("item box 1 each", 1), role: "packaging", channel: "away" }];
  const cascade = compiled([item("butter"), quote("butter", "5 a lb"), item("box", "count"), dish("plate", [], { lines })]);
  const cost = costOf(cascade, { kind: "dish", id: "plate" });
  expect([cost?.amount.toFixed(2), cost?.missing]).toEqual(["5.00", []]);
  expect(explain(cascade, { kind: "dish", id: "plate" })?.steps).toHaveLength(1);
});

test("a portion is costed at what is really cut", () => {
  const facts = [item("loin"), quote("loin", "10 a lb"), butcherTest("t", "loin", "10 lb", "10 a lb", [part("main", "main", "5 lb"), part("discard", "fat", "4.9 lb")]), cut("cut", { kind: "item", id: "loin" }, ["t"], { partKey: "main" })];
  const nine = (more: Partial<PortionSpec>): string => costOf(compiled([...facts, spec("nine", "cut", "9 oz", more)]), { kind: "spec", id: "nine" })?.amount.toFixed(4) ?? "";
  expect(nine({})).toBe("11.2500");
  expect(nine({ meanCut: { weight: q("9.5 oz"), count: exact("10"), on: "2026-11-20" } })).toBe("11.8750");
});
