/**
 * A workbook as data: what is handed to `xlsx` (xlsx.ts) and what tests read. Figures are exact until they are written;
 * text is only ever text; a formula is our own and never holds what somebody typed.
 */
import type { Decimal } from "@/lib/measure";

/** How a figure is shown: so many places, marks for thousands. */
export interface CellFormat {
  readonly places: number;
}

export type Cell =
  | { readonly kind: "text"; readonly text: string; readonly style?: CellStyle }
  /** A calendar day, "2026-11-24". */
  | { readonly kind: "day"; readonly day: string; readonly style?: CellStyle }
  | { readonly kind: "number"; readonly value: Decimal; readonly format: CellFormat; readonly style?: CellStyle }
  /** `formula` without its =; `value` is what it comes to, so that a program which does not reckon shows it too. */
  | { readonly kind: "formula"; readonly formula: string; readonly value: Decimal; readonly format: CellFormat; readonly style?: CellStyle };

/** head: bold, ruled below. strong: bold. input: a figure meant to be changed, ruled round. note: smaller ink. */
export type CellStyle = "head" | "strong" | "input" | "title" | "note";

export interface Sheet {
  /** At most 31 characters; those that a sheet's name cannot have are replaced. */
  readonly name: string;
  /** Widths of the columns, in characters. */
  readonly widths: readonly number[];
  readonly rows: readonly (readonly (Cell | null)[])[];
  /** So many rows and columns stay in sight. */
  readonly frozen?: { readonly rows: number; readonly columns: number };
  readonly landscape?: boolean;
}

export interface Workbook {
  readonly sheets: readonly Sheet[];
  readonly paper: "letter" | "a4";
  readonly title: string;
}

/** "C7" from a row and a column counted from 0; `fixed` puts a $ before either. */
export function cellName(row: number, column: number, fixed: { readonly row?: boolean; readonly column?: boolean } = {}): string {
  let letters = "";
  for (let left = column; left >= 0; left = Math.floor(left / 26) - 1) letters = String.fromCharCode(65 + (left % 26)) + letters;
  return `${fixed.column === true ? "$" : ""}${letters}${fixed.row === true ? "$" : ""}${row + 1}`;
}

export const text = (content: string, style?: CellStyle): Cell => ({ kind: "text", text: content, ...(style === undefined ? {} : { style }) });
