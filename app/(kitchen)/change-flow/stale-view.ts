/** What somebody else did to a fact while it was being edited, in words: theirs beside mine. */
import { type Change, type FactKind, type FactOf, withChanges } from "@/lib/book";
import type { Fact, LiveBook, Stale } from "@/lib/store";
import type { StaleView } from "@/components/change/state";
import { printMoment } from "../moment";
import { factLines } from "./fact-words";

/** `changes` are the editor's own, so that what is new with them (a test that a cut adopts) has its name too. */
export function staleView(stale: Stale, live: LiveBook, kitchen: FactOf["kitchen"], changes: readonly Change[], seesMoney: boolean): StaleView {
  const linesOf = (fact: Fact | null, book: LiveBook["book"]) => new Map(fact === null ? [] : factLines(stale.kind, seesMoney ? fact : withoutMoney(stale.kind, fact), book).map((line) => [line.what, line.text]));
  const mine = linesOf(stale.mine, withChanges(live.book, changes));
  const theirs = linesOf(stale.theirs, live.book);
  const all = [...new Set([...mine.keys(), ...theirs.keys()])];
  return {
    name: stale.name,
    by: stale.by,
    at: printMoment(stale.at, kitchen),
    removed: stale.theirs === null,
    differences: all
      .filter((what) => mine.get(what) !== theirs.get(what))
      .map((what) => ({ what, mine: mine.get(what) ?? "—", theirs: theirs.get(what) ?? "—" })),
  };
}

/** A fact as it is told to somebody who sees no money. Of the facts that carry some, a test is the only one that is theirs to change. */
function withoutMoney(kind: FactKind, fact: Fact): Fact {
  if (kind !== "test") return fact;
  const test = fact as FactOf["test"];
  return { ...test, price: null, parts: test.parts.map((part) => ({ ...part, value: null, marketValue: null, furtherCost: null })) };
}
