/**
 * The rows of one worksheet (ISO/IEC 29500-1, 18.3). Of merged cells the first holds the text and the others nothing, as the
 * file has it. A cell may leave out where it stands, and then follows the one before. A formula is its last result; it is
 * never reckoned here. Rows that only carry a look are no rows.
 */
import { withoutEnd } from "./csv-read";
import { FILE_LIMITS, type TableCell, type TextTable } from "./read-shapes";
import { type XmlTaker, XmlRefused } from "./read-xml";
import { cellOf, unescapedText } from "./xlsx-read-cell";
import type { NumberLook } from "./xlsx-read-date";
import { cellName } from "../out/workbook";

export interface SheetContext {
  readonly name: string;
  readonly shared: readonly string[];
  readonly looks: readonly NumberLook[];
  readonly from1904: boolean;
  /** Called for each cell that holds something; throws when the workbook has too many. */
  readonly count: () => void;
}

const EMPTY: TableCell = { text: "", number: null };

export class SheetReader {
  private readonly rows: TableCell[][] = [];
  /** Formulas that hold no result. */
  unreckoned = 0;
  private row = -1;
  private column = -1;
  private type = "";
  private style = 0;
  private value = "";
  private formula = false;
  private inside: "" | "v" | "t" = "";
  private phonetic = false;
  private inCell = false;

  constructor(private readonly context: SheetContext) {}

  readonly taker: XmlTaker = {
    open: (name, attributes) => {
      switch (name) {
        case "row": {
          const at = attributes["r"];
          this.row = at !== undefined && /^\d{1,7}$/.test(at) && Number(at) > 0 ? Number(at) - 1 : this.row + 1;
          this.column = -1;
          return;
        }
        case "c": {
          const at = placeOf(attributes["r"]);
          this.column = at?.column ?? this.column + 1;
          if (at !== null) this.row = at.row;
          [this.type, this.style, this.value, this.formula, this.inCell] = [attributes["t"] ?? "", Number(attributes["s"] ?? "0"), "", false, true];
          return;
        }
        case "f": this.formula = this.inCell; return;
        case "v": if (this.inCell) this.inside = "v"; return;
        case "t": if (this.inCell && !this.phonetic) this.inside = "t"; return;
        case "rPh": this.phonetic = true; return;
      }
    },
    text: (text) => { if (this.inside !== "") this.value += text; },
    close: (name) => {
      switch (name) {
        case "v": case "t": this.inside = ""; return;
        case "rPh": this.phonetic = false; return;
        case "c": this.endCell(); return;
      }
    },
  };

  private endCell(): void {
    this.inCell = false;
    if (this.value === "") {
      if (this.formula) this.unreckoned += 1;
      return;
    }
    const { shared, looks, from1904 } = this.context;
    const cell = cellOf(this.type, this.value, looks[this.style] ?? "number", shared, from1904);
    if (cell.text === "") return;
    const where = `Cell ${cellName(Math.max(0, this.row), this.column)} of sheet “${this.context.name}”`;
    if (this.row >= FILE_LIMITS.rows) throw new XmlRefused("too-many-rows", `${where} stands beyond row ${FILE_LIMITS.rows.toLocaleString("en-US")}: split the list and read the parts.`);
    if (this.column >= FILE_LIMITS.columns) throw new XmlRefused("too-many-columns", `${where} stands beyond column ${FILE_LIMITS.columns}: take out columns that are no part of the list.`);
    if (cell.text.length > FILE_LIMITS.textInCell) throw new XmlRefused("cell-too-long", `${where} holds ${cell.text.length} characters; at most ${FILE_LIMITS.textInCell} are read.`);
    this.context.count();
    const at = Math.max(0, this.row);
    while (this.rows.length <= at) this.rows.push([]);
    const row = this.rows[at] ?? [];
    while (row.length < this.column) row.push(EMPTY);
    row[this.column] = cell;
  }

  table(hidden: boolean): TextTable {
    return { name: unescapedText(this.context.name), rows: withoutEnd(this.rows), hidden };
  }
}

/** Row and column, from 0, of "C7". */
export function placeOf(reference: string | undefined): { readonly row: number; readonly column: number } | null {
  const match = /^\$?([A-Z]{1,3})\$?(\d{1,7})$/i.exec(reference ?? "");
  if (match === null) return null;
  const column = [...(match[1] ?? "").toUpperCase()].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;
  return Number(match[2]) > 0 ? { row: Number(match[2]) - 1, column } : null;
}
