/**
 * Which tests could stand behind a cut: those of the same thing, of the same kind as the tests it stands on, that were
 * worked for its part. Tests of several kinds are never pooled, so the others are another history.
 */
import type { Book } from "./book";
import type { Cut } from "./cut";
import { isSameOrigin } from "./tests-of";
import type { TestKind, YieldTest } from "./yield-test";

/** Where a test stands with a cut. A test that nobody has decided about is neither behind it nor left out. */
export type TestStanding =
  | { readonly kind: "behind" }
  | { readonly kind: "left-out"; readonly reason: string }
  | { readonly kind: "undecided" };

export interface MatchingTest {
  readonly test: YieldTest;
  readonly standing: TestStanding;
}

/** Newest first; those of one day by id, so that the order is always the same. */
export function matchingTests(book: Book, cut: Cut): readonly MatchingTest[] {
  const kind = kindOfTests(book, cut);
  const reasons = new Map(cut.leftOut.map(({ testId, reason }) => [testId, reason]));
  const behind = new Set(cut.testIds);
  return [...book.shelves.test.values()]
    .filter((test) => behind.has(test.id) || (isSameOrigin(test.of, cut.of) && (kind === null || test.kind === kind) && workedFor(test, cut)))
    .sort((a, b) => (a.on === b.on ? (a.id < b.id ? 1 : -1) : a.on < b.on ? 1 : -1))
    .map((test) => {
      const reason = reasons.get(test.id);
      return { test, standing: behind.has(test.id) ? { kind: "behind" } : reason === undefined ? { kind: "undecided" } : { kind: "left-out", reason } };
    });
}

/** Left-out tests that have gone from the book: their reasons stay on file. */
export function leftOutAndGone(book: Book, cut: Cut): Cut["leftOut"] {
  return cut.leftOut.filter(({ testId }) => !book.shelves.test.has(testId));
}

function workedFor(test: YieldTest, cut: Cut): boolean {
  return test.parts.some((part) => part.role === "main" && part.key === cut.partKey);
}

/** The kind of the tests it stands on; null while there are none. */
function kindOfTests(book: Book, cut: Cut): TestKind | null {
  return cut.testIds.flatMap((id) => book.shelves.test.get(id) ?? [])[0]?.kind ?? null;
}
