/**
 * What a new test of a thing begins with, at the block and on paper alike: the kind and the parts of its last test;
 * without one the card of usual parts for such a cut, else the parts of such a kind of test.
 */
import { type Book, type Origin, type PartRole, type TestKind, type YieldTest, factName, lastTestOf } from "@/lib/book";
import { usualPartsFor } from "@/lib/yield";
import { KINDS, TEST_KINDS } from "@/components/yield-test/kinds";

export interface StartOf {
  readonly kind: TestKind;
  /** The last test of that kind; undefined where there is none. */
  readonly last: YieldTest | undefined;
  readonly parts: readonly { readonly key?: string; readonly name: string; readonly role: PartRole }[];
}

/** The kind that a word names; undefined where it names none. */
export function kindNamed(word: string): TestKind | undefined {
  return TEST_KINDS.find((kind) => kind === word);
}

/** `wanted` is the kind somebody chose, where they did. */
export function startOf(book: Book, of: Origin, wanted: TestKind | undefined): StartOf {
  const item = of.kind === "item" ? book.shelves.item.get(of.id) : undefined;
  const card = usualPartsFor({ name: factName(book, of.kind, of.id), specification: item?.specification });
  const kind = wanted ?? lastTestOf(book, of)?.kind ?? card?.kind ?? (of.kind === "cut" ? "cooking" : "butcher");
  const last = lastTestOf(book, of, kind);
  return { kind, last, parts: last?.parts ?? (card?.kind === kind ? card.parts : KINDS[kind].parts) };
}
