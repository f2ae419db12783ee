/**
 * The result of a yield test, printed and ready to show: on its page, and on the sheet that was just typed and tried.
 * Plain text throughout, so that it can travel from the server, where figures are exact, to the browser.
 */
import type { Printed } from "@/lib/measure";

export interface ResultRow {
  readonly key: string;
  readonly name: string;
  /** In the second ink after the name: "discard", "by difference". */
  readonly note: string | null;
  readonly weight: readonly Printed[];
  /** Percent of the whole. */
  readonly share: string;
  /** Money a unit of weight; "" where there is none. */
  readonly rate: string;
  /** Money; a credit is below zero. */
  readonly value: string;
  /** "in": taken off the whole. "sum": what is left, ruled. "of": a part of that sum. */
  readonly rule: "sum" | "in" | "of" | null;
}

export interface ResultFigure {
  readonly what: string;
  readonly figure: Printed;
}

export interface ResultView {
  readonly kind: "test";
  /** "67.1 % usable, 1.0 % lost" and what that costs. */
  readonly usable: string;
  readonly rest: string;
  readonly caption: string;
  readonly rateHead: string;
  readonly valueHead: string;
  readonly rows: readonly ResultRow[];
  /** Value of the usable part, cost per usable unit, cost factor; empty while the cost is not known. */
  readonly comes: readonly ResultFigure[];
  /** What was forgiven, what should be asked about. */
  readonly notes: readonly string[];
  /** What the missing figures lack. */
  readonly missing: readonly string[];
}
