/**
 * A line of a dealer's price list, whatever file it came from: what the dealer calls the thing, how it is packed, what is
 * asked for it. Nothing in it has been compared with the book yet. What could not be read is a problem of the line, with
 * the column it stands in; one bad line costs nobody the list.
 */
import type { Exact, Problem, Unit } from "@/lib/measure";

/** A cell as the file has it. `number` where the file itself says that it is a number; `text` is what it would print. */
export interface ListCell {
  readonly text: string;
  readonly number: Exact | null;
}

/** One sheet of a file; a text file has one, without a name. */
export interface ListTable {
  readonly name: string;
  readonly rows: readonly (readonly ListCell[])[];
}

/** What a price is for: the whole pack, or one of a unit. */
export type PricedPer = "pack" | Unit;

export interface ListLine {
  /** The row of the file, counted from 1 as a spreadsheet counts. It names the line for as long as the file stands. */
  readonly row: number;
  /** The dealer's order code, "" where there is none. */
  readonly code: string;
  /** GTIN-14, "" where there is none that is right. */
  readonly gtin: string;
  readonly name: string;
  /** How it is packed, as the list writes it; may be "". */
  readonly pack: string;
  /** Above zero; null where it cannot be read, which `problems` then says. */
  readonly price: Exact | null;
  /** The price as the list writes it. */
  readonly priceText: string;
  /** null: the list does not say. */
  readonly per: PricedPer | null;
  /** ISO 4217; null: the list does not say. */
  readonly currency: string | null;
  /** The day that the line itself names, "2026-12-01"; null: none. */
  readonly from: string | null;
  /** What cannot be read, and what would be right; paths are the columns' names. */
  readonly problems: readonly Problem[];
}
