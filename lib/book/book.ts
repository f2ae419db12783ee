/**
 * The book: everything costing depends on, as plain data, as it applies on one day and as it was known at one moment.
 * Facts are filed by kind on shelves; beside each fact stands its provenance. A change names one fact and what it
 * becomes; changes laid over a book give another book and leave the first as it was.
 */
import type { Cut, PortionSpec } from "./cut";
import type { Delivery } from "./delivery";
import type { Dealer, Item, Quote } from "./item";
import type { Kitchen } from "./kitchen";
import type { Dish, MenuPrice, Recipe, SalesWeek } from "./recipe";
import type { YieldTest } from "./yield-test";

export interface FactOf {
  readonly kitchen: Kitchen & { readonly id: string };
  readonly dealer: Dealer;
  readonly item: Item;
  readonly quote: Quote;
  readonly delivery: Delivery;
  readonly test: YieldTest;
  readonly cut: Cut;
  readonly spec: PortionSpec;
  readonly recipe: Recipe;
  readonly dish: Dish;
  readonly menuPrice: MenuPrice;
  readonly sales: SalesWeek;
}
export type FactKind = keyof FactOf;
export const FACT_KINDS = [
  "kitchen", "dealer", "item", "quote", "delivery", "test", "cut", "spec", "recipe", "dish", "menuPrice", "sales",
] as const satisfies readonly FactKind[];

export type Shelf<T> = ReadonlyMap<string, T>;
export type Shelves = { readonly [K in FactKind]: Shelf<FactOf[K]> };

/** Where a fact in the book comes from: the revision that holds it. Dates "2026-11-24", moments ISO 8601 in UTC. */
export interface Provenance {
  readonly revision: number;
  readonly validFrom: string;
  readonly recordedAt: string;
  readonly by: string;
  readonly why: string;
}

export interface Book {
  /** Fixed id under which the kitchen's own settings are filed on the "kitchen" shelf. */
  readonly kitchenId: string;
  /** The day it applies on. */
  readonly on: string;
  readonly shelves: Shelves;
  /** Keyed by factKey; absent for facts that are only pretended. */
  readonly provenance: ReadonlyMap<string, Provenance>;
}

/** One fact becomes `after`; null takes it off the shelf. A recorded change brings its provenance, a pretended one has none. */
export type Change = {
  [K in FactKind]: {
    readonly kind: K;
    readonly id: string;
    readonly after: FactOf[K] | null;
    readonly provenance?: Provenance | undefined;
  };
}[FactKind];

export function factKey(kind: FactKind, id: string): string {
  return `${kind}:${id}`;
}

/** An empty book of a kitchen, for a day. */
export function emptyBook(kitchen: FactOf["kitchen"], on: string): Book {
  const shelves = Object.fromEntries(FACT_KINDS.map((kind) => [kind, new Map()])) as unknown as Shelves;
  return {
    kitchenId: kitchen.id,
    on,
    shelves: { ...shelves, kitchen: new Map([[kitchen.id, kitchen]]) },
    provenance: new Map(),
  };
}

/** The kitchen's own settings in force in this book. Throws when the book was made without them. */
export function kitchenOf(book: Book): FactOf["kitchen"] {
  const kitchen = book.shelves.kitchen.get(book.kitchenId);
  if (!kitchen) throw new Error(`expected the book to hold its kitchen ${book.kitchenId}`);
  return kitchen;
}

/**
 * The book with the changes laid over it, later ones over earlier ones. The given book is untouched; shelves without
 * a change are shared. A changed fact has the provenance that its change brings: none when it is only pretended.
 */
export function withChanges(book: Book, changes: readonly Change[]): Book {
  if (changes.length === 0) return book;
  const shelves: Record<string, Map<string, unknown>> = {};
  const provenance = new Map(book.provenance);
  for (const change of changes) {
    const shelf = (shelves[change.kind] ??= new Map<string, unknown>(book.shelves[change.kind]));
    if (change.after === null) shelf.delete(change.id);
    else shelf.set(change.id, change.after);
    const key = factKey(change.kind, change.id);
    if (change.provenance && change.after !== null) provenance.set(key, change.provenance);
    else provenance.delete(key);
  }
  return { ...book, shelves: { ...book.shelves, ...shelves } as Shelves, provenance };
}
