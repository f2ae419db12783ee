/**
 * A CSV as a table. What parts its columns is said by a first line "sep=;" (as spreadsheets write it), or guessed: the mark
 * by which most rows come to the same number of columns, more columns before fewer. A comma is tried last, since it also
 * stands in names and, in half the world, in prices.
 */
import { type Checked, bad, good } from "@/lib/measure";
import { splitCsv } from "./csv-split";
import { type AskedOfFile, DELIMITERS, type Delimiter, type FileRead, type Guessed, type TextTable } from "./read-shapes";
import { type DecodedText, ENCODING_NAMES } from "./read-text";

export const DELIMITER_NAMES: Readonly<Record<Delimiter, string>> = { ",": "commas", ";": "semicolons", "\t": "tabs", "|": "upright strokes" };

const GUESS_ROWS = 60;
const GUESS_TEXT = 64 * 1024;
const GUESS_ORDER: readonly Delimiter[] = ["\t", ";", "|", ","];

export function readCsv(read: DecodedText, fileName: string, asked: AskedOfFile): Checked<FileRead> {
  let text = read.text.replace(/\r\n?/g, "\n");
  const said = /^sep=(.)\n/i.exec(text)?.[1];
  if (said !== undefined) text = text.slice(text.indexOf("\n") + 1);
  const told = DELIMITERS.find((mark) => mark === said);
  const delimiter: Guessed<Delimiter> = asked.delimiter !== undefined ? { value: asked.delimiter, by: "asked" } : told !== undefined ? { value: told, by: "told" } : { value: guessDelimiter(text), by: "guessed" };
  const split = splitCsv(text, delimiter.value);
  if (!split.ok) return split;
  const rows = withoutEnd(split.value.map((cells) => cells.map((cell) => ({ text: cell, number: null }))));
  if (rows.length === 0) return bad("", "empty", "The file holds no rows: it is empty, or only blank lines.");
  return good({
    kind: "table", format: "csv", tables: [{ name: fileName, rows, hidden: false }], delimiter: delimiter.value, encoding: read.encoding.value,
    said: `Read as ${ENCODING_NAMES[read.encoding.value]}${how(read.encoding)}, columns parted by ${DELIMITER_NAMES[delimiter.value]}${how(delimiter)}.`,
  });
}

function how({ by }: Guessed<unknown>): string {
  return { asked: ", as you chose", told: ", as the file says", guessed: " (a guess)" }[by];
}

export function withoutEnd(rows: readonly TextTable["rows"][number][]): TextTable["rows"] {
  let end = rows.length;
  while (end > 0 && rows[end - 1]?.every((cell) => cell.text.trim() === "") === true) end -= 1;
  return rows.slice(0, end);
}

/** By which most rows of the beginning come to the same number of columns. */
export function guessDelimiter(text: string): Delimiter {
  const start = text.slice(0, GUESS_TEXT);
  let best: { readonly mark: Delimiter; readonly alike: number; readonly columns: number } | null = null;
  for (const mark of GUESS_ORDER) {
    const split = splitCsv(start, mark, GUESS_ROWS);
    if (!split.ok) continue;
    const widths = new Map<number, number>();
    const rows = split.value.filter((row) => row.length > 0);
    for (const row of rows) widths.set(row.length, (widths.get(row.length) ?? 0) + 1);
    const usual = [...widths].filter(([columns]) => columns > 1).sort((one, other) => other[1] - one[1] || other[0] - one[0])[0];
    if (usual === undefined) continue;
    const [columns, many] = usual;
    const alike = many / rows.length;
    // A few more rows alike do not outweigh many more columns: titles above a list are narrow.
    if (best === null || alike > best.alike + 0.2 || (alike >= best.alike - 0.2 && columns > best.columns)) best = { mark, alike, columns };
  }
  return best?.mark ?? ",";
}
