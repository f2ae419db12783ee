/**
 * Who refers to a fact: the references of a shelf read backwards, made when first asked for and kept as long as the
 * shelf itself. A change makes a new shelf only of its own kind, so in a large book the others stay known.
 */
import { type Book, FACT_KINDS, type FactKind, type Shelf } from "../book";
import type { FactRef } from "./cycle";
import { referencesIn } from "./references";

type Users = ReadonlyMap<FactKind, ReadonlyMap<string, readonly string[]>>;
const byShelf = new WeakMap<Shelf<unknown>, Users>();

function usersOnShelf(book: Book, kind: FactKind): Users {
  const shelf = book.shelves[kind];
  const known = byShelf.get(shelf);
  if (known !== undefined) return known;
  const users = new Map<FactKind, Map<string, string[]>>(FACT_KINDS.map((used) => [used, new Map<string, string[]>()]));
  for (const id of shelf.keys()) {
    for (const reference of referencesIn(book, kind, id)) {
      const of = users.get(reference.kind)?.get(reference.id);
      if (of === undefined) users.get(reference.kind)?.set(reference.id, [id]);
      else if (of.at(-1) !== id) of.push(id);
    }
  }
  byShelf.set(shelf, users);
  return users;
}

/** The facts of the given kinds (else of any) that refer to this one. */
export function usersOf(book: Book, kind: FactKind, id: string, kinds: readonly FactKind[] = FACT_KINDS): readonly FactRef[] {
  return kinds.flatMap((by) => (usersOnShelf(book, by).get(kind)?.get(id) ?? []).map((user): FactRef => ({ kind: by, id: user })));
}
