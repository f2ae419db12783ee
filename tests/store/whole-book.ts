/** A book and its costs to the last digit, for saying that two of them are the same however they came about. */
import { type Book, FACT_KINDS } from "@/lib/book";
import { type Cascade, NODE_KINDS, compile, costOf } from "@/lib/cascade";
import type { LiveBook } from "@/lib/store";

/** Everything in a book, without regard to the order in which it came. */
export function contents(book: Book): object {
  return {
    on: book.on,
    provenance: new Map([...book.provenance].sort()),
    shelves: FACT_KINDS.map((shelf) => [shelf, new Map([...book.shelves[shelf] as ReadonlyMap<string, unknown>].sort(([a], [b]) => (a < b ? -1 : 1)))]),
  };
}

/** Every cost of a cascade to the last digit, with what is missing from it. */
export function costs(cascade: Cascade): ReadonlyMap<string, string> {
  const told = new Map<string, string>();
  for (const shelf of NODE_KINDS) for (const id of [...cascade.book.shelves[shelf].keys()].sort()) {
    const cost = costOf(cascade, { kind: shelf, id });
    const missing = cost?.missing.map(({ what, of, name }) => `${what} of ${of.kind} ${of.id} ${name}`).sort().join(", ");
    told.set(`${shelf} ${id}`, cost ? `${cost.amount.toFixed()} a ${cost.per}; missing ${missing}` : "no cost");
  }
  return told;
}

export function compiled(book: Book): Cascade {
  const made = compile(book);
  if (!made.ok) throw new Error(made.problems.map(({ sentence }) => sentence).join(" "));
  return made.value;
}

/** Book and costs as one text: equal for two books exactly when they say the same. */
export function bookText({ book, cascade, changeNo, ahead }: LiveBook): string {
  return JSON.stringify([changeNo, contents(book), costs(cascade), ahead], inOneOrder);
}

/** For JSON: maps as lists of entries, and fields by name, whichever was set first. */
function inOneOrder(_: string, value: unknown): unknown {
  if (value instanceof Map) return [...value as Map<unknown, unknown>];
  if (typeof value !== "object" || value === null || Array.isArray(value)) return value;
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)));
}
