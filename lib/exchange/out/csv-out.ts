/**
 * A sheet of a workbook as CSV (RFC 4180): every line ends in CR LF, text is quoted where it has to be, and a mark at the
 * beginning says that it is UTF-8, without which some spreadsheets take an é for two letters. Figures are plain, with the
 * kitchen's own decimal sign and none for thousands; where that sign is the comma, fields stand apart by semicolons, as
 * spreadsheets of those countries expect. Text is text: what a spreadsheet would run gets an apostrophe in front.
 */
import { Decimal, type Habits, printNumber } from "@/lib/measure";
import { safeText } from "./safe-text";
import type { Cell, Sheet } from "./workbook";
import { heldFigure } from "./xlsx";

const MARK = "\uFEFF";
/** Quoted wherever a program that takes another mark for the delimiter would see a field of its own. */
const QUOTED = /[",;\t\r\n]|^\s|\s$/;

export interface CsvMarks {
  readonly decimal: "." | ",";
  readonly delimiter: "," | ";";
}

/** The decimal sign of the kitchen and the delimiter that does not clash with it. */
export function csvMarks(habits: Pick<Habits, "locale">): CsvMarks {
  return printNumber(HALF, habits, { places: 1 }).includes(",") ? { decimal: ",", delimiter: ";" } : { decimal: ".", delimiter: "," };
}

const HALF = new Decimal("0.5");

/** The sheet as the text of a .csv file; a formula as what it comes to. */
export function csvOf(sheet: Pick<Sheet, "rows">, habits: Pick<Habits, "locale">): string {
  const marks = csvMarks(habits);
  const columns = sheet.rows.reduce((most, row) => Math.max(most, row.length), 0);
  return MARK + sheet.rows.map((row) => `${Array.from({ length: columns }, (_, n) => field(row[n] ?? null, marks)).join(marks.delimiter)}\r\n`).join("");
}

function field(cell: Cell | null, { decimal }: CsvMarks): string {
  if (cell === null) return "";
  switch (cell.kind) {
    case "text": return quoted(safeCsvText(cell.text));
    case "day": return cell.day;
    // A decimal comma needs no quotes: fields stand apart by semicolons then.
    case "number":
    case "formula": return heldFigure(cell.value).replace(".", decimal);
  }
}

/**
 * Text that runs nowhere, also where a program takes another mark for the delimiter than the file has (a list of commas on
 * a machine that reads semicolons): what follows such a mark may be the beginning of a field there.
 */
const AFTER_A_MARK = /([,;\t\r\n|][\s"']*)(?=[=+\-@＝＋－＠])/g;

export function safeCsvText(text: string): string {
  return safeText(text).replace(AFTER_A_MARK, "$1'");
}

function quoted(text: string): string {
  return QUOTED.test(text) ? `"${text.replace(/"/g, '""')}"` : text;
}
