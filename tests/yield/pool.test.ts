import { describe, expect, test } from "vitest";
import { ratio } from "@/lib/measure";
import { butcherTest, costPer, pool, poolWeights, pooledYield, pricesOfNewest, yieldLine } from "@/lib/yield";
import { byProduct, codes, discard, fixed, main, rate, sheet, won } from "./sheets";

const small = sheet("butcher", "10 lb", "5.00", [main("loin", "5 lb", { pieces: ["5 lb"] }), byProduct("trim", "2 lb", "2.00"), discard("fat", "2 lb 14 oz")], { on: "2026-03-02" });
const large = sheet("butcher", "30 lb", "6.00", [main("loin", "21 lb"), byProduct("trim", "3 lb", "2.50"), byProduct("bone", "5 lb", "0.50")], { on: "2026-05-04", pieces: "2" });

describe("pooling tests", () => {
  test("totals are pooled; percentages are not averaged", () => {
    expect(ratio.toExact(won(pooledYield([small, large])))).toBe("0.65");
    expect(ratio.toExact(won(pooledYield([large, small])))).toBe("0.65");
  });

  test("every test is valued at one date before money is pooled", () => {
    const at = pricesOfNewest([large, small]);
    expect(at.price).toEqual(rate("6.00"));
    expect([...at.values].filter(([, value]) => value !== null)).toEqual([["trim", rate("2.50")], ["bone", rate("0.50")]]);
    const figures = won(butcherTest(won(pool([small, large], at))));
    // 40 lb at 6.00 less 5 lb at 2.50 and 5 lb at 0.50, over 26 lb.
    expect(fixed(costPer(figures.money?.costPerUnit ?? ratio.ZERO, "lb"), 6)).toBe("8.653846");
    expect(figures.parts.map((part) => [part.key, ratio.toExact(part.ratio)])).toEqual([["loin", "0.65"], ["trim", "0.125"], ["fat", "0.071875"], ["bone", "0.125"]]);
  });

  test("a pool is told in the unit of its oldest test, and keeps pieces only where every test weighed them", () => {
    const pooled = won(poolWeights([small, large]));
    expect(pooled.billed).toEqual({ amount: "40", unit: "lb" });
    expect(pooled.pieces).toBe("3");
    expect(pooled.parts[0]?.pieces).toEqual([]);
    expect(won(poolWeights([small, small])).parts[0]?.pieces).toHaveLength(2);
  });

  test("one test pools to itself", () => {
    expect(won(poolWeights([small]))).toEqual(small);
  });

  test("what cannot be pooled", () => {
    expect(codes(poolWeights([]))).toEqual(["no-tests"]);
    expect(codes(poolWeights([small, sheet("trim", "10 lb", null, [main("loin", "5 lb")])]))).toEqual(["different-kinds"]);
    expect(codes(poolWeights([small, sheet("butcher", "10 L", null, [main("loin", "5 L")])]))).toEqual(["different-measures"]);
    expect(codes(poolWeights([small, sheet("butcher", "10 lb", null, [main("loin", "5 lb"), discard("trim", "1 lb")])]))).toEqual(["role-differs"]);
    const heavy = poolWeights([small, sheet("butcher", "10 lb", null, [main("loin", "11 lb")])]);
    expect(heavy.ok ? [] : heavy.problems.map((problem) => problem.path)).toEqual(["tests.1.parts"]);
  });

  test("cooking tests pool what went in to the heat and what came out", () => {
    const roast = (billed: string, cooked: string, served: string): ReturnType<typeof sheet> => sheet("cooking", billed, "4", [main("served", served)], { cooked });
    const pooled = won(poolWeights([roast("10 lb", "8 lb", "7 lb"), roast("20 lb", "15 lb", "14 lb")]));
    expect(pooled.cooking).toEqual({ trimmed: { amount: "30", unit: "lb" }, cooked: { amount: "23", unit: "lb" } });
  });

  test("tests that each forgave the scale's step still pool", () => {
    const over = sheet("butcher", "10 lb", "5", [main("loin", "6 lb"), discard("fat", "4 lb 1.5 oz")], { step: "1 oz" });
    expect(won(yieldLine([over, over, over], "loin", "weight")).yield).toEqual(ratio.of(3n, 5n));
    expect(won(butcherTest(won(pool([over, over, over], pricesOfNewest([over]))))).notes.map((note) => note.code)).toEqual(["loss-forgiven"]);
  });
});
