/**
 * What is bought: dealers, items with their purchase specification, and quotes. A quote is what one dealer asks for
 * one item; a new price is a new revision of that quote from a date, a correction one that names the revision it
 * replaces. An item is costed by the quote of the dealer it is bought from, or, where none is named, by the newest.
 */
import type { Exact, Kind, Money, Quantity, Unit } from "@/lib/measure";
import type { Allergens } from "./allergens";

export interface Dealer {
  readonly id: string;
  readonly name: string;
  readonly note: string;
}

export interface Item {
  readonly id: string;
  readonly name: string;
  /** Shelf of the larder it is listed under: "Beef", "Produce", "Dairy". */
  readonly section: string;
  /** Purchase specification in words: grade, weight range, trim, state. */
  readonly specification: string;
  /** The kind of quantity it is priced in: packs and prices of its quotes resolve to this kind. */
  readonly kind: Kind;
  /** The dealer it is bought from and costed at; null: the newest quote of any dealer. */
  readonly dealerId: string | null;
  /** Grams in a millilitre, from own weighing or a table; null when not known. Lets volume and weight meet. */
  readonly density: { readonly gramsPerMl: Exact; readonly source: string; readonly on: string } | null;
  /** What one weighs; null when not known. Lets count and weight meet. */
  readonly eachWeight: { readonly weight: Quantity; readonly source: string; readonly on: string } | null;
  /** What the label says of allergens; null: nobody has looked yet, which is not the same as none. */
  readonly allergens: Allergens | null;
}

export interface PackLevel {
  readonly count: Exact;
  /** Word for the container: "case", "bag", "can". */
  readonly container: string;
}

/** How a thing is packed. A case of 4 bags of 5 lb: levels [1 case, 4 bag], size 5 lb. 80 ct: levels [1 case], size 80 each. */
export interface Pack {
  readonly levels: readonly PackLevel[];
  /** What the innermost container holds (or a piece weighs, as an estimate, when catch weight). */
  readonly size: Quantity;
  /** Billed by actual weight: price is per unit, and the pack's size only an estimate. */
  readonly catchWeight: boolean;
}

export interface Quote {
  readonly id: string;
  readonly itemId: string;
  readonly dealerId: string;
  readonly pack: Pack;
  /** What is asked, in the kitchen's currency; above zero. */
  readonly price: Money;
  /** What the price is for: the whole outermost pack, or one of a unit ("lb"). Catch weight is always per unit. */
  readonly per: "pack" | Unit;
  readonly basis: "quoted" | "contract" | "invoice";
  /** The dealer's own order code, or "". */
  readonly code: string;
}
