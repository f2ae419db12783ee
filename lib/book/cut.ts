/**
 * A cut: the usable product that the tests of one origin and one cutting specification yield. Which tests stand
 * behind it is a decision (an adoption) that has a date and a person: it is the cut's own revision. Several tests are
 * pooled by weights. A portion spec: a cut at a size.
 */
import type { Quantity, Rate } from "@/lib/measure";
import type { Origin } from "./yield-test";

/** How joint cost is shared when a test has several main parts. Totals are the same under each. */
export type JointMethod = "sales-value" | "net-realizable" | "weight";
/** How a new dealer price reaches the cut: by the test's factor, or with by-products held at their own prices. */
export type Repricing = "by-factor" | "by-products-at-own-price";

export interface Cut {
  readonly id: string;
  readonly name: string;
  readonly of: Origin;
  /** Key of the main part, in the adopted tests, that this cut is. */
  readonly partKey: string;
  /** The adopted tests, pooled; empty while no test stands behind the cut (its yield is unknown). */
  readonly testIds: readonly string[];
  /** null: the default, own prices when any by-product is linked to a priced thing, else by the factor. */
  readonly repricing: Repricing | null;
  readonly joint: JointMethod;
  /** Cutting specification in words: trim, fat cover, thickness of the tail. */
  readonly specification: string;
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
}
