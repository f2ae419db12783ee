/**
 * A table of cells read as the lines of a price list, by a layout. Empty rows, headings of shelves and headings printed
 * once more on the next page are no lines. Never throws, whatever stands in the cells.
 */
import { gtin14 } from "@/lib/book";
import { NO_TEXT_MARKS } from "./plain-text";
import { type Habits, type Problem, quoted } from "@/lib/measure";
import { type Layout, tableOf } from "./layout";
import type { ListCell, ListLine, ListTable } from "./line";
import { currencyOf, readDay, readPrice } from "./read-cells";
import { pricedPer } from "./words";
import type { ListField } from "./words";

const EMPTY: ListCell = { text: "", number: null };
const CODE_LIMIT = 60;
const NAME_LIMIT = 200;

export interface ReadLines {
  readonly lines: readonly ListLine[];
  /** Rows that hold something and are no lines: shelves, headings once more, notes. */
  readonly passedOver: number;
  /** The day that the list names for its prices, in a column or above its headings; null: none. */
  readonly from: string | null;
}

export function readLines(tables: readonly ListTable[], layout: Layout, habits: Habits): ReadLines {
  const table = tableOf(tables, layout);
  const lines: ListLine[] = [];
  const head = layout.headings === null ? null : (table.rows[layout.headings - 1] ?? []).map(({ text }) => text.trim()).join("\u0000");
  let passedOver = 0;
  for (let at = layout.headings ?? 0; at < table.rows.length; at += 1) {
    const row = table.rows[at] ?? [];
    const filled = row.filter(({ text }) => text.trim() !== "").length;
    if (filled === 0) continue;
    if (head !== null && row.map(({ text }) => text.trim()).join("\u0000") === head) { passedOver += 1; continue; }
    const line = lineOf(row, at + 1, layout, habits);
    // A shelf ("BEEF"), a note, a page number: one cell alone, nothing to tell a thing by, or a name without a price.
    const shelf = line.priceText === "" && (filled === 1 || (line.code === "" && line.gtin === ""));
    if (shelf || (line.code === "" && line.gtin === "" && line.name === "")) {
      passedOver += 1;
      continue;
    }
    lines.push(line);
  }
  return { lines, passedOver, from: dayOfList(table, layout, lines) };
}

function lineOf(row: ListTable["rows"][number], number: number, layout: Layout, habits: Habits): ListLine {
  const { columns, decimal, days } = layout;
  const cell = (field: ListField): ListCell => { const column = columns[field]; return column === null ? EMPTY : row[column.at] ?? EMPTY; };
  const text = (field: ListField): string => cell(field).text.replace(NO_TEXT_MARKS, "").replace(/\s+/g, " ").trim();
  const problems: Problem[] = [];
  const tell = (path: ListField, code: string, sentence: string): void => { problems.push({ path, code, sentence }); };

  const priceCell = cell("price");
  const price = readPrice(priceCell, decimal, habits);
  if (!price.ok) for (const { code, sentence } of price.problems) tell("price", code, sentence);

  let per = price.ok ? price.value.per : null;
  const perText = text("per");
  if (per === null && perText !== "") {
    per = pricedPer(perText);
    if (per === null) tell("per", "unknown-unit", `${quoted(perText)} is no unit known here: a price is for a case or for one of a unit, such as lb, kg or each.`);
  }
  let currency = price.ok ? price.value.currency : null;
  const currencyText = text("currency");
  if (currencyText !== "") {
    const told = currencyOf(currencyText, habits);
    if (told === null) tell("currency", "unknown-currency", `${quoted(currencyText)} is no currency known here: it is told by three letters, such as EUR.`);
    currency = told ?? currency;
  }
  const code = text("code");
  if (code.length > CODE_LIMIT) tell("code", "too-long", `An order code has at most ${CODE_LIMIT} characters; this one has ${code.length}: is another column meant?`);
  return {
    row: number, code: code.slice(0, CODE_LIMIT), gtin: gtin14(text("gtin")) ?? "", name: text("name").slice(0, NAME_LIMIT), pack: text("pack").slice(0, NAME_LIMIT),
    price: price.ok ? price.value.amount : null, priceText: priceCell.text.replace(/\s+/g, " ").trim().slice(0, 60),
    per: per ?? layout.per, currency: currency ?? layout.currency, from: columns.from === null ? null : readDay(cell("from"), days), problems,
  };
}

/** Words that stand before the day from which a list counts. */
const FROM_WORDS = /valid|effective|from|as of|price list|g[uü]ltig|\bab\b|preisliste|stand|valable|partir|tarif|desde|vigen|valido|dal\b|listino|geldig|vanaf/i;

/** The day most lines name; else one above the headings, beside words that say so. */
function dayOfList(table: ListTable, { headings, days }: Layout, lines: readonly ListLine[]): string | null {
  const times = new Map<string, number>();
  for (const { from } of lines) if (from !== null) times.set(from, (times.get(from) ?? 0) + 1);
  const most = [...times].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? 1 : -1))[0];
  if (most !== undefined) return most[0];
  for (const row of table.rows.slice(0, Math.max(0, (headings ?? 1) - 1))) {
    if (!row.some(({ text }) => FROM_WORDS.test(text))) continue;
    for (const cell of row) {
      const day = readDay(cell, days);
      if (day !== null) return day;
    }
  }
  return null;
}
