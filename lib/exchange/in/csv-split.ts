/**
 * The grammar of RFC 4180 with any delimiter and any line end, forgiving as spreadsheets are: a quotation mark within a cell
 * that does not begin with one is only a mark (a 5" pan), and a cell whose marks do not close as they should is kept as it
 * is written. Bounded: it stops at the first row, column or cell beyond what a price list has. One pass, no recursion.
 */
import { type Checked, bad, good } from "@/lib/measure";
import { type Delimiter, FILE_LIMITS } from "./read-shapes";

/** `text` has its line ends as \n. `most`: so many rows and no more, without complaint, and no complaint of its end. Codes: too-many-rows, too-many-columns, cell-too-long, open-quote. */
export function splitCsv(text: string, delimiter: Delimiter, most?: number): Checked<readonly (readonly string[])[]> {
  const rows: string[][] = [];
  let row: string[] = [];
  let at = 0;
  let end = text.length;
  while (end > 1 && text.charCodeAt(end - 1) === LINE && text.charCodeAt(end - 2) === LINE) end -= 1;
  // Kept ahead of `at`, so that each is looked for once however many cells there are.
  let [nextMark, nextLine] = [-1, -1];
  const ahead = (): void => {
    if (nextMark < at) nextMark = found(text, delimiter, at);
    if (nextLine < at) nextLine = found(text, "\n", at);
  };
  while (at < end) {
    ahead();
    let stop = Math.min(nextMark, nextLine);
    let cell = text.slice(at, stop);
    if (text.charCodeAt(at) === QUOTE) {
      const closed = closing(text, at);
      if (closed.end < 0) {
        if (most !== undefined) { rows.push(row); break; }
        return bad("", closed.end === TOO_LONG ? "cell-too-long" : "open-quote", `Row ${rows.length + 1} opens a quotation mark (") in column ${row.length + 1} that is never closed: close it, or take it out, and read the file again.`);
      }
      const after = closed.end + 1;
      if (after === end || text.charCodeAt(after) === LINE || text.startsWith(delimiter, after)) {
        [cell, stop] = [closed.text, after];
      } else if (closed.end > stop) {
        // Marks that close in the middle of a cell further on: what they hold is kept, and what follows up to its end.
        at = after;
        ahead();
        stop = Math.min(nextMark, nextLine);
        cell = closed.text + text.slice(after, stop);
      } else if (cell.length > 1 && cell.endsWith("\"")) cell = cell.slice(1, -1);
    }
    if (cell.length > FILE_LIMITS.textInCell) return bad("", "cell-too-long", `The cell in row ${rows.length + 1}, column ${row.length + 1}, holds ${cell.length} characters; at most ${FILE_LIMITS.textInCell} are read.`);
    row.push(cell);
    if (row.length > FILE_LIMITS.columns) return bad("", "too-many-columns", `Row ${rows.length + 1} has more than ${FILE_LIMITS.columns} columns: take out those that are no part of the list, or choose what parts the columns.`);
    at = stop + 1;
    if (stop < end && text.charCodeAt(stop) !== LINE) {
      if (at === end) row.push("");
      else continue;
    }
    rows.push(row);
    row = [];
    if (most !== undefined && rows.length >= most) break;
    if (rows.length > FILE_LIMITS.rows) return bad("", "too-many-rows", `The file has more than ${FILE_LIMITS.rows.toLocaleString("en-US")} rows: split it and read the parts.`);
  }
  return good(rows.map((cells) => (cells.length === 1 && cells[0] === "" ? [] : cells)));
}

const QUOTE = 34;
const LINE = 10;
const OPEN = -1;
const TOO_LONG = -2;

function found(text: string, what: string, from: number): number {
  const at = text.indexOf(what, from);
  return at < 0 ? text.length : at;
}

/** The cell that a quotation mark at `start` opens, and where its closing mark stands; OPEN or TOO_LONG where it has none. */
function closing(text: string, start: number): { readonly end: number; readonly text: string } {
  let inside = "";
  for (let at = start + 1; ;) {
    const mark = text.indexOf("\"", at);
    if (mark < 0) return { end: OPEN, text: "" };
    inside += text.slice(at, mark);
    if (inside.length > FILE_LIMITS.textInCell) return { end: TOO_LONG, text: "" };
    if (text.charCodeAt(mark + 1) !== QUOTE) return { end: mark, text: inside };
    inside += "\"";
    at = mark + 2;
  }
}
