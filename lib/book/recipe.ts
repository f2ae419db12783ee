/**
 * Standard recipes and dishes. A line takes an item as purchased, a cut (edible portion), portions of a spec, or an
 * amount of another recipe; the kind of thing says whether the quantity is as purchased or edible portion, so a yield
 * is never divided twice. A recipe's batch yield is measured, after cooking.
 */
import type { Exact, Money, Quantity } from "@/lib/measure";

export type LineKind = "item" | "cut" | "spec" | "recipe";

export interface Line {
  /** Stable within its recipe or dish. */
  readonly key: string;
  readonly of: { readonly kind: LineKind; readonly id: string };
  /** Items: as purchased. Cuts: edible portion. Specs: a count of portions. Recipes: part of the batch. */
  readonly quantity: Quantity;
  readonly note: string;
}

/**
 * Something that is reckoned and not weighed: salt and pepper (a spice factor), what comes with every cover (a Q factor,
 * which the house names itself), what is spilt (a waste allowance). A share is either put on the cost of the lines,
 * c·(1+w), or taken as a share of what the whole comes to, c/(1−w): 5 % on 10.00 is 10.50 or 10.53.
 */
export type Allowance = {
  readonly key: string;
  /** The house's own word for it. */
  readonly name: string;
} & (
  | { readonly kind: "share"; readonly share: Exact; readonly basis: "on-cost" | "of-whole" }
  /** Money a batch, or a plate. */
  | { readonly kind: "money"; readonly amount: Money }
);

/** One step of the method. */
export interface RecipeStep {
  readonly text: string;
  /** The temperature that this step must reach or keep; null where none is critical. */
  readonly critical: CriticalTemperature | null;
}

export interface CriticalTemperature {
  readonly degrees: Exact;
  readonly scale: "F" | "C";
  /** For how long, or until when: "15 seconds", "or below, all the while". */
  readonly held: string;
}

export interface Recipe {
  readonly id: string;
  readonly name: string;
  readonly section: string;
  /** Measured batch yield, at most one quantity of each kind: 4 qt, and 8 lb 6 oz, and 32 portions. At least one. */
  readonly yields: readonly Quantity[];
  readonly lines: readonly Line[];
  readonly allowances: readonly Allowance[];
  /** What stands before the steps: pans, how it is kept. */
  readonly method: string;
  readonly steps: readonly RecipeStep[];
}

export type DishRole = "main" | "side" | "garnish" | "cover" | "packaging";

/** How a plate leaves the house: packaging goes with what is taken away, a garnish perhaps only to the table. */
export type Channel = "any" | "table" | "away";

export interface DishLine extends Line {
  readonly role: DishRole;
  /** The plate cost is told at the table; what is taken away is told beside it. */
  readonly channel: Channel;
}

/** A menu item: what one guest's plate is made of. */
export interface Dish {
  readonly id: string;
  readonly name: string;
  readonly section: string;
  readonly lines: readonly DishLine[];
  readonly allowances: readonly Allowance[];
  readonly note: string;
}

/** What a dish sells for and what its food may cost. Its id is the dish's id. */
export interface MenuPrice {
  readonly id: string;
  /** As printed on the menu (gross). */
  readonly gross: Money;
  /** Tax within the gross price as a share of the net; null: the kitchen's. */
  readonly taxRate: Exact | null;
  /** Target food cost as a share of the net price; null: the kitchen's. */
  readonly target: Exact | null;
}

/** What was sold in one week. Its id is the Monday, "2026-11-16". */
export interface SalesWeek {
  readonly id: string;
  readonly sold: readonly { readonly dishId: string; readonly count: Exact }[];
}
