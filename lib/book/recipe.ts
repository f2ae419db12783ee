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

export interface Recipe {
  readonly id: string;
  readonly name: string;
  readonly section: string;
  /** Measured batch yield, at most one quantity of each kind: 4 qt, and 8 lb 6 oz, and 32 portions. At least one. */
  readonly yields: readonly Quantity[];
  readonly lines: readonly Line[];
  readonly method: string;
}

export type DishRole = "main" | "side" | "garnish" | "cover" | "packaging";

export interface DishLine extends Line {
  readonly role: DishRole;
}

/** A menu item: what one guest's plate is made of. */
export interface Dish {
  readonly id: string;
  readonly name: string;
  readonly section: string;
  readonly lines: readonly DishLine[];
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
