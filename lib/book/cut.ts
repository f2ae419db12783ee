/**
 * A cut: the usable product that the tests of one origin and one cutting specification yield. Which tests stand
 * behind it is a decision (an adoption) that has a date and a person: it is the cut's own revision. Several tests are
 * pooled by weights. Until there is a test of the house's own, a published yield may stand in for one: then the cost is
 * borrowed, and says so wherever it is shown. A portion spec: a cut at a size.
 */
import type { Exact, Quantity, Rate } from "@/lib/measure";
import type { LeftOut } from "@/lib/yield";
import type { Origin } from "./yield-test";

/** How joint cost is shared when a test has several main parts. Totals are the same under each. */
export type JointMethod = "sales-value" | "net-realizable" | "weight";
/** How a new dealer price reaches the cut: by the test's factor, or with by-products held at their own prices. */
export type Repricing = "by-factor" | "by-products-at-own-price";

/** A yield that somebody else measured: what a document publishes, or what somebody was told. */
export interface BorrowedYield {
  /** Usable (or cooked) over as purchased, a ratio above 0; above 1 only of what takes up water. At most 4. */
  readonly share: Exact;
  /** What the source calls it: "Carrots, raw; crown, tops and scrapings taken off". */
  readonly what: string;
  /** Who measured it, in which document, and how surely: "USDA …, Release 2 (2014); mean of 20, from 77 to 89 %". */
  readonly source: string;
  /** The day it was taken up here. */
  readonly on: string;
}

export interface Cut {
  readonly id: string;
  readonly name: string;
  readonly of: Origin;
  /** Key of the main part, in the adopted tests, that this cut is. */
  readonly partKey: string;
  /** The adopted tests, pooled; empty while no test stands behind the cut (its yield is unknown). */
  readonly testIds: readonly string[];
  /** Tests of the same thing that somebody decided not to pool, each with why; on file also when the test itself has gone. */
  readonly leftOut: readonly LeftOut[];
  /** Stands in for a test while `testIds` is empty; kept on file, and not used, once a test of the house's own stands behind the cut. */
  readonly borrowed: BorrowedYield | null;
  /** null: the default, own prices when any by-product is linked to a priced thing, else by the factor. */
  readonly repricing: Repricing | null;
  readonly joint: JointMethod;
  /** Cutting specification in words: trim, fat cover, thickness of the tail. */
  readonly specification: string;
}

/** The borrowed yield that a cut is costed by; null where it has none, or stands on tests of its own. */
export function borrowedInUse(cut: Cut): BorrowedYield | null {
  return cut.testIds.length === 0 ? cut.borrowed : null;
}

export interface PortionSpec {
  readonly id: string;
  readonly cutId: string;
  readonly name: string;
  /** What one portion weighs (mass) or measures, as promised to the guest. */
  readonly size: Quantity;
  /** Allowed to be under or over the size by this; null when not said. */
  readonly tolerance: Quantity | null;
  readonly thickness: string;
  readonly trim: string;
  /**
   * "by-weight": size × cost per usable unit, as the textbooks do. "whole": whole portions per piece, the end left
   * over credited at `endValue`; needs tests with pieces (or one piece).
   */
  readonly costing: "by-weight" | "whole";
  /** What the left-over end is worth; null: nothing. */
  readonly endValue: Rate | null;
  /** Pieces to one portion (three scallops); null: it is one piece, or nobody counts. */
  readonly pieces: Exact | null;
  /** What portions weighed at the pass came to on average; null: not weighed. A portion is costed at what is really cut. */
  readonly meanCut: MeanCut | null;
}

/** Portions weighed at the pass. */
export interface MeanCut {
  readonly weight: Quantity;
  /** How many were weighed; null: not told. */
  readonly count: Exact | null;
  readonly on: string;
}

/** What a portion takes of its cut: its mean weight as cut, else the size that is promised. */
export function cutWeight(spec: PortionSpec): Quantity {
  return spec.meanCut?.weight ?? spec.size;
}
