/**
 * What is bought: dealers, items with their purchase specification, and quotes. A quote is what one dealer asks for
 * one item; a new price is a new revision of that quote from a date, a correction one that names the revision it
 * replaces. An item is costed by the quote of the dealer it is bought from, or, where none is named, by the newest.
 * An item that is not bought but comes off something else in the house has a transfer price in place of quotes.
 */
import type { Exact, Kind, Money, Quantity, Rate, Unit } from "@/lib/measure";
import type { Allergens } from "./allergens";

export interface Dealer {
  readonly id: string;
  readonly name: string;
  readonly note: string;
  /** The least an order comes to, in the kitchen's currency; null: none, or not known. */
  readonly minimumOrder: Money | null;
  /** How and when to order, in words: "by 4 pm, brings Tue and Fri". */
  readonly ordering: string;
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
  /** null: it is bought. Otherwise it is a by-product of the house, and nobody's quote is asked. */
  readonly transfer: Transfer | null;
}

/**
 * The price at which one part of the house passes a by-product to another. What it came off is credited with it and what
 * it goes into is charged with it: the same number, so that no profit is invented between the two.
 */
export interface Transfer {
  readonly price: TransferPrice;
  /** The day it was decided. */
  readonly on: string;
  /** Where it goes, in words: "burger grind", "staff meal"; may be "". */
  readonly destination: string;
  /** How much of it comes off and how much of that is used, over the same weeks; null: nobody has counted, and all of it is taken for used. */
  readonly use: TransferUse | null;
}

export type TransferPrice =
  /** What a market asks, and which one. */
  | { readonly kind: "market"; readonly rate: Rate; readonly source: string }
  /** Decided in the house; `source` says how. */
  | { readonly kind: "fixed"; readonly rate: Rate; readonly source: string }
  /** What the item costs whose place it takes, less the work still to be done to it. */
  | { readonly kind: "item"; readonly itemId: string; readonly less: Rate | null };

/** Both in units of one kind. A credit is capped by use: v · min(1, used ÷ produced). */
export interface TransferUse {
  readonly produced: Quantity;
  readonly used: Quantity;
  /** Over which weeks, in words. */
  readonly over: string;
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
  /** What is asked, in `currency`; above zero. */
  readonly price: Money;
  /** What the price is for: the whole outermost pack, or one of a unit ("lb"). Catch weight is always per unit. */
  readonly per: "pack" | Unit;
  /** ISO 4217 code of the money that it is asked in; null: the kitchen's own. */
  readonly currency: string | null;
  /** What the price rests on: asked for, agreed until a day, moving with a market report, billed. */
  readonly basis: "quoted" | "contract" | "market" | "invoice";
  /** The last day of a contract; null elsewhere, or where it has none. */
  readonly until: string | null;
  /** The dealer's own order code, or "". */
  readonly code: string;
  /** GTIN of the pack, 14 digits, or "". */
  readonly gtin: string;
  /** What comes on top of the asked price, and what is paid back. */
  readonly landed: readonly Landed[];
}

/** Freight, fuel, a rebate: what stands between the asked price and what the goods cost at the door. Money is in the quote's currency. */
export interface Landed {
  readonly key: string;
  readonly name: string;
  readonly way: "adds" | "takes-off";
  readonly of:
    | { readonly kind: "money"; readonly amount: Money; readonly per: "pack" | Unit }
    /** Of the asked price. */
    | { readonly kind: "share"; readonly share: Exact };
}
