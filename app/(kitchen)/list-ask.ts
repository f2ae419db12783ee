/**
 * What a list is asked for: words, what it is narrowed to, and its order, all of it in the address, so that a link shows
 * somebody else the same. Opened without a question, a list is as this device last had it. Server only.
 */
import { cookies } from "next/headers";
import { redirect } from "next/navigation";
import type { Decimal } from "@/lib/measure";
import { LIST_COOKIE, type ListAddress, rememberedQuery } from "@/components/find/address";
import type { FilterView } from "@/components/find/Find";
import type { Order } from "@/components/table/Table";
import { type Asked, answering, askedFor } from "./find";

/** What a list can be ordered by: the first of several that differs decides; null comes last whichever way. */
export interface SortOf<Row> {
  readonly key: string;
  readonly label: string;
  readonly of: (row: Row) => SortValue | readonly SortValue[];
}
type SortValue = string | number | Decimal | null;

/** What a list can be narrowed by; a row may belong to several choices. */
export interface FilterOf<Row> extends FilterView {
  readonly of: (row: Row) => string | readonly string[];
}

export interface ListTerms<Row> {
  /** What a row is found by. */
  readonly texts: (row: Row) => readonly (string | undefined)[];
  readonly filters: readonly FilterOf<Row>[];
  readonly sorts: readonly SortOf<Row>[];
}

export interface Listing<Row> {
  readonly list: ListAddress;
  /** The rows that answer, in the order asked for. */
  readonly found: readonly Row[];
  /** For Table. */
  readonly order: Order;
  /** For RememberList. */
  readonly remember: { readonly page: string; readonly query: string; readonly forget: boolean };
  /** For Find. */
  readonly find: { readonly page: string; readonly asked: string; readonly found: number; readonly all: number; readonly list: ListAddress; readonly filters: readonly FilterView[]; readonly sorts: readonly { readonly key: string; readonly label: string }[] };
}

/** `rows` in the list's own order. Goes to what this device remembers of the list where the address asks nothing. */
export async function listing<Row>(page: string, asked: Asked, rows: readonly Row[], terms: ListTerms<Row>): Promise<Listing<Row>> {
  if (Object.keys(asked).length === 0) {
    const kept = readAddress(page, Object.fromEntries(new URLSearchParams((await cookies()).get(LIST_COOKIE)?.value ?? "")), terms);
    const query = rememberedQuery(kept);
    if (query !== "") redirect(`${page}?${query}`);
  }
  const list = readAddress(page, asked, terms);
  const narrowed = answering(rows, list.words, terms.texts).filter((row) => terms.filters.every(({ name, of }) => {
    const wanted = list.filters[name];
    if (wanted === undefined) return true;
    const is = of(row);
    return typeof is === "string" ? is === wanted : is.includes(wanted);
  }));
  const found = inOrder(narrowed, list, terms);
  const query = rememberedQuery(list);
  const sorts = terms.sorts.map(({ key, label }) => ({ key, label }));
  return {
    list, found, order: { list, sorts },
    // The form sends every field it has: when none of them narrows or orders, that was meant.
    remember: { page, query, forget: query === "" && (asked["show"] !== undefined || asked["sort"] !== undefined) },
    find: {
      page, asked: list.words, found: found.length, all: rows.length, list,
      filters: terms.filters.filter(({ choices }) => choices.length > 1).map(({ name, label, choices }) => ({ name, label, choices })),
      sorts,
    },
  };
}

/** What the address asks for, as far as the list knows it. */
function readAddress<Row>(page: string, asked: Asked, { filters, sorts }: ListTerms<Row>): ListAddress {
  const known = filters.flatMap(({ name, choices }) => {
    const value = asked[name];
    return typeof value === "string" && choices.some((choice) => choice.value === value) ? [[name, value] as const] : [];
  });
  const sort = asked["sort"];
  const by = typeof sort === "string" ? sorts.find(({ key }) => key === sort || `-${key}` === sort) : undefined;
  return { page, words: askedFor(asked["find"]), filters: Object.fromEntries(known), sorting: by === undefined ? null : { key: by.key, down: sort !== by.key } };
}

function inOrder<Row>(rows: readonly Row[], { sorting }: ListAddress, { sorts }: ListTerms<Row>): readonly Row[] {
  const by = sorting === null ? undefined : sorts.find(({ key }) => key === sorting.key);
  if (sorting === null || by === undefined) return rows;
  const keyed = rows.map((row) => {
    const value = by.of(row);
    return { row, values: isMany(value) ? value : [value] };
  });
  const way = sorting.down ? -1 : 1;
  // Equals stay in the list's own order.
  return keyed.sort((a, b) => {
    for (const [at, x] of a.values.entries()) {
      const y = b.values[at] ?? null;
      if (x === null || y === null) {
        if (x !== y) return x === null ? 1 : -1;
        continue;
      }
      const order = compare(x, y);
      if (order !== 0) return order * way;
    }
    return 0;
  }).map(({ row }) => row);
}

function isMany(value: SortValue | readonly SortValue[]): value is readonly SortValue[] {
  return Array.isArray(value);
}

const words = new Intl.Collator("en", { sensitivity: "base", numeric: true });

function compare(x: NonNullable<SortValue>, y: NonNullable<SortValue>): number {
  if (typeof x === "string" || typeof y === "string") return words.compare(String(x), String(y));
  if (typeof x === "number") return typeof y === "number" ? x - y : -y.cmp(x);
  return x.cmp(y);
}

/** Choices of a filter from what rows say, each once, by name; "" is not a choice. */
export function choicesOf(values: Iterable<string>): FilterView["choices"] {
  return [...new Set(values)].filter((value) => value !== "").sort(words.compare).map((value) => ({ value, label: value }));
}
