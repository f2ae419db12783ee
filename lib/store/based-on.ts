/**
 * What an editor's work is based on: for each fact, the revision that stood on the screen when the editing began. It
 * travels in the form as a hidden field and comes back with the commit, which refuses to write over a revision that
 * the editor has not seen.
 */
import { type Change, factKey } from "@/lib/book";
import type { LiveBook } from "./contract";

/** For each fact, the revision in force in this live book; null for one that it does not hold. */
export function basedOn(live: LiveBook, facts: readonly Pick<Change, "kind" | "id">[]): Record<string, number | null> {
  return Object.fromEntries(facts.map(({ kind, id }) => {
    const key = factKey(kind, id);
    return [key, live.book.provenance.get(key)?.revision ?? null];
  }));
}
