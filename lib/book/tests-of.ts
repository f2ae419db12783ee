/** What stands where around a test: the tests and cuts of a thing, and the cuts that stand on a test. */
import type { Book } from "./book";
import type { Cut } from "./cut";
import type { Origin, TestKind, YieldTest } from "./yield-test";

export function isSameOrigin(one: Origin, other: Origin): boolean {
  return one.kind === other.kind && one.id === other.id;
}

/** The tests of a thing, of one kind where that is said, in the order in which they came into the book. */
export function testsOf(book: Book, of: Origin, kind: TestKind | null = null): readonly YieldTest[] {
  return [...book.shelves.test.values()].filter((test) => isSameOrigin(test.of, of) && (kind === null || test.kind === kind));
}

/** The newest test of a thing; of several of one day the one that came into the book last. */
export function lastTestOf(book: Book, of: Origin, kind: TestKind | null = null): YieldTest | undefined {
  return testsOf(book, of, kind).reduce<YieldTest | undefined>((last, test) => (last === undefined || test.on >= last.on ? test : last), undefined);
}

export function cutsOf(book: Book, of: Origin): readonly Cut[] {
  return [...book.shelves.cut.values()].filter((cut) => isSameOrigin(cut.of, of));
}

/** The cuts that stand on a test. */
export function cutsOn(book: Book, testId: string): readonly Cut[] {
  return [...book.shelves.cut.values()].filter((cut) => cut.testIds.includes(testId));
}
