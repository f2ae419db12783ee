/**
 * Things of the book by the names that people type into a try-out: items, dealers, sections, portions, dishes. A name is
 * found whatever its case; of two that share one the id is told as well. Lists are made once for each state of a shelf.
 */
import type { Book } from "../book";

export type NamedKind = "item" | "dealer" | "section" | "spec" | "dish";

export interface NamedThing {
  readonly kind: NamedKind;
  /** Of a section: its name. */
  readonly id: string;
  readonly label: string;
  readonly folded: string;
}

const made = new WeakMap<object, Map<NamedKind, readonly NamedThing[]>>();

function listOf(book: Book, kind: NamedKind): readonly NamedThing[] {
  const shelf: ReadonlyMap<string, { readonly id: string; readonly name: string }> = book.shelves[kind === "section" ? "item" : kind];
  const lists = made.get(shelf) ?? new Map<NamedKind, readonly NamedThing[]>();
  made.set(shelf, lists);
  let list = lists.get(kind);
  if (list !== undefined) return list;
  const named = kind === "section"
    ? [...new Set([...book.shelves.item.values()].map(({ section }) => section))].filter((section) => section !== "").map((section) => ({ id: section, name: `Everything in ${section}` }))
    : kind === "dealer" ? [...shelf.values()].map(({ id, name }) => ({ id, name: `Everything from ${name}` })) : [...shelf.values()];
  const times = new Map<string, number>();
  for (const { name } of named) times.set(fold(name), (times.get(fold(name)) ?? 0) + 1);
  list = named.map(({ id, name }): NamedThing => {
    const label = times.get(fold(name)) === 1 ? name : `${name} (${id})`;
    return { kind, id, label, folded: fold(label) };
  }).sort((a, b) => (a.folded < b.folded ? -1 : a.folded > b.folded ? 1 : 0));
  lists.set(kind, list);
  return list;
}

/** What a typed name names; null where nothing, or no one thing, has it. */
export function findNamed(book: Book, kinds: readonly NamedKind[], text: string): NamedThing | null {
  const folded = fold(text);
  if (folded === "") return null;
  for (const kind of kinds) {
    const exactly = listOf(book, kind).find((one) => one.folded === folded);
    if (exactly !== undefined) return exactly;
  }
  // A dealer or a section by its bare name, where no item has it.
  for (const kind of kinds) {
    if (kind !== "dealer" && kind !== "section") continue;
    const bare = listOf(book, kind).find((one) => one.folded === `everything ${kind === "dealer" ? "from" : "in"} ${folded}`);
    if (bare !== undefined) return bare;
  }
  const near = nearNamed(book, kinds, text, 2);
  return near.length === 1 ? near[0] ?? null : null;
}

/** Those whose label holds every word of the text, those that begin with it first; at most so many. */
export function nearNamed(book: Book, kinds: readonly NamedKind[], text: string, most: number): readonly NamedThing[] {
  const folded = fold(text);
  const words = folded.split(" ").filter(Boolean).slice(0, 8);
  if (words.length === 0) return [];
  const begins: NamedThing[] = [];
  const holds: NamedThing[] = [];
  for (const kind of kinds) {
    for (const one of listOf(book, kind)) {
      if (!words.every((word) => one.folded.includes(word))) continue;
      (one.folded.startsWith(folded) ? begins : holds).push(one);
      if (begins.length >= most) return begins;
    }
  }
  return [...begins, ...holds].slice(0, most);
}

/** The label of a thing; null where the book has none such. */
export function labelNamed(book: Book, kind: NamedKind, id: string): string | null {
  return listOf(book, kind).find((one) => one.id === id)?.label ?? null;
}

function fold(text: string): string {
  return text.normalize("NFKD").replace(/\p{M}/gu, "").trim().replace(/\s+/g, " ").toLowerCase();
}
