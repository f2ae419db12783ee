/**
 * A yield test as a form on one sheet of paper: what stands on it printed, and what is left to be written by hand. Plain
 * text and printed figures; the page of a test fills it in, the page of the clipboard leaves it blank.
 */
import type { Printed } from "@/lib/measure";

/** A line with its name. `value` is "" where it is to be written by hand. */
export interface FormLine {
  readonly label: string;
  readonly value: string;
  readonly wide?: boolean;
}

export interface FormRow {
  readonly key: string;
  /** "" for a part that is yet to be named. */
  readonly name: string;
  /** "usable", "discard", "left to account for". */
  readonly what: string;
  readonly gross: string;
  readonly tub: string;
  readonly net: readonly Printed[];
  /** Percent of the whole. */
  readonly share: string;
  readonly rate: string;
  readonly value: string;
  readonly sum?: boolean;
}

export interface YieldForm {
  /** "Butcher test". */
  readonly title: string;
  /** What is worked; "" where that is to be written. */
  readonly of: string;
  readonly kitchen: string;
  readonly lines: readonly FormLine[];
  /** How scales read, to be ticked; [] where it is known and stands in a line. */
  readonly scales: readonly string[];
  readonly rows: readonly FormRow[];
  /** The columns for the reading as shown and the tub to take off. */
  readonly scaleColumns: boolean;
  /** Heads of the columns that tell money; null for whoever sees none. */
  readonly money: { readonly rate: string; readonly value: string } | null;
  /** The pieces of main parts, weighed one by one: told by part, or so many boxes to write in. */
  readonly pieces: readonly FormLine[];
  readonly boxes: number;
  readonly note: string;
  /** Lines for a note. */
  readonly noteLines: number;
  readonly caution: string;
  /** Who recorded what when; on a blank form lines to sign. */
  readonly recorded: readonly FormLine[] | string;
  /** "Printed Wed 25 Nov 2026 by Chef". */
  readonly printed: string;
  readonly blank: boolean;
}
