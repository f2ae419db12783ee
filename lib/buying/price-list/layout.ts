/**
 * Where things stand in a dealer's list: which sheet, which row heads it, which column holds what, which mark is decimal.
 * Guessed from the headings and the cells, set right by a person once, and remembered for the dealer: by the headings
 * themselves, so that a column more next month moves nothing.
 */
import { z } from "zod";
import { foldWords, gtin14 } from "@/lib/book";
import { type Habits, UNITS, type Unit, exact, printNumber, toDecimal } from "@/lib/measure";
import type { ListCell, ListTable, PricedPer } from "./line";
import { type DayOrder, type DecimalMark, currencyOf, decimalMarkIn, readDay, readPrice } from "./read-cells";
import { LIST_FIELDS, type ListField, fieldOfHeading, pricedPer } from "./words";

/** A column, counted from 0, and what stands at its head ("" without a head). */
export interface ListColumn {
  readonly at: number;
  readonly heading: string;
}

export interface Layout {
  /** The sheet's name; "" for a file that has only one, without a name. */
  readonly sheet: string;
  /** The row of the headings, counted from 1; null: the lines begin at once. */
  readonly headings: number | null;
  readonly columns: Readonly<Record<ListField, ListColumn | null>>;
  readonly decimal: DecimalMark;
  /** Which comes first where "3/4/2026" can be either. */
  readonly days: DayOrder;
  /** What a price is for where no column and no price says it; null: what the price on file is for. */
  readonly per: PricedPer | null;
  /** The currency of the whole list, ISO 4217; null: as on file, else the kitchen's. */
  readonly currency: string | null;
  /** How a text file is taken apart; null: as it looks. */
  readonly delimiter: string | null;
  readonly encoding: string | null;
}

/** Headings are looked for in so many rows: above them stand the dealer's address and greetings. */
const HEAD_ROWS = 40;
/** So many rows tell what a column holds. */
const SAMPLE = 300;
/** More columns than a list of prices has. */
const MOST_COLUMNS = 200;

const column = z.object({ at: z.number().int().min(0).max(MOST_COLUMNS - 1), heading: z.string().max(200) }).nullable();
const schema = z.object({
  sheet: z.string().max(200), headings: z.number().int().min(1).max(50_000).nullable(),
  columns: z.object(Object.fromEntries(LIST_FIELDS.map((field) => [field, column])) as Record<ListField, typeof column>),
  decimal: z.enum([".", ","]), days: z.enum(["day first", "month first"]),
  per: z.string().refine((text): text is PricedPer => text === "pack" || Object.hasOwn(UNITS, text)).nullable(),
  currency: z.string().regex(/^[A-Z]{3}$/).nullable(), delimiter: z.string().max(2).nullable(), encoding: z.string().max(30).nullable(),
});

/** A layout that was kept; null where it is none that is known any more. */
export function readLayout(kept: unknown): Layout | null {
  const read = schema.safeParse(kept);
  return read.success ? { ...read.data, per: read.data.per as PricedPer | null } : null;
}

const NO_COLUMNS: Layout["columns"] = { code: null, gtin: null, name: null, pack: null, price: null, per: null, currency: null, from: null };

/** The sheet that a layout speaks of; the first where there is none of that name. */
export function tableOf(tables: readonly ListTable[], layout: Pick<Layout, "sheet">): ListTable {
  return tables.find(({ name }) => name === layout.sheet) ?? tables[0] ?? { name: "", rows: [] };
}

/** The layout that a list most likely has, in the sheet that looks most like a list. */
export function guessLayout(tables: readonly ListTable[], habits: Habits): Layout {
  let best: { readonly layout: Layout; readonly worth: number } | null = null;
  for (const table of tables) {
    const layout = guessIn(table, habits);
    const known = LIST_FIELDS.filter((field) => layout.columns[field] !== null).length;
    const worth = (layout.columns.price === null ? 0 : 100) + known * 10 + Math.min(table.rows.length, 1000) / 1000;
    if (best === null || worth > best.worth) best = { layout, worth };
  }
  return best?.layout ?? guessIn({ name: "", rows: [] }, habits);
}

/** The layout of one sheet. */
export function guessIn(table: ListTable, habits: Habits): Layout {
  const headings = headingRow(table);
  return layoutUnder(table, headings, headings === null ? NO_COLUMNS : byHeadings(table.rows[headings - 1] ?? []), habits);
}

/** The rest of a layout where its headings and some of its columns are known: columns by their cells, marks, days, what prices are for. */
function layoutUnder(table: ListTable, headings: number | null, known: Layout["columns"], habits: Habits): Layout {
  const lines = table.rows.slice(headings ?? 0, (headings ?? 0) + SAMPLE);
  const head = headings === null ? [] : table.rows[headings - 1] ?? [];
  const columns = byCells(lines, head, known, habits);
  const at = columns.price?.at;
  const decimal = (at === undefined ? null : decimalMarkIn(lines.flatMap((row) => row[at] ?? []))) ?? (printNumber(toDecimal(exact("1.5")), habits).includes(",") ? "," : ".");
  return {
    sheet: table.name, headings, columns, decimal, days: dayOrder(lines, columns, habits),
    per: columns.price === null ? null : perOfHeading(columns.price.heading), currency: columns.price === null ? null : currencyOfHeading(columns.price.heading, habits), delimiter: null, encoding: null,
  };
}

/** The first of the rows in which most columns are named; null where no row names two of them. */
function headingRow(table: ListTable): number | null {
  let best: { readonly row: number; readonly worth: number } | null = null;
  for (const [at, row] of table.rows.slice(0, HEAD_ROWS).entries()) {
    const found = new Map<ListField, boolean>();
    for (const { text, number } of row.slice(0, MOST_COLUMNS)) {
      const named = number === null ? fieldOfHeading(text) : null;
      if (named !== null) found.set(named.field, found.get(named.field) === true || named.sure);
    }
    const worth = [...found.values()].reduce((sum, sure) => sum + (sure ? 2 : 1), 0);
    if (found.size >= 2 && worth > (best?.worth ?? 2)) best = { row: at + 1, worth };
  }
  return best?.row ?? null;
}

/** Every field once: where several headings name it the surest, and of these the first; of two prices the one that says net or yours. */
function byHeadings(row: ListTable["rows"][number]): Layout["columns"] {
  const found: Partial<Record<ListField, ListColumn & { readonly worth: number }>> = {};
  for (const [at, { text }] of row.slice(0, MOST_COLUMNS).entries()) {
    const named = fieldOfHeading(text);
    if (named === null) continue;
    const preferred = named.field !== "price" ? 0 : PREFERRED.test(text) ? 1 : BESIDE_IT.test(text) ? -3 : 0;
    const worth = (named.sure ? 2 : 0) + preferred;
    const before = found[named.field];
    if (before === undefined || worth > before.worth) found[named.field] = { at, heading: kept(text), worth };
  }
  // "Item" beside a description is a code; alone, with words in it, it is the name. "Article" likewise.
  if (found.code !== undefined && found.name === undefined && /^(?:item|article|artikel|articulo)$/.test(foldWords(found.code.heading))) {
    found.name = found.code;
    delete found.code;
  } else if (found.name !== undefined && found.code === undefined) {
    const name = found.name;
    const other = row.slice(0, MOST_COLUMNS).findIndex(({ text }, at) => at !== name.at && fieldOfHeading(text)?.field === "name");
    if (other >= 0 && other < name.at) found.code = { at: other, heading: kept(row[other]?.text ?? ""), worth: 0 };
  }
  return Object.fromEntries(LIST_FIELDS.map((field) => {
    const one = found[field];
    return [field, one === undefined ? null : { at: one.at, heading: one.heading }];
  })) as Layout["columns"];
}

/** Of several prices, the one that is meant for us, and those that are not what is asked now. */
const PREFERRED = /\b(?:net|netto|neto|your|new|ihr|neu|neuer|nuevo|nouveau|nuovo|nieuwe|ek|ht)\b/i;
const BESIDE_IT = /\b(?:old|previous|last|was|alt|alter|bisher|vorher|ancien|anterior|vecchio|precedente|oude|vorige|retail|rrp|uvp|vk|gross|brutto|ttc|deposit|pfand)\b/i;

function kept(heading: string): string {
  return heading.replace(/\s+/g, " ").trim().slice(0, 200);
}

const PACK_LIKE = /\d\s*(?:[x×/]\s*#?\d|(?:lb|lbs|kg|g|oz|l|lt|ltr|ml|cl|ct|gal|qt|pt|ea|dz|doz|pc|stk|st|pz|#)\b|#)/i;

/** What columns hold whose heads do not say: a column is taken for what most of its cells are. */
function byCells(lines: ListTable["rows"], head: ListTable["rows"][number], known: Layout["columns"], habits: Habits): Layout["columns"] {
  const columns: Record<ListField, ListColumn | null> = { ...known };
  if (columns.price !== null && columns.name !== null && (columns.code !== null || columns.gtin !== null)) return columns;
  const width = Math.min(lines.reduce((most, row) => Math.max(most, row.length), 0), MOST_COLUMNS);
  const taken = new Set(LIST_FIELDS.flatMap((field) => columns[field]?.at ?? []));
  const looks: { readonly at: number; readonly share: Readonly<Record<string, number>> }[] = [];
  for (let at = 0; at < width; at += 1) {
    if (taken.has(at)) continue;
    const cells = lines.flatMap((row) => row[at] ?? []).filter(({ text }) => text.trim() !== "");
    if (cells.length === 0) continue;
    const share = (is: (text: string, cell: ListCell) => boolean): number => cells.filter((cell) => is(cell.text.trim(), cell)).length / cells.length;
    const different = new Set(cells.map(({ text }) => text.trim())).size / cells.length;
    looks.push({ at, share: {
      gtin: share((text) => gtin14(text) !== null),
      price: share((text, cell) => /\d[.,]\d/.test(text) && readPrice(cell, ".", habits).ok),
      pack: share((text) => PACK_LIKE.test(text) && text.length < 40),
      per: share((text) => text.length <= 6 && !/\d/.test(text) && pricedPer(text) !== null),
      currency: share((text) => text.length === 3 && currencyOf(text, habits) !== null),
      from: share((text, cell) => cell.number === null && readDay(cell, "day first") !== null),
      name: share((text) => /\p{L}{3}.*(?:\s|\p{L}{3})/u.test(text)) * (0.4 + 0.6 * different),
      code: share((text) => /^[A-Z0-9][A-Z0-9./-]{1,19}$/i.test(text) && /\d/.test(text)) * different * (1 - share((text) => gtin14(text) !== null)) * (1 - share((text) => /^\d+[.,]\d{2}$/.test(text))),
    } });
  }
  for (const field of ["gtin", "currency", "per", "from", "pack", "price", "name", "code"] as const) {
    if (columns[field] !== null) continue;
    const best = looks.filter(({ at }) => !taken.has(at)).reduce<(typeof looks)[number] | null>((most, one) => ((one.share[field] ?? 0) > (most?.share[field] ?? 0.6) ? one : most), null);
    if (best === null) continue;
    columns[field] = { at: best.at, heading: kept(head[best.at]?.text ?? "") };
    taken.add(best.at);
  }
  return columns;
}

/** Which comes first, as far as the list itself tells: a figure over 12 can only be the day. */
function dayOrder(lines: ListTable["rows"], columns: Layout["columns"], habits: Pick<Habits, "locale">): DayOrder {
  const at = columns.from?.at;
  if (at !== undefined) {
    for (const row of lines) {
      const match = /(?<!\d)(\d{1,2})[/-](\d{1,2})[/-]\d{2,4}/.exec(row[at]?.text ?? "");
      if (match === null) continue;
      if (Number(match[1]) > 12) return "day first";
      if (Number(match[2]) > 12) return "month first";
    }
  }
  return /^en-US\b|^en$/i.test(habits.locale) ? "month first" : "day first";
}

/** "Price per lb", "Preis/kg", "Case price": what the heading says that prices are for. */
function perOfHeading(heading: string): PricedPer | null {
  const behind = /(?:\/|\bper\b|\bje\b|\bpro\b|\bpar\b|\bpor\b|\bal\b)\s*(?:1\s*)?(.{1,20})$/i.exec(heading)?.[1];
  if (behind !== undefined) return pricedPer(behind.replace(/[)\]].*$/, ""));
  return /^(?:case|pack|carton|box) (?:price|cost)$/.test(foldWords(heading)) ? "pack" : null;
}

/** "Preis EUR", "Price (€)": the currency that a heading names. */
function currencyOfHeading(heading: string, habits: Pick<Habits, "currency">): string | null {
  const named = /(?:^|[^\p{L}])([A-Z]{3}|€|£|CHF)(?:$|[^\p{L}])/u.exec(heading)?.[1];
  const currency = named === undefined ? null : currencyOf(named, habits);
  return currency === habits.currency ? null : currency;
}

/**
 * A layout that is remembered, found again in another file of the dealer: the row that holds all its headings, wherever
 * the columns stand by now. null where the file is of another make.
 */
export function layoutAgain(remembered: Layout, tables: readonly ListTable[]): Layout | null {
  const own = tables.find(({ name }) => name === remembered.sheet);
  for (const table of own === undefined ? tables : [own, ...tables.filter((other) => other !== own)]) {
    const found = againIn(remembered, table);
    if (found !== null) return found;
  }
  return null;
}

function againIn(remembered: Layout, table: ListTable): Layout | null {
  const fields = LIST_FIELDS.filter((field) => remembered.columns[field] !== null);
  if (remembered.headings === null) {
    const widest = Math.max(...fields.map((field) => remembered.columns[field]?.at ?? 0));
    const width = table.rows.slice(0, SAMPLE).reduce((most, row) => Math.max(most, row.length), 0);
    return width > widest && headingRow(table) === null ? { ...remembered, sheet: table.name } : null;
  }
  for (const [at, row] of table.rows.slice(0, HEAD_ROWS).entries()) {
    const heads = row.map(({ text }) => foldWords(text));
    const columns: Record<ListField, ListColumn | null> = { ...NO_COLUMNS };
    const whole = fields.every((field) => {
      const was = remembered.columns[field];
      if (was === null) return true;
      const folded = foldWords(was.heading);
      // Columns without a head of their own are found by their place.
      const place = folded === "" || heads[was.at] === folded ? was.at : heads.indexOf(folded);
      if (place < 0) return false;
      columns[field] = { at: place, heading: was.heading };
      return true;
    });
    if (whole && heads.some((head) => head !== "")) return { ...remembered, sheet: table.name, headings: at + 1, columns };
  }
  return null;
}

/** A layout set right by a person: another sheet, other headings, columns chosen by hand (−1: none, absent: as it was). */
export interface LayoutAsked {
  readonly sheet?: string | undefined;
  /** null: no row heads the list. */
  readonly headings?: number | null | undefined;
  readonly columns?: Partial<Record<ListField, number>> | undefined;
  readonly decimal?: DecimalMark | undefined;
  readonly days?: DayOrder | undefined;
  readonly per?: PricedPer | null | undefined;
  readonly currency?: string | null | undefined;
}

/** What a person set, over what was guessed. Where they name another sheet or another row of headings, its columns are guessed anew. */
export function layoutSetRight(layout: Layout, asked: LayoutAsked, tables: readonly ListTable[], habits: Habits): Layout {
  const table = tableOf(tables, { sheet: asked.sheet ?? layout.sheet });
  const headings = asked.headings === undefined ? (table.name === layout.sheet ? layout.headings : guessIn(table, habits).headings) : asked.headings;
  const moved = table.name !== layout.sheet || headings !== layout.headings;
  const head = headings === null ? [] : table.rows[headings - 1] ?? [];
  const base = moved ? { ...layoutUnder(table, headings, headings === null ? NO_COLUMNS : byHeadings(head), habits), delimiter: layout.delimiter, encoding: layout.encoding } : layout;
  const columns: Record<ListField, ListColumn | null> = { ...base.columns };
  if (!moved) {
    for (const field of LIST_FIELDS) {
      const at = asked.columns?.[field];
      if (at !== undefined) columns[field] = at < 0 || at >= MOST_COLUMNS ? null : { at, heading: kept(head[at]?.text ?? "") };
    }
  }
  return {
    ...base, columns, decimal: asked.decimal ?? base.decimal, days: asked.days ?? base.days,
    per: asked.per === undefined ? base.per : asked.per, currency: asked.currency === undefined ? base.currency : asked.currency,
  };
}

/** Units that a whole list may be priced in. */
export const LIST_UNITS: readonly Unit[] = ["lb", "kg", "each", "dozen", "oz", "L", "gal", "qt"];

/** What keeps the lines from being read at all, in a sentence; null where nothing does. */
export function layoutLacks({ columns }: Layout): string | null {
  if (columns.price === null) return "Say which column holds the price: none of them looks like one.";
  if (columns.code === null && columns.gtin === null && columns.name === null) return "Say which column holds the dealer’s code, the GTIN or the name: without one of them nothing can be found in the book.";
  return null;
}
