/**
 * Finding anything in the book by a few words: dishes, recipes, cuts, portion specs, items and yield tests, by their names
 * and by what is said beside them (section, specification, dealer, the dealer's order code, what a cut is made from, who
 * worked the test). Every word asked for must begin a word of the thing; where nothing answers so, it may stand within
 * one. An exact name comes first, then names that begin with what was asked, then those that hold every word, then what
 * is found by what stands beside the name; among equals by kind and by name.
 *
 * What a shelf says is folded once and remembered with it; a fact keeps its words from one state of the book to the next.
 */
import type { Book, FactOf, Shelf, Shelves } from "./book";

export const FOUND_KINDS = ["dish", "recipe", "cut", "spec", "item", "test"] as const;
export type FoundKind = (typeof FOUND_KINDS)[number];

export interface Found {
  readonly kind: FoundKind;
  readonly id: string;
  readonly name: string;
  /** What tells it from its namesakes: its section, its dealers, what it is made from; may be "". */
  readonly note: string;
  /** For a test: its day. */
  readonly on: string | null;
}

export interface Answers {
  /** The best, at most as many as were asked for. */
  readonly found: readonly Found[];
  /** How many there are. */
  readonly of: number;
}

/** A thing with its words, each after a space: a word begins with what follows one. */
interface Entry extends Found {
  readonly folded: string;
  /** " strip loin cleaned" */
  readonly named: string;
  /** The same with what stands beside the name. */
  readonly said: string;
}

/** The best `most` things of these kinds that answer to the words. Nothing answers to no words. */
export function findAnything(book: Book, asked: string, { kinds = FOUND_KINDS, most }: { readonly kinds?: readonly FoundKind[]; readonly most: number }): Answers {
  const folded = foldWords(asked);
  const words = [...new Set(folded.split(" ").filter(Boolean))].sort((a, b) => b.length - a.length);
  if (words.length === 0) return { found: [], of: 0 };
  const shelves = kinds.map((kind) => entriesOf(book, kind));
  const beginning = ranked(shelves, folded, words.map((word) => ` ${word}`));
  const all = beginning.length > 0 ? beginning : ranked(shelves, folded, words);
  all.sort((a, b) => a.rank - b.rank || a.place - b.place || (a.entry.folded < b.entry.folded ? -1 : a.entry.folded > b.entry.folded ? 1 : 0) || newestFirst(a.entry, b.entry));
  return { found: all.slice(0, most).map(({ entry: { kind, id, name, note, on } }) => ({ kind, id, name, note, on })), of: all.length };
}

interface Ranked {
  readonly entry: Entry;
  /** 0 the very name, 1 a name that begins so, 2 every word in the name, 3 some only beside it. */
  readonly rank: number;
  /** Of its kind in the order of kinds. */
  readonly place: number;
}

function ranked(shelves: readonly (readonly Entry[])[], asked: string, pieces: readonly string[]): Ranked[] {
  const found: Ranked[] = [];
  shelves.forEach((entries, place) => {
    for (const entry of entries) {
      if (!pieces.every((piece) => entry.said.includes(piece))) continue;
      const rank = entry.folded === asked ? 0 : entry.folded.startsWith(asked) ? 1 : pieces.every((piece) => entry.named.includes(piece)) ? 2 : 3;
      found.push({ entry, rank, place });
    }
  });
  return found;
}

/** Of two tests of the same thing the newer one first. */
function newestFirst(a: Found, b: Found): number {
  return a.on === b.on ? 0 : (a.on ?? "") < (b.on ?? "") ? 1 : -1;
}

/** Words without case, accents and signs: "Purée, 10-oz" is "puree 10 oz", "week’s" is "weeks". */
export function foldWords(text: string): string {
  return text.normalize("NFKD").replace(/\p{M}|['’]/gu, "").toLowerCase().replace(/[^\p{L}\p{N}]+/gu, " ").trim();
}

/** A fact's own words, folded once for as long as the fact stands as it is: its name, and what it says beside it. */
const foldedOnce = foldingOnce();
const besideOnce = foldingOnce();

function foldingOnce(): (fact: object, text: () => string) => string {
  const known = new WeakMap<object, string>();
  return (fact, text) => {
    let folded = known.get(fact);
    if (folded === undefined) {
      folded = foldWords(text());
      known.set(fact, folded);
    }
    return folded;
  };
}

/** A fact's name as `foldWords` leaves it. */
export function foldedName(fact: { readonly name: string }): string {
  return foldedOnce(fact, () => fact.name);
}

function entry(kind: FoundKind, fact: { readonly id: string }, name: string, folded: string, beside: string, note: string, on: string | null = null): Entry {
  const named = ` ${folded}`;
  return { kind, id: fact.id, name, note, on, folded, named, said: beside === "" ? named : `${named} ${beside}` };
}

function entriesOf({ shelves }: Book, kind: FoundKind): readonly Entry[] {
  switch (kind) {
    case "dish": return dishes(shelves.dish);
    case "recipe": return recipes(shelves.recipe);
    case "cut": return cuts(shelves.cut, shelves.item);
    case "spec": return specs(shelves.spec, shelves.cut);
    case "item": return items(shelves.item, shelves.quote, shelves.dealer);
    case "test": return tests(shelves.test, shelves.item, shelves.cut, shelves.dealer);
  }
}

const ofSection = <K extends "dish" | "recipe">(kind: K) => (shelf: Shelf<FactOf[K]>): readonly Entry[] =>
  [...shelf.values()].map((fact) => entry(kind, fact, fact.name, foldedOnce(fact, () => fact.name), besideOnce(fact, () => fact.section), fact.section));
const dishes = remembered(ofSection("dish"));
const recipes = remembered(ofSection("recipe"));

const cuts = remembered((shelf: Shelves["cut"], itemShelf: Shelves["item"]) => [...shelf.values()].map((cut) => {
  const from = cut.of.kind === "item" ? itemShelf.get(cut.of.id) : shelf.get(cut.of.id);
  return entry("cut", cut, cut.name, foldedOnce(cut, () => cut.name), from === undefined ? "" : foldedOnce(from, () => from.name), from === undefined ? "" : `from ${from.name}`);
}));

const specs = remembered((shelf: Shelves["spec"], cutShelf: Shelves["cut"]) => [...shelf.values()].map((spec) => {
  const cut = cutShelf.get(spec.cutId);
  return entry("spec", spec, spec.name, foldedOnce(spec, () => spec.name), cut === undefined ? "" : foldedOnce(cut, () => cut.name), cut === undefined ? "" : `of ${cut.name}`);
}));

const items = remembered((shelf: Shelves["item"], quoteShelf: Shelves["quote"], dealerShelf: Shelves["dealer"]) => {
  const beside = besideItems(quoteShelf, dealerShelf);
  return [...shelf.values()].map((item) => {
    const { words, dealers } = beside.get(item.id) ?? { words: "", dealers: "" };
    const own = besideOnce(item, () => `${item.section} ${item.specification}`);
    return entry("item", item, item.name, foldedOnce(item, () => item.name), `${own} ${words}`.trim(), [item.section, dealers].filter(Boolean).join(", "));
  });
});

/** By item: the words of its dealers and their order codes, and the dealers' names to show. */
const besideItems = remembered((quoteShelf: Shelves["quote"], dealerShelf: Shelves["dealer"]): ReadonlyMap<string, { readonly words: string; readonly dealers: string }> => {
  const by = new Map<string, { words: string; dealers: string }>();
  for (const quote of quoteShelf.values()) {
    const dealer = dealerShelf.get(quote.dealerId);
    const words = `${dealer === undefined ? "" : foldedOnce(dealer, () => dealer.name)} ${quote.code === "" ? "" : foldedOnce(quote, () => quote.code)}`.trim();
    const known = by.get(quote.itemId);
    if (known === undefined) by.set(quote.itemId, { words, dealers: dealer?.name ?? "" });
    else {
      known.words += ` ${words}`;
      if (dealer !== undefined && !known.dealers.split(", ").includes(dealer.name)) known.dealers += `, ${dealer.name}`;
    }
  }
  return by;
});

const tests = remembered((shelf: Shelves["test"], itemShelf: Shelves["item"], cutShelf: Shelves["cut"], dealerShelf: Shelves["dealer"]) => [...shelf.values()].map((test) => {
  const of = test.of.kind === "item" ? itemShelf.get(test.of.id) : cutShelf.get(test.of.id);
  const name = of?.name ?? test.of.id;
  const dealer = test.dealerId === null ? undefined : dealerShelf.get(test.dealerId);
  const beside = foldWords(`${test.kind} test ${test.on} ${test.cutter} ${dealer?.name ?? ""}`);
  return entry("test", test, name, of === undefined ? foldWords(name) : foldedOnce(of, () => of.name), beside, test.cutter === "" ? "" : `cut by ${test.cutter}`, test.on);
}));

/** What is made of shelves, remembered for as long as all of them stand as they are: only the newest, kept with the first. */
function remembered<A extends object, Rest extends readonly object[], R>(make: (first: A, ...rest: Rest) => R): (first: A, ...rest: Rest) => R {
  const made = new WeakMap<A, { readonly rest: Rest; readonly result: R }>();
  return (first, ...rest) => {
    const known = made.get(first);
    if (known?.rest.every((shelf, at) => shelf === rest[at]) === true) return known.result;
    const result = make(first, ...rest);
    made.set(first, { rest, result });
    return result;
  };
}
