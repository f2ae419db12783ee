/**
 * Leaving a test out of a figure. Nothing does so by itself: a person names the test and types why, and the test stays on file
 * beside the reason, so that the next reader sees what was left out as well as what was kept.
 */
import { type Checked, type Problem, good } from "@/lib/measure";

export interface LeftOut {
  readonly testId: string;
  /** Why, in a person's words: "tub of fat not tared". */
  readonly reason: string;
}

export interface Kept<T> {
  readonly kept: readonly T[];
  readonly leftOut: readonly { readonly test: T; readonly reason: string }[];
}

/**
 * The tests less those left out, each with its reason. Problems, with paths "leftOut.<n>.…": reason-missing; no-such-test; left-out-twice;
 * and nothing-left, at "leftOut", when no test would be kept.
 */
export function leaveOut<T extends { readonly id: string }>(tests: readonly T[], leftOut: readonly LeftOut[]): Checked<Kept<T>> {
  const problems: Problem[] = [];
  const reasons = new Map<string, string>();
  for (const [index, { testId, reason }] of leftOut.entries()) {
    const path = `leftOut.${index}`;
    // A reason is words: dots and dashes are none.
    if (!/[\p{L}\p{N}]/u.test(reason)) problems.push({ path: `${path}.reason`, code: "reason-missing", sentence: "Say why this test is left out, in a few words: the next reader will ask." });
    if (!tests.some((test) => test.id === testId)) problems.push({ path: `${path}.testId`, code: "no-such-test", sentence: "That test is not among these: choose one of the tests shown." });
    if (reasons.has(testId)) problems.push({ path: `${path}.testId`, code: "left-out-twice", sentence: "That test is left out already: keep one of the two reasons." });
    reasons.set(testId, reason.trim());
  }
  const kept = tests.filter((test) => !reasons.has(test.id));
  if (kept.length === 0 && tests.length > 0 && problems.length === 0) {
    problems.push({ path: "leftOut", code: "nothing-left", sentence: "Every test would be left out, and no yield be known: keep at least one." });
  }
  if (problems.length > 0) return { ok: false, problems };
  return good({
    kept,
    leftOut: tests.flatMap((test) => {
      const reason = reasons.get(test.id);
      return reason === undefined ? [] : [{ test, reason }];
    }),
  });
}
