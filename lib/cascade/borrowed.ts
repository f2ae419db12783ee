/**
 * Which costs rest on a borrowed yield, and on whose. A cut without tests of its own may be costed by a published yield;
 * every portion, recipe and dish above it then says so. Found by walking from the borrowed cuts up to what is made of
 * them, once for each state of the shelves that can matter; a book that borrows nothing is only asked whether it does.
 */
import { type Book, type Cut, type FactKind, type Shelf, borrowedInUse, factKey, usersOf } from "@/lib/book";
import type { BorrowedCut, NodeRef } from "./node";

const NONE: readonly BorrowedCut[] = [];
const NOWHERE: ReadonlyMap<string, readonly BorrowedCut[]> = new Map();

/** The cuts on borrowed yields that a node rests on, itself included, by name; [] when its yields were measured here. */
export function borrowedBelow(book: Book, ref: NodeRef): readonly BorrowedCut[] {
  const above = aboveBorrowed(book);
  return above.size === 0 ? NONE : above.get(factKey(ref.kind, ref.id)) ?? NONE;
}

const CARRIES = ["cut", "spec", "recipe", "dish", "test"] as const satisfies readonly FactKind[];
type Carrier = (typeof CARRIES)[number];

/** What rests on what: a by-product worth what a recipe costs brings the recipe's cost to the cuts that adopt the test. */
const LEADS_TO: Readonly<Record<Carrier, readonly Carrier[]>> = {
  cut: ["cut", "spec", "recipe", "dish"], spec: ["recipe", "dish"], recipe: ["recipe", "dish", "test"], test: ["cut"], dish: [],
};

/** Borrowed cuts of a shelf: a price that moves leaves the shelf of cuts as it is. */
const lenders = new WeakMap<Shelf<Cut>, readonly BorrowedCut[]>();
/** The last walk from a shelf of cuts, with the shelves that it was made over. */
const walks = new WeakMap<Shelf<Cut>, { readonly over: Pick<Book["shelves"], Carrier>; readonly above: ReadonlyMap<string, readonly BorrowedCut[]> }>();

function lendersOf(shelf: Shelf<Cut>): readonly BorrowedCut[] {
  let found = lenders.get(shelf);
  if (found === undefined) {
    found = [...shelf.values()].filter((cut) => borrowedInUse(cut) !== null).map(({ id, name }) => ({ id, name })).sort(byName);
    lenders.set(shelf, found);
  }
  return found;
}

/** So that the order does not depend on the order of the changes. */
function byName(a: BorrowedCut, b: BorrowedCut): number {
  return a.name < b.name ? -1 : a.name > b.name ? 1 : a.id < b.id ? -1 : 1;
}

/** Node ("recipe:x") → the borrowed cuts below it. */
function aboveBorrowed(book: Book): ReadonlyMap<string, readonly BorrowedCut[]> {
  const { shelves } = book;
  const cuts = lendersOf(shelves.cut);
  if (cuts.length === 0) return NOWHERE;
  const known = walks.get(shelves.cut);
  if (known !== undefined && CARRIES.every((kind) => known.over[kind] === shelves[kind])) return known.above;
  const above = new Map<string, BorrowedCut[]>();
  for (const cut of cuts) walkUp(book, cut, above);
  walks.set(shelves.cut, { over: shelves, above });
  return above;
}

function walkUp(book: Book, cut: BorrowedCut, above: Map<string, BorrowedCut[]>): void {
  const seen = new Set<string>();
  const waiting: { readonly kind: Carrier; readonly id: string }[] = [{ kind: "cut", id: cut.id }];
  for (let fact = waiting.pop(); fact !== undefined; fact = waiting.pop()) {
    const key = factKey(fact.kind, fact.id);
    if (seen.has(key)) continue;
    seen.add(key);
    if (fact.kind !== "test") {
      const below = above.get(key);
      if (below === undefined) above.set(key, [cut]);
      else below.push(cut);
    }
    for (const kind of LEADS_TO[fact.kind]) {
      for (const { id } of usersOf(book, fact.kind, fact.id, [kind])) if (kind !== "dish" || comesToTable(book, id, fact)) waiting.push({ kind, id });
    }
  }
}

/** The plate cost is told at the table: what only goes with a plate that is taken away is not in it. */
function comesToTable(book: Book, dishId: string, { kind, id }: { readonly kind: Carrier; readonly id: string }): boolean {
  return book.shelves.dish.get(dishId)?.lines.some((line) => line.channel !== "away" && line.of.kind === kind && line.of.id === id) === true;
}
