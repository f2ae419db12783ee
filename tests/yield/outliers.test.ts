import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ratio } from "@/lib/measure";
import { leaveOut, outliersOf, sayOutlier, spreadOf } from "@/lib/yield";
import { US, codes, sentences, show, won } from "./sheets";
import { someTests, told } from "./yields";

const loins = told(["0.71", "0.72", "0.70", "0.715", "0.61"], "loin");

describe("a test that stands far from the others", () => {
  test("61 % among loins of about 71 % is flagged, told with what to look for, and still counts", () => {
    const check = won(outliersOf(loins));
    expect(check.flagged.map(({ test: flagged, side }) => [flagged.id, side])).toEqual([["loin-5", "below"]]);
    expect(show(check.flagged[0]?.score ?? ratio.ZERO)).toBe("6.745");
    const [flagged] = check.flagged;
    if (flagged === undefined) throw new Error("expected a flag");
    expect(sayOutlier(flagged, check, US)).toBe(
      "The test of Mon 2 Feb 2026, at 61.0 %, stands far below the others (median 71.0 %): was a tub not tared, pounds and ounces mixed, or another piece cut? It still counts, until somebody leaves it out and says why.",
    );
    expect(won(spreadOf(loins)).tests).toBe(5);
  });

  test("where most tests agree to the last digit, the mean distance measures the one that does not", () => {
    const check = won(outliersOf(told(["0.7", "0.7", "0.7", "0.7", "0.7", "0.7", "0.75"])));
    expect(show(check.medianDistance)).toBe("0");
    // 0.05 over 1.253314 times the mean distance 0.05/7.
    expect(show(check.flagged[0]?.score ?? ratio.ZERO, 6)).toBe("5.585193");
    expect(won(outliersOf(told(["0.7", "0.7", "0.7", "0.7"]))).flagged).toEqual([]);
  });

  test("three tests are too few to say which stands apart", () => {
    expect(codes(outliersOf(loins.slice(2)))).toEqual(["too-few-tests"]);
  });

  test("laws: one bad weighing is found however bad it is; moving or stretching all yields flags the same tests", () => {
    fc.assert(
      fc.property(someTests(5, 12), fc.integer({ min: 2, max: 50 }), (tests, far) => {
        const flaggedIn = (some: typeof tests): readonly string[] => won(outliersOf(some)).flagged.map((each) => each.test.id);
        const [first, ...rest] = tests;
        if (first === undefined) return;
        expect(flaggedIn([{ ...first, yield: ratio.of(BigInt(far) * 10n) }, ...rest])).toContain(first.id);
        const moved = tests.map((each) => ({ ...each, yield: ratio.add(ratio.mul(each.yield, ratio.of(BigInt(far), 60n)), ratio.of(1n, 7n)) }));
        expect(flaggedIn(moved)).toEqual(flaggedIn(tests));
      }),
      { numRuns: 60 },
    );
  });
});

describe("leaving a test out", () => {
  test("a person names it and says why; it stays beside the reason", () => {
    const { kept, leftOut } = won(leaveOut(loins, [{ testId: "loin-5", reason: " tub of fat not tared " }]));
    expect(kept.map((each) => each.id)).toEqual(["loin-1", "loin-2", "loin-3", "loin-4"]);
    expect(leftOut.map((each) => [each.test.id, each.reason])).toEqual([["loin-5", "tub of fat not tared"]]);
  });

  test("without a reason nothing is left out", () => {
    for (const reason of ["", "   ", "...", "—"]) {
      const refused = leaveOut(loins, [{ testId: "loin-5", reason }]);
      expect(refused.ok ? [] : refused.problems.map(({ path, code }) => `${path} ${code}`)).toEqual(["leftOut.0.reason reason-missing"]);
    }
    expect(sentences(leaveOut(loins, [{ testId: "loin-5", reason: "" }]))).toBe("Say why this test is left out, in a few words: the next reader will ask.");
  });

  test("an unknown test, one left out twice, and every test left out are refused", () => {
    expect(codes(leaveOut(loins, [{ testId: "lamb-1", reason: "thawed" }]))).toEqual(["no-such-test"]);
    expect(codes(leaveOut(loins, [{ testId: "loin-1", reason: "thawed" }, { testId: "loin-1", reason: "frozen" }]))).toEqual(["left-out-twice"]);
    expect(codes(leaveOut(loins, loins.map((each) => ({ testId: each.id, reason: "wrong scale" }))))).toEqual(["nothing-left"]);
    expect(won(leaveOut([], [])).kept).toEqual([]);
  });
});
