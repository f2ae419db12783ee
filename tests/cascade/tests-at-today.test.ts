/** Tests of a cut valued at one date: together they are the cut's own cost, exactly; alone each is told by the same prices. */
import { describe, expect, test } from "vitest";
import type { Change, Cut, Repricing } from "@/lib/book";
import { compile, costExactly, priceThenAndNow, testsAtToday } from "@/lib/cascade";
import { type Ratio, baseFactor, printFactor, ratio } from "@/lib/measure";
import { bookOf, butcherTest, cut, part, quote, recipe, striploin, typed } from "../menu/small-books";

const of = { kind: "item", id: "striploin" } as const;
const second = butcherTest("test-2", "striploin", "12.5 lb", "7.40 a lb", [
  part("main", "steak", "8.25 lb"),
  part("by-product", "lean-trim", "1.5 lb", { value: { kind: "recipe", id: "burger-grind" } }),
  part("by-product", "end-pieces", "12 oz", { value: typed("5.60 a lb") }),
  part("discard", "fat-cap", "1.75 lb"),
], { on: "2026-11-23" });

function opened(more: Partial<Cut>, ...changes: readonly Change[]) {
  const compiled = compile(bookOf([...striploin, second, cut("strip", of, ["test-1", "test-2"], more), ...changes]));
  if (!compiled.ok) throw new Error(compiled.problems.map(({ sentence }) => sentence).join("\n"));
  const strip = compiled.value.book.shelves.cut.get("strip");
  if (strip === undefined) throw new Error("expected the cut");
  const tests = ["test-1", "test-2"].flatMap((id) => compiled.value.book.shelves.test.get(id) ?? []);
  return { cascade: compiled.value, cut: strip, tests };
}

/** Dollars a pound to four places. */
const aPound = (cost: Ratio | null | undefined): string | null => (cost ? printFactor(ratio.toDecimal(ratio.mul(cost, ratio.fromExact(baseFactor("lb")))), { locale: "en-US" }) : null);

describe("tests valued at one date", () => {
  test.each<Repricing | null>([null, "by-factor", "by-products-at-own-price"])("together are the cost of the cut, repriced %s", (repricing) => {
    const { cascade, cut: strip, tests } = opened({ repricing });
    expect(testsAtToday(cascade, strip, tests).pooled).toEqual(costExactly(cascade, { kind: "cut", id: "strip" }));
  });

  test("alone stand beside each other at today's price and one worth of each by-product", () => {
    const { cascade, cut: strip, tests } = opened({});
    const { alone } = testsAtToday(cascade, strip, tests);
    // (13.5 × 7.10 − 1.625 × 3.20 − 0.875 × 5.60) / 8.6875 and (12.5 × 7.10 − 1.5 × 3.20 − 0.75 × 5.60) / 8.25
    expect(aPound(alone.get("test-1"))).toBe("9.8705");
    expect(aPound(alone.get("test-2"))).toBe("9.6667");
  });

  test("are unknown while a price or a worth is, never zero", () => {
    const { cascade, cut: strip, tests } = opened({}, recipe("burger-grind", ["10 lb"], ["item chuck 10 lb"]), { kind: "quote", id: "quote-chuck", after: null });
    const { alone, pooled } = testsAtToday(cascade, strip, tests);
    expect([alone.get("test-1"), alone.get("test-2"), pooled]).toEqual([null, null, null]);
  });
});

describe("the price then and now", () => {
  test("is told in the unit of the test, with the drift of its factor only where every worth was typed", () => {
    const linked = opened({}, quote("striploin", "8.00 a lb"));
    expect(priceThenAndNow(linked.cascade, linked.cut, linked.tests[1] as never)).toMatchObject({ then: { amount: "7.40", per: "lb" }, now: { amount: "8", per: "lb" }, factorDrift: null });
    const plain = butcherTest("test-3", "striploin", "10 lb", "5 a lb", [part("main", "steak", "6 lb"), part("by-product", "fat", "3 lb", { value: typed("1 a lb") })]);
    const { cascade, cut: strip } = opened({ testIds: ["test-3"] }, plain, quote("striploin", "10 a lb"));
    const told = priceThenAndNow(cascade, strip, cascade.book.shelves.test.get("test-3") as never);
    // By the factor (50 − 3)/6 doubles to 15.67; with fat at its own dollar it is (100 − 3)/6 = 16.17: 3.1 % too little.
    expect(told?.factorDrift && printFactor(ratio.toDecimal(told.factorDrift), { locale: "en-US" })).toBe("-0.0309");
  });
});
