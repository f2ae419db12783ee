/**
 * Headroom: how far each dealer price may rise before a dish tips over its target. The plate cost is linear in every
 * price, so the price P* at which it equals τ·p is exact: P* = [U·(τp − c_o)/s + V]/W in the trade's letters, with
 * by-products as the cut reprices them. Headroom = P* over P, less 1; below zero the dish is over already, and P* is the
 * price it would have to fall to.
 */
import { type Cascade, breakEvenPrices, costOf, priceSensitivity } from "@/lib/cascade";
import type { Decimal } from "@/lib/measure";
import { type DishFigures, dishFigures } from "./figures";

export interface Headroom {
  readonly itemId: string;
  readonly name: string;
  /** Money per base unit (g, mL, each) of the item now, and where the dish tips. */
  readonly price: Decimal;
  readonly breakEven: Decimal;
  readonly per: "g" | "mL" | "each";
  /** Break-even price over the price now, less 1, a ratio; null when the price is zero. */
  readonly headroom: Decimal | null;
  /** What the plate cost moves when this price moves by one whole of itself: (dc/dP)·P/c, a ratio. null at a zero cost. */
  readonly share: Decimal | null;
}

/** Money that the food of a dish may cost: τ·p. null when it has no menu price. */
export function affordableCost(figures: DishFigures): Decimal | null {
  return figures.net === null ? null : figures.net.mul(figures.target);
}

/**
 * The headroom of a dish in every price that can tip it, least first. Empty while the dish is unpriced, or incomplete,
 * since a lower bound says nothing of where it tips; a price whose rise does not make the dish dearer, or which would
 * have to fall below zero, is left out.
 */
export function headroom(cascade: Cascade, dishId: string): Headroom[] {
  const figures = dishFigures(cascade, dishId);
  const affordable = figures && affordableCost(figures);
  if (!figures || !affordable || figures.plateCost.missing.length > 0) return [];
  const rows: Headroom[] = [];
  const breakEvens = breakEvenPrices(cascade, dishId, affordable);
  for (const [itemId, slope] of priceSensitivity(cascade, dishId)) {
    const cost = costOf(cascade, { kind: "item", id: itemId });
    const name = cascade.book.shelves.item.get(itemId)?.name;
    if (!cost || name === undefined || cost.missing.length > 0 || !slope.gt(0)) continue;
    const breakEven = breakEvens.get(itemId);
    if (breakEven === undefined || breakEven.lt(0) || (cost.per !== "g" && cost.per !== "mL" && cost.per !== "each")) continue;
    rows.push({
      itemId,
      name,
      price: cost.amount,
      breakEven,
      per: cost.per,
      headroom: cost.amount.gt(0) ? breakEven.div(cost.amount).minus(1) : null,
      share: figures.plateCost.amount.gt(0) ? slope.mul(cost.amount).div(figures.plateCost.amount) : null,
    });
  }
  return rows.sort(leastFirst);
}

/** Least room first; a price of zero (no ratio to tell) last; then by name. */
function leastFirst(a: Headroom, b: Headroom): number {
  if (a.headroom && b.headroom && !a.headroom.eq(b.headroom)) return a.headroom.comparedTo(b.headroom);
  if (!a.headroom !== !b.headroom) return a.headroom ? -1 : 1;
  return a.name < b.name ? -1 : a.name > b.name ? 1 : 0;
}
