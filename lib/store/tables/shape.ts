/**
 * How a fact of one kind lies in its tables: which tables, its rows, and the fact made of them again. Facts refer to
 * each other by key ("item:…") in the tables and by kind and id, or by id alone, in the book.
 */
import { type FactKind, type FactOf, factKey } from "@/lib/book";
import type { RowOf, Table } from "./table";

export type Tables = Readonly<Record<string, Table>>;
export type Rows<T extends Tables> = { readonly [N in keyof T]: readonly RowOf<T[N]>[] };

export interface Shape<K extends FactKind, T extends Tables = Tables> {
  readonly kind: K;
  /** By the name that toRows and toFact give them. */
  readonly tables: T;
  readonly toRows: (fact: FactOf[K], id: string) => Rows<T>;
  readonly toFact: (id: string, rows: Rows<T>) => FactOf[K];
}

export function shape<K extends FactKind, const T extends Tables>(
  kind: K,
  tables: T,
  toRows: (fact: FactOf[K], id: string) => Rows<T>,
  toFact: (id: string, rows: Rows<T>) => FactOf[K],
): Shape<K, T> {
  return { kind, tables, toRows, toFact };
}

/** The one row of a revision in a table that has one for each. */
export function only<R>(rows: readonly R[]): R {
  const row = rows[0];
  if (row === undefined || rows.length > 1) throw new Error(`expected one row of details for a revision, got ${rows.length}`);
  return row;
}

/** The id in a key: "recipe:veal-stock" → "veal-stock". */
export function idIn(key: string): string {
  return key.slice(key.indexOf(":") + 1);
}

/** What a key refers to, one of the kinds that may stand there. Throws for another: the database was written by something else. */
export function refIn<K extends FactKind>(key: string, kinds: readonly K[]): { kind: K; id: string } {
  const colon = key.indexOf(":");
  const kind = kinds.find((candidate) => candidate.length === colon && key.startsWith(candidate));
  if (!kind) throw new Error(`expected a reference to ${kinds.join(" or ")}, got "${key}"`);
  return { kind, id: key.slice(colon + 1) };
}

export function keyOf(ref: { readonly kind: FactKind; readonly id: string }): string {
  return factKey(ref.kind, ref.id);
}

export function maybeKey(kind: FactKind, id: string | null): string | null {
  return id === null ? null : factKey(kind, id);
}

/** One of the words that may stand in a column. Throws for another. */
export function wordIn<W extends string>(word: string, words: readonly W[]): W {
  const found = words.find((candidate) => candidate === word);
  if (found === undefined) throw new Error(`expected ${words.join(", ")} in the database, got "${word}"`);
  return found;
}
