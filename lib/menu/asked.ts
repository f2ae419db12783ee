/**
 * What a dish would have to be priced at. When its plate grows dearer, owner and chef often mean different things by
 * passing it on: the price that keeps the percentage and the price that keeps the margin are both told, and the one
 * that meets the target. Unrounded: the house's endings come after, on the menu price.
 */
import type { DishFigures } from "./figures";
import { type PassThrough, type PriceAsked, grossPrice, netPriceAtRatio, passThrough } from "./price";

/** The price at which a dish as it stands costs exactly its target. null while its cost is not wholly known, or nothing. */
export function priceAtTarget(figures: DishFigures): PriceAsked | null {
  if (figures.plateCost.missing.length > 0 || !figures.plateCost.amount.gt(0)) return null;
  const net = netPriceAtRatio(figures.plateCost.amount, figures.target);
  return net && { net, gross: grossPrice(net, figures.taxRate) };
}

/**
 * What a move of the plate cost asks of the price it had before. null where there was no price, or where either cost
 * is only a bound.
 */
export function pricesAsked(before: DishFigures, after: DishFigures): PassThrough | null {
  if (before.net === null || before.plateCost.missing.length > 0 || after.plateCost.missing.length > 0) return null;
  return passThrough(before.plateCost.amount, after.plateCost.amount, before.net, after.target, after.taxRate);
}
