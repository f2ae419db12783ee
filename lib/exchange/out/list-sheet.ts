/**
 * A list as a sheet for programs and spreadsheets: one row of heads, then a row for each thing, every column of one kind.
 * Nothing stands above the heads, so that whatever reads the file finds its columns by name.
 */
import type { Decimal } from "@/lib/measure";
import { type Cell, type Workbook, text } from "./workbook";

export interface ListColumn<Row> {
  readonly head: string;
  /** In characters; 12 unless said otherwise. */
  readonly width?: number;
  /** null: nothing is known, and the cell stays empty. */
  readonly of: (row: Row) => Cell | string | null;
}

export interface ListOf<Row> {
  readonly title: string;
  readonly paper: Workbook["paper"];
  readonly columns: readonly ListColumn<Row>[];
  readonly rows: readonly Row[];
}

export function listWorkbook<Row>({ title, paper, columns, rows }: ListOf<Row>): Workbook {
  return {
    title, paper,
    sheets: [{
      name: title,
      widths: columns.map(({ width, head }) => width ?? Math.max(12, Math.min(head.length + 2, 40))),
      frozen: { rows: 1, columns: 1 }, landscape: columns.length > 6,
      rows: [columns.map(({ head }) => text(head, "head")), ...rows.map((row) => columns.map(({ of }) => {
        const cell = of(row);
        return typeof cell === "string" ? cell === "" ? null : text(cell) : cell;
      }))],
    }],
  };
}

/** A figure in a list: all its digits, shown to `places`. */
export function numberCell(value: Decimal | null | undefined, places: number): Cell | null {
  return value === null || value === undefined ? null : { kind: "number", value, format: { places } };
}

/** A calendar day, "2026-11-24", which spreadsheets may reckon with. */
export function dayCell(day: string | null | undefined): Cell | null {
  return day === null || day === undefined || day === "" ? null : { kind: "day", day: day.slice(0, 10) };
}
