/**
 * Which rows of a list are shown. Of a long one those that answer to the words of ?find=…: their texts hold every word,
 * whatever the case. And of these so many at once, from ?from=… on: an address for each stretch of the list, which can
 * be kept and handed on, and a page that weighs the same however long the list grows.
 */

export type Asked = Readonly<Record<string, string | readonly string[] | undefined>>;

/** The most rows on one page. */
export const MOST_ROWS = 100;
/** So many rows it takes before finding is offered. */
export const LONG_LIST = 20;

/** A stretch of a list. */
export interface Stretch<Row> {
  readonly rows: readonly Row[];
  /** How many rows of the list come before it. */
  readonly before: number;
  /** How many rows the list has. */
  readonly of: number;
}

/** A page that follows somebody's scrolling shows at most so many stretches at once (components/find/Rolling.tsx). */
const MOST_STRETCHES = 4;

/**
 * At most so many rows from ?from=… on (counted from 1), or as many as ?rows=… asks for within reason; from the first
 * where that is no place in the list.
 */
export function stretchOf<Row>(list: readonly Row[], value: string | readonly string[] | undefined, most = MOST_ROWS, rows?: string | readonly string[] | undefined): Stretch<Row> {
  const from = wholeNumber(value) ?? 1;
  const before = from > list.length ? 0 : from - 1;
  const count = Math.min(Math.max(most, wholeNumber(rows) ?? most), most * MOST_STRETCHES);
  return { rows: list.slice(before, before + count), before, of: list.length };
}

function wholeNumber(value: string | readonly string[] | undefined): number | null {
  return typeof value === "string" && /^[1-9]\d{0,6}$/.test(value) ? Number(value) : null;
}

/** The words asked for, as typed; "" when nothing was. */
export function askedFor(value: string | readonly string[] | undefined): string {
  return typeof value === "string" ? value.trim().replace(/\s+/g, " ").slice(0, 120) : "";
}

export function answering<Row>(rows: readonly Row[], asked: string, textsOf: (row: Row) => readonly (string | undefined)[]): readonly Row[] {
  const words = fold(asked).split(" ").filter(Boolean);
  return words.length === 0 ? rows : rows.filter((row) => {
    const text = fold(textsOf(row).join(" "));
    return words.every((word) => text.includes(word));
  });
}

/** Without case and accents, so that "puree" finds "Purée". */
function fold(text: string): string {
  return text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
}
