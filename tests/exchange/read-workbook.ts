/**
 * A workbook read back from its bytes, and its formulas reckoned by a few lines of our own: + − × ÷, brackets, cells of this
 * and other sheets, SUM over a range, and the count of whole portions. Enough to judge what we write; no spreadsheet.
 */
import { strFromU8, unzipSync } from "fflate";

export interface ReadCell {
  readonly text: string | null;
  readonly value: number | null;
  readonly formula: string | null;
}
export type ReadSheet = ReadonlyMap<string, ReadCell>;

export function readWorkbook(bytes: Uint8Array): ReadonlyMap<string, ReadSheet> {
  const parts = Object.fromEntries(Object.entries(unzipSync(bytes)).map(([name, part]) => [name, strFromU8(part)]));
  const names = [...(parts["xl/workbook.xml"] ?? "").matchAll(/<sheet name="([^"]*)"/g)].map(([, name = ""]) => plain(name));
  return new Map(names.map((name, at) => [name, cellsOf(parts[`xl/worksheets/sheet${at + 1}.xml`] ?? "")]));
}

function cellsOf(xml: string): ReadSheet {
  return new Map([...xml.matchAll(/<c r="([A-Z]+\d+)"([^>]*)>(.*?)<\/c>/gs)].map(([, name = "", , inner = ""]) => {
    const one = (tag: string): string | null => { const found = new RegExp(`<${tag}[^>]*>(.*?)</${tag}>`, "s").exec(inner)?.[1]; return found === undefined ? null : plain(found); };
    const value = one("v");
    return [name, { text: one("t"), value: value === null ? null : Number(value), formula: one("f") }];
  }));
}

const plain = (xml: string): string => xml.replace(/&lt;/g, "<").replace(/&gt;/g, ">").replace(/&quot;/g, "\"").replace(/&#13;/g, "\r").replace(/&amp;/g, "&");

const REF = String.raw`(?:'([^']+)'!)?\$?([A-Z]+)\$?(\d+)`;

/** What a cell comes to, reckoned from its formula and what that hangs on. `changed`: figures put in instead, by "Sheet!B3". */
export function reckon(book: ReadonlyMap<string, ReadSheet>, sheet: string, cell: string, changed: Readonly<Record<string, number>> = {}): number {
  const put = changed[`${sheet}!${cell}`];
  if (put !== undefined) return put;
  const found = book.get(sheet)?.get(cell);
  if (found === undefined) throw new Error(`expected a cell ${sheet}!${cell}`);
  if (found.formula === null) {
    if (found.value === null) throw new Error(`expected a figure in ${sheet}!${cell}`);
    return found.value;
  }
  const at = (name: string | undefined, column: string, row: string): number => reckon(book, name ?? sheet, `${column}${row}`, changed);
  const range = (name: string | undefined, column: string, from: string, to: string): number[] =>
    Array.from({ length: Number(to) - Number(from) + 1 }, (_, n) => at(name, column, String(Number(from) + n)));
  const RANGE = `${REF}:\\$?[A-Z]+\\$?(\\d+)`;
  const flat = found.formula
    .replace(new RegExp(`SUMPRODUCT\\(INT\\(${RANGE}\\*${REF}/${REF}\\+([\\d.]+)\\)\\)`, "g"), (_, s1, c1, r1, r2, s2, c2, row2, s3, c3, row3, hair) =>
      String(range(s1, c1, r1, r2).reduce((sum, piece) => sum + Math.floor(piece * at(s2, c2, row2) / at(s3, c3, row3) + Number(hair)), 0)))
    .replace(new RegExp(`SUM\\(${RANGE}\\)`, "g"), (_, s1, c1, r1, r2) => String(range(s1, c1, r1, r2).reduce((sum, one) => sum + one, 0)))
    .replace(new RegExp(REF, "g"), (_, s1, c1, r1) => `(${at(s1, c1, r1)})`);
  if (!/^[\d.e+\-*/() ]+$/.test(flat)) throw new Error(`expected a sum, got ${flat}`);
  return Number(new Function(`return ${flat.replace(/--/g, "- -")};`)());
}
