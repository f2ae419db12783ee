/**
 * A dish opened: its plate cost line by line, largest first, and from there to what it sells for: tax out of the menu
 * price, what of the net price the food may cost and does cost, and what is left.
 */
import { type Cascade, type Explanation, explain } from "@/lib/cascade";
import type { Decimal } from "@/lib/measure";
import { type DishFigures, dishFigures } from "./figures";
import { affordableCost } from "./headroom";

export interface DishOpened {
  readonly explanation: Explanation;
  readonly figures: DishFigures;
  /** Tax within the menu price, G − p, money; null when unpriced. */
  readonly tax: Decimal | null;
  /** What the food may cost, τ·p, money; null when unpriced. */
  readonly affordable: Decimal | null;
  /** τ·p − c, money: what is left until the dish is over, below zero when it is. null when unpriced. */
  readonly toSpare: Decimal | null;
}

/** Opens a dish; null when the book has no such dish. */
export function explainDish(cascade: Cascade, dishId: string): DishOpened | null {
  const figures = dishFigures(cascade, dishId);
  const explanation = figures && explain(cascade, { kind: "dish", id: dishId });
  if (!figures || !explanation) return null;
  const affordable = affordableCost(figures);
  return {
    explanation,
    figures,
    tax: figures.gross && figures.net ? figures.gross.minus(figures.net) : null,
    affordable,
    toSpare: affordable && affordable.minus(figures.plateCost.amount),
  };
}
