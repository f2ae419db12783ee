import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ratio } from "@/lib/measure";
import { intervalName, intervalOfMean, intervalOfNext, intervalOfPooled, sayInterval } from "@/lib/yield";
import { US, codes, figure, sentences, won } from "./sheets";
import { exactly, singlePieces, someTests, strip, told, week } from "./yields";

const loins = [
  strip(week(0), "12 lb", "8 lb 8 oz"), strip(week(1), "14 lb", "10 lb 2 oz"), strip(week(2), "13 lb", "9 lb 2 oz"),
  strip(week(3), "12 lb 8 oz", "9 lb 1 oz"), strip(week(4), "13 lb 4 oz", "9 lb 6 oz"),
];

describe("the interval of the mean and of the next piece", () => {
  test("five strip loins, in words that cannot be taken for each other", () => {
    const mean = won(intervalOfPooled(loins));
    const next = won(intervalOfNext(loins));
    expect([intervalName(mean), intervalName(next)]).toEqual(["Interval of the mean", "Interval of the next piece"]);
    expect(sayInterval(mean, US)).toBe("The mean yield lies between 70.0 and 72.6 % (95 % sure, from 5 tests).");
    expect(sayInterval(next, US)).toBe("The next piece may yield between 68.2 and 74.4 % (95 % sure, from 5 tests).");
    const party = won(intervalOfNext(loins, figure("9/10"), figure("6")));
    expect(intervalName(party)).toBe("Interval of the next 6 pieces together");
    expect(sayInterval(party, US)).toBe("The next 6 pieces together may yield between 70.0 and 72.6 % (90 % sure, from 5 tests).");
  });

  test("one test gives no interval, and says why", () => {
    for (const of of [intervalOfMean, intervalOfPooled, intervalOfNext]) {
      expect(codes(of(loins.slice(0, 1)))).toEqual(["too-few-tests"]);
      expect(codes(of([]))).toEqual(["too-few-tests"]);
      expect(codes(of(loins, ratio.ONE))).toEqual(["level-out-of-range"]);
      expect(codes(of(loins, ratio.ZERO))).toEqual(["level-out-of-range"]);
    }
    expect(sentences(intervalOfMean(loins.slice(0, 1)))).toBe("One test tells a yield, but not how much yields differ: an interval needs at least two tests.");
    expect(codes(intervalOfNext(loins, ratio.of(19n, 20n), ratio.ZERO))).toEqual(["not-above-zero"]);
  });

  test("two tests reach so far that the interval is cut off at 0 and 100 %, and says so", () => {
    const two = [strip(week(0), "10 lb", "6 lb"), strip(week(1), "10 lb", "8 lb")];
    const next = won(intervalOfNext(two));
    expect([next.low.toString(), next.high.toString(), next.cutLow, next.cutHigh]).toEqual(["0", "1", true, true]);
    expect(next.reach.toFixed(3)).toBe("2.201");
    expect(sayInterval(next, US)).toBe("The next piece may yield between 0.0 and 100.0 % (95 % sure, from 2 tests). It is cut off at 0 and 100 %: with so much spread, more tests are needed to say more.");
  });

  test("what takes up water has no upper end at 100 %", () => {
    const rice = won(intervalOfMean(told(["2.8", "2.9", "3.0"])));
    expect([rice.high.toFixed(3), rice.cutHigh]).toEqual(["3.148", false]);
  });

  test("tests that all agree leave no width", () => {
    const same = won(intervalOfNext(told(["0.7", "0.7", "0.7"])));
    expect([same.low.toString(), same.high.toString()]).toEqual(["0.7", "0.7"]);
  });

  test("laws: the mean's is the narrower; more sure is wider; order does not matter; both lie about their centre", () => {
    fc.assert(
      fc.property(singlePieces(2, 10), fc.integer({ min: 1, max: 98 }), (tests, percent) => {
        const level = ratio.of(BigInt(percent), 100n);
        const surer = ratio.of(BigInt(percent + 1), 100n);
        const mean = won(intervalOfMean(tests, level));
        const next = won(intervalOfNext(tests, level));
        const moved = !mean.reach.isZero();
        expect(mean.reach.lt(next.reach)).toBe(moved);
        expect(mean.low.gte(next.low) && mean.high.lte(next.high)).toBe(true);
        expect(won(intervalOfMean(tests, surer)).reach.gt(mean.reach)).toBe(moved);
        expect(won(intervalOfNext([...tests].reverse(), level))).toEqual(next);
        expect(mean.centre).toEqual(next.centre);
        const centre = ratio.toDecimal(mean.centre);
        expect(mean.low.lte(centre) && mean.high.gte(centre)).toBe(true);
      }),
      { numRuns: 40 },
    );
  });

  test("laws: with pieces of one weight the pooled yield's interval is the mean's; in another unit it is the same", () => {
    fc.assert(
      fc.property(someTests(2, 8), (tests) => {
        const alike = tests.map((each) => ({ ...each, billed: ratio.ONE, usable: each.yield }));
        const pooled = won(intervalOfPooled(alike));
        const mean = won(intervalOfMean(alike));
        expect(pooled.centre).toEqual(mean.centre);
        expect(pooled.reach.toSignificantDigits(30)).toEqual(mean.reach.toSignificantDigits(30));
        const kilos = tests.map((each) => ({ ...each, billed: ratio.mul(each.billed, figure("0.45359237")), usable: ratio.mul(each.usable, figure("0.45359237")) }));
        expect(won(intervalOfPooled(kilos))).toEqual(won(intervalOfPooled(tests)));
      }),
      { numRuns: 30 },
    );
  });

  test("laws: spread twice as wide about one mean, the interval is twice as wide", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -100, max: 100 }), { minLength: 2, maxLength: 9 }), (off) => {
        const about = (scale: bigint): ReturnType<typeof exactly> => exactly(off.map((each) => ratio.of(7000n + scale * BigInt(each), 10_000n)));
        const once = won(intervalOfNext(about(1n))).reach;
        expect(won(intervalOfNext(about(2n))).reach.toSignificantDigits(30)).toEqual(once.mul(2).toSignificantDigits(30));
      }),
      { numRuns: 30 },
    );
  });

  test("a test of four pieces counts four times: more pieces in the same number of tests narrow the mean behind the next piece", () => {
    const fours = loins.map((each) => ({ ...each, pieces: ratio.of(4n) }));
    const once = won(intervalOfNext(loins));
    const four = won(intervalOfNext(fours));
    expect(four.centre).toEqual(once.centre);
    // Single pieces differ by twice as much as tests of four do, and 20 pieces stand behind the mean: 2·√(1 + 1/20) against √(1 + 1/5).
    expect(four.reach.div(once.reach).toFixed(10)).toBe("1.8708286934");
    // Four more of them together are held to what tests of four give.
    expect(won(intervalOfNext(fours, ratio.of(19n, 20n), ratio.of(4n))).reach.toSignificantDigits(30)).toEqual(once.reach.toSignificantDigits(30));
  });
});
