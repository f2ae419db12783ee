/** What somebody else did to a fact while it was being edited, in words: theirs beside mine. */
import { type Change, type FactOf, withChanges } from "@/lib/book";
import type { LiveBook, Stale } from "@/lib/store";
import type { StaleView } from "@/components/change/state";
import { printMoment } from "../moment";
import { factLines } from "./fact-words";

/** `changes` are the editor's own, so that what is new with them (a test that a cut adopts) has its name too. */
export function staleView(stale: Stale, live: LiveBook, kitchen: FactOf["kitchen"], changes: readonly Change[]): StaleView {
  const mine = new Map(stale.mine === null ? [] : factLines(stale.kind, stale.mine, withChanges(live.book, changes)).map((line) => [line.what, line.text]));
  const theirs = new Map(stale.theirs === null ? [] : factLines(stale.kind, stale.theirs, live.book).map((line) => [line.what, line.text]));
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
