/** What was found, in words and with where it is looked at. Somebody who sees no money is told of tests alone: the rest is costs. */
import { type Book, FOUND_KINDS, type Found, type FoundKind, findAnything } from "@/lib/book";
import { type Habits, printDay } from "@/lib/measure";
import type { AnswerView } from "@/components/find/answers";
import { KIND_WORD, factHref } from "../change-flow/fact-words";

const MONEYLESS: readonly FoundKind[] = ["test"];

export interface FoundViews {
  readonly answers: readonly AnswerView[];
  readonly of: number;
}

export function foundViews(book: Book, asked: string, { seesMoney, most, habits }: { readonly seesMoney: boolean; readonly most: number; readonly habits: Habits }): FoundViews {
  const { found, of } = findAnything(book, asked, { kinds: seesMoney ? FOUND_KINDS : MONEYLESS, most });
  return { answers: found.map((one) => viewOf(one, habits)), of };
}

function viewOf({ kind, id, name, note, on }: Found, habits: Habits): AnswerView {
  return {
    key: `${kind}:${id}`, href: factHref(kind, id) ?? "/", name: on === null ? name : `${name}, ${printDay(on, habits)}`, kind: KIND_WORD[kind], note,
  };
}
