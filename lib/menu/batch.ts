/**
 * A standard recipe made at another size. Conversion factor = new yield / old yield, both measured in the same kind
 * (portions of another size are compared by their total weight or volume, not by their count); each line's quantity times
 * that factor. Not everything scales so: seasoning, leavening, thickening, evaporation, pan area and time do not, so
 * outside one half to four times a factor is to be taken with care.
 */
import { type Exact, type Quantity, type Ratio, inBaseExactly, quantityKind, ratio } from "@/lib/measure";

/** Below and above these a conversion factor is more than arithmetic. */
const CAREFUL_BELOW: Ratio = { n: 1n, d: 2n };
const CAREFUL_ABOVE: Ratio = { n: 4n, d: 1n };

/** New yield over old yield, exact; null when the two are of different kinds or the old one is not above zero. */
export function conversionFactor(oldYield: Quantity, newYield: Quantity): Exact | null {
  if (quantityKind(oldYield) !== quantityKind(newYield)) return null;
  const old = ratio.fromExact(inBaseExactly(oldYield));
  if (ratio.sign(old) <= 0) return null;
  return ratio.toExact(ratio.div(ratio.fromExact(inBaseExactly(newYield)), old));
}

/** So many portions of a size: 75 servings of 5 oz are 375 oz. Exact, in the unit of the size. */
export function totalYield(portions: Exact, size: Quantity): Quantity {
  return { amount: ratio.toExact(ratio.mul(ratio.fromExact(portions), ratio.fromExact(size.amount))), unit: size.unit };
}

/** A line's quantity times the conversion factor, exact, in the unit it was written in. */
export function scaled(quantity: Quantity, factor: Exact): Quantity {
  return { amount: ratio.toExact(ratio.mul(ratio.fromExact(quantity.amount), ratio.fromExact(factor))), unit: quantity.unit };
}

/** True when a factor is outside one half to four times, where seasoning, evaporation and time go their own way. */
export function needsCare(factor: Exact): boolean {
  const value = ratio.fromExact(factor);
  return ratio.compare(value, CAREFUL_BELOW) < 0 || ratio.compare(value, CAREFUL_ABOVE) > 0;
}
