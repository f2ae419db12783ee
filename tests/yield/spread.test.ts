import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ratio } from "@/lib/measure";
import { pooledYield, spreadOf, testYield, testYields } from "@/lib/yield";
import { codes, discard, main, sheet, show, won } from "./sheets";
import { someTests, strip } from "./yields";

const loins = [
  strip("2026-03-02", "12 lb", "8 lb 4 oz"),
  strip("2026-03-09", "14 lb", "10 lb 8 oz"),
  strip("2026-03-16", "13 lb", "9 lb 12 oz"),
];

describe("the spread of several tests", () => {
  test("three loins: pooled, mean, least and greatest", () => {
    const spread = won(spreadOf(loins));
    expect(spread.tests).toBe(3);
    // 28 lb 8 oz of 39 lb; the mean of 68.75, 75 and 75 % is not the same.
    expect(show(spread.pooled, 6)).toBe("0.730769");
    expect(show(spread.mean, 6)).toBe("0.729167");
    expect([show(spread.least.yield), show(spread.greatest.yield)]).toEqual(["0.6875", "0.75"]);
    expect(spread.deviation?.toFixed(10)).toBe("0.0360843918");
    expect(spread.variation?.toFixed(10)).toBe("0.0494871659");
  });

  test("one test has a yield and no spread; none has nothing", () => {
    const one = won(spreadOf(loins.slice(0, 1)));
    expect([one.deviation, one.variance, one.variation]).toEqual([null, null, null]);
    expect(codes(spreadOf([]))).toEqual(["no-tests"]);
  });

  test("the pooled yield is that of the pooled sheets", () => {
    const sheets = [sheet("butcher", "12 lb", null, [main("strip", "8 lb 4 oz")]), sheet("butcher", "14 lb", null, [main("strip", "10 lb 8 oz")])];
    const yields = won(testYields(sheets.map((each, at) => ({ id: String(at), sheet: each }))));
    expect(won(spreadOf(yields)).pooled).toEqual(won(pooledYield(sheets)));
  });

  test("the yield of a cut is that of its part; a part the test was not worked for is refused", () => {
    const short = sheet("butcher", "20 lb", null, [main("strip", "9 lb"), main("tenderloin", "5 lb"), discard("fat", "5 lb")]);
    expect(show(won(testYield("a", short, "tenderloin")).yield)).toBe("0.25");
    expect(show(won(testYield("a", short)).yield)).toBe("0.7");
    expect(codes(testYield("a", short, "fat"))).toEqual(["part-missing"]);
    const heavy = testYields([{ id: "a", sheet: short }, { id: "b", sheet: sheet("butcher", "5 lb", null, [main("strip", "6 lb")]) }]);
    expect(heavy.ok ? [] : heavy.problems.map((problem) => problem.path)).toEqual(["tests.1.parts"]);
  });

  test("tests come oldest first, those of one day as they were given", () => {
    const at = (id: string, on: string): { id: string; sheet: ReturnType<typeof sheet> } => ({ id, sheet: sheet("butcher", "10 lb", null, [main("strip", "7 lb")], { on }) });
    expect(won(testYields([at("c", "2026-05-02"), at("a", "2026-04-30"), at("d", "2026-05-02")])).map((each) => each.id)).toEqual(["a", "c", "d"]);
  });

  test("laws: order does not matter; doubling every weight does not; the pooled yield lies between least and greatest", () => {
    fc.assert(
      fc.property(someTests(2, 12), (tests) => {
        const { least, greatest, ...spread } = won(spreadOf(tests));
        const { least: _, greatest: __, ...backwards } = won(spreadOf([...tests].reverse()));
        expect(backwards).toEqual(spread);
        const two = ratio.of(2n);
        const doubled = won(spreadOf(tests.map((each) => ({ ...each, billed: ratio.mul(each.billed, two), usable: ratio.mul(each.usable, two) }))));
        expect([doubled.pooled, doubled.deviation]).toEqual([spread.pooled, spread.deviation]);
        expect(ratio.compare(least.yield, spread.pooled)).toBeLessThanOrEqual(0);
        expect(ratio.compare(greatest.yield, spread.pooled)).toBeGreaterThanOrEqual(0);
        expect(ratio.sign(spread.variance ?? ratio.ONE)).toBe(ratio.compare(least.yield, greatest.yield) === 0 ? 0 : 1);
      }),
      { numRuns: 60 },
    );
  });
});
