/**
 * A price list opened: its file read by its layout, every line judged against the newest book, and what recording it would
 * do. Pages and the two routes ask here. The last few are kept in memory, so that turning a page of a long list does not
 * read it anew; a newer book, another day or another answer makes it anew. Server only.
 */
import { type Book, type Change, factKey, kitchenOf, withChanges } from "@/lib/book";
import { type JudgedList, type Layout, type ListChoices, type ReadLines, guessLayout, judgeList, layoutAgain, layoutLacks, linesOfCatalogue, readChoices, readLayout, readLines } from "@/lib/buying";
import { DELIMITERS, ENCODINGS, type FileRead, readFileIn } from "@/lib/exchange";
import { type Checked, type Problem, bad, good } from "@/lib/measure";
import type { DatedChange, LiveBook, PriceList, Store } from "@/lib/store";
import type { RippleView } from "@/components/change/state";
import { rippleView, whenWords } from "../change-flow/ripple-view";

export interface OpenedList {
  readonly file: Table | null;
  /** null: an electronic catalogue, which needs none. */
  readonly layout: Layout | null;
  /** What the layout lacks, in a sentence; then there are no lines. */
  readonly lacks: string | null;
  readonly choices: ListChoices;
  readonly read: ReadLines;
  /** The day it counts from. */
  readonly from: string;
  readonly judged: JudgedList;
  readonly entries: readonly DatedChange[];
  /** By fact, the revision that stood before each line; and the newest of any price that the book has. */
  readonly basedOn: Readonly<Record<string, number | null>>;
  readonly newest: number;
}

type Table = Extract<FileRead, { kind: "table" }>;
/** What a price list may be. */
type ListFile = Exclude<FileRead, { kind: "ubl-invoice" }>;

/** What a list is known by while it is open; of one that is just being read nothing is kept yet. */
type Known = Pick<PriceList, "id" | "dealerId" | "fileName" | "version" | "layout" | "choices">;

/** Called between the steps; where it throws, nothing more is done. */
export type Watch = (doing: string) => Promise<void>;
const UNWATCHED: Watch = () => Promise.resolve();

/** Reads a dealer's file, whatever it is; an invoice is none of ours. */
export function readListFile(bytes: Uint8Array, fileName: string, layout: Pick<Layout, "delimiter" | "encoding"> | null = null): Checked<ListFile> {
  const read = readFileIn(bytes, fileName, { delimiter: DELIMITERS.find((one) => one === layout?.delimiter), encoding: ENCODINGS.find((one) => one === layout?.encoding) });
  if (!read.ok) return read;
  if (read.value.kind === "ubl-invoice") return bad("file", "an-invoice", "This is an invoice or a credit note, not a price list: open it under Deliveries.");
  return good(read.value);
}

/** How a file is laid out: as the dealer's lists are remembered to be, where this one is alike; else as it looks. */
export function layoutFor(file: FileRead, remembered: unknown, kitchen: ReturnType<typeof kitchenOf>): { readonly layout: Layout | null; readonly known: boolean } {
  if (file.kind !== "table") return { layout: null, known: true };
  const kept = readLayout(remembered);
  const again = kept === null ? null : layoutAgain(kept, file.tables);
  return again === null ? { layout: guessLayout(file.tables, kitchen), known: false } : { layout: { ...again, delimiter: null, encoding: null }, known: true };
}

/** Opens a list from its file, or from what is remembered of it. Problems: the file cannot be read, or is gone. */
export async function openList(store: Store, live: LiveBook, list: Known, watch: Watch = UNWATCHED, given?: ListFile): Promise<Checked<OpenedList>> {
  const key = `${live.kitchenId} ${list.id} ${list.version} ${live.changeNo} ${live.today}`;
  const known = opened.get(key);
  if (known !== undefined) return good(known);
  const layout = readLayout(list.layout);
  if (given !== undefined) files.set(fileKey(live.kitchenId, list, layout), given);
  const file = await fileOf(store, live.kitchenId, list, layout, watch);
  if (!file.ok) return file;
  await watch("Reading the lines");
  const choices = readChoices(list.choices);
  const kitchen = kitchenOf(live.book);
  const lacks = layout === null ? null : layoutLacks(layout);
  const read = file.value.kind === "ubl-catalogue" ? linesOfCatalogue(file.value.catalogue) : layout === null || lacks !== null ? NO_LINES : readLines(file.value.tables, layout, kitchen);
  await watch("Comparing them with the book");
  const from = choices.from ?? read.from ?? live.today;
  const book = bookOn(live, from);
  const judged = judgeList({ listId: list.id, dealerId: list.dealerId, lines: read.lines, decimal: layout?.decimal ?? ".", choices, book, from });
  const result: OpenedList = {
    file: file.value.kind === "table" ? file.value : null, layout, lacks, choices, read, from, judged,
    entries: judged.changes.map((change) => ({ change, validFrom: from })),
    basedOn: Object.fromEntries(judged.changes.map(({ kind, id }) => [factKey(kind, id), book.provenance.get(factKey(kind, id))?.revision ?? null])),
    newest: newestPrice(book),
  };
  opened.set(key, result);
  return good(result);
}

const NO_LINES: ReadLines = { lines: [], passedOver: 0, from: null };

function fileKey(kitchenId: string, { id }: Known, layout: Layout | null): string {
  return `${kitchenId} ${id} ${layout?.delimiter ?? ""} ${layout?.encoding ?? ""}`;
}

async function fileOf(store: Store, kitchenId: string, list: Known, layout: Layout | null, watch: Watch): Promise<Checked<ListFile>> {
  const key = fileKey(kitchenId, list, layout);
  const known = files.get(key);
  if (known !== undefined) return good(known);
  await watch("Reading the file");
  const bytes = await store.priceListFile(kitchenId, list.id);
  if (bytes === null) return bad("", "gone", "The file of this list is not kept any more.");
  const read = readListFile(bytes, list.fileName, layout);
  if (read.ok) files.set(key, read.value);
  return read;
}

/** The book with the prices that are recorded ahead and apply by then. */
function bookOn({ book, ahead, today }: LiveBook, from: string): Book {
  const by = from <= today ? [] : ahead.filter(({ kind, validFrom }) => kind === "quote" && validFrom <= from);
  return by.length === 0 ? book : withChanges(book, by.map(({ name: _, validFrom: __, revision: ___, ...change }) => change as Change));
}

function newestPrice(book: Book): number {
  let newest = 0;
  for (const id of book.shelves.quote.keys()) newest = Math.max(newest, book.provenance.get(factKey("quote", id))?.revision ?? 0);
  return newest;
}

export type ListRipple = { readonly ok: true; readonly view: RippleView | null } | { readonly ok: false; readonly problems: readonly Problem[] };

/** What recording the list would do; `view` null where nothing would change. */
export async function rippleOf(store: Store, live: LiveBook, list: Known, { entries }: OpenedList): Promise<ListRipple> {
  if (entries.length === 0) return { ok: true, view: null };
  const key = `${live.kitchenId} ${list.id} ${list.version} ${live.changeNo} ${live.today}`;
  const known = ripples.get(key);
  if (known !== undefined) return known;
  const kitchen = kitchenOf(live.book);
  const tried = await store.tryEntries(live.kitchenId, entries);
  const ripple: ListRipple = tried.ok ? { ok: true, view: rippleView(tried.value.report, kitchen, whenWords(entries, live, kitchen, "tried")) } : { ok: false, problems: tried.problems };
  ripples.set(key, ripple);
  return ripple;
}

/** The last few of something, in memory for a while: whoever looks at a list looks at it again in a moment. */
class LastFew<V> {
  readonly #kept = new Map<string, { readonly value: V; readonly timer: ReturnType<typeof setTimeout> }>();
  readonly #most: number;

  constructor(most: number) { this.#most = most; }

  get(key: string): V | undefined {
    const found = this.#kept.get(key);
    if (found === undefined) return undefined;
    this.set(key, found.value);
    return found.value;
  }

  set(key: string, value: V): void {
    this.#forget(key);
    const timer = setTimeout(() => this.#forget(key), KEPT_FOR);
    timer.unref();
    this.#kept.set(key, { value, timer });
    for (const oldest of this.#kept.keys()) {
      if (this.#kept.size <= this.#most) break;
      this.#forget(oldest);
    }
  }

  #forget(key: string): void {
    clearTimeout(this.#kept.get(key)?.timer);
    this.#kept.delete(key);
  }
}

/** Ten minutes, in milliseconds. */
const KEPT_FOR = 600_000;

interface Memory {
  readonly files: LastFew<ListFile>;
  readonly opened: LastFew<OpenedList>;
  readonly ripples: LastFew<ListRipple>;
}

// Next bundles this module for pages and for routes, and the process is one.
const held = globalThis as { trimledgerLists?: Memory };
const { files, opened, ripples } = held.trimledgerLists ??= { files: new LastFew(3), opened: new LastFew(3), ripples: new LastFew(6) };
