/**
 * The words of the cascade: the nodes that have a cost, what a cost is, and what is missing where a cost is only a
 * lower bound. A cost is told per gram, millilitre or each (items and cuts), per portion (specs), per batch (recipes)
 * or per plate (dishes). Unknown is not zero: a cost with something missing is "at least" its amount, and says what
 * would make it whole.
 */
import type { Decimal } from "@/lib/measure";

export type NodeKind = "item" | "cut" | "spec" | "recipe" | "dish";

/** From what is bought to what is served; the order in which a ripple is told. */
export const NODE_KINDS = ["item", "cut", "spec", "recipe", "dish"] as const satisfies readonly NodeKind[];

export interface NodeRef {
  readonly kind: NodeKind;
  readonly id: string;
}

/** A gap in what the book knows: a price, what the money it is asked in is worth, a yield, a density, an each-weight, or a whole fact that something refers to. */
export type Lack = "price" | "exchange-rate" | "yield" | "density" | "each-weight" | "fact";

/** What is missing, of which node, under the name people know it by. */
export interface Missing {
  readonly what: Lack;
  readonly of: NodeRef;
  readonly name: string;
}

/** A cut that is costed by a yield measured elsewhere, which a cost rests on. */
export interface BorrowedCut {
  readonly id: string;
  readonly name: string;
}

export type Per = "g" | "mL" | "each" | "portion" | "batch" | "plate";

/**
 * What a node costs, in the kitchen's currency: money per g / mL / each (item, cut), per portion (spec), per batch
 * (recipe), per plate (dish). A lower bound when `missing` is not empty. The amount has the 30 digits that the engine
 * carries for certain; where half a cent decides, ask `costExactly`.
 */
export interface NodeCost {
  readonly amount: Decimal;
  readonly per: Per;
  readonly missing: readonly Missing[];
  /** The cuts it rests on whose yield is borrowed, by name: the cost is whole, but not measured here. */
  readonly borrowed: readonly BorrowedCut[];
}

/** A node whose cost a change moves. `before` is null for a node the change brings in, `after` for one it takes away. */
export interface Moved {
  readonly ref: NodeRef;
  readonly name: string;
  readonly before: NodeCost | null;
  readonly after: NodeCost | null;
}

/** What a change of facts does to the costs: items, cuts, specs, recipes, dishes, each kind in topological order. */
export interface Ripple {
  readonly moved: readonly Moved[];
}
