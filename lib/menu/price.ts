/**
 * A dish's price and what its food may cost. Net price p = G/(1+t): tax within the menu price is not the house's
 * money, nor are service charge and tips. Food-cost ratio = c/p, contribution margin = p − c: dollars, not
 * percentages, reach the bank, so both are always at hand. (34.95 with 20 % tax at a cost of 9.80 is 33.6 %; 28.0 %
 * is what one gets by forgetting the tax.) Nothing here rounds: endings and cents belong to the page and the menu.
 */
import { type Decimal, type Exact, type Ratio, ratio, toDecimal } from "@/lib/measure";

/** Net price p = G/(1+t) as an exact ratio. G menu price, t tax as a share of the net price, both exact. */
export function netPriceExactly(gross: Exact, taxRate: Exact): Ratio {
  return ratio.div(ratio.fromExact(gross), ratio.add(ratio.ONE, ratio.fromExact(taxRate)));
}

/** Net price p = G/(1+t), money. */
export function netPrice(gross: Exact, taxRate: Exact): Decimal {
  return ratio.toDecimal(netPriceExactly(gross, taxRate));
}

/** Menu price G = p·(1+t), money. */
export function grossPrice(net: Decimal, taxRate: Exact): Decimal {
  return net.mul(toDecimal(taxRate).plus(1));
}

/** Food-cost ratio c/p: plate cost over net price. null when the net price is not above zero (it is then undefined). */
export function foodCostRatio(plateCost: Decimal, net: Decimal): Decimal | null {
  return net.gt(0) ? plateCost.div(net) : null;
}

/** Contribution margin p − c, money a plate. */
export function contributionMargin(plateCost: Decimal, net: Decimal): Decimal {
  return net.minus(plateCost);
}

/** Net price at which a plate cost is the given share of it: p = c/τ. null when the share is not above zero. */
export function netPriceAtRatio(plateCost: Decimal, share: Decimal): Decimal | null {
  return share.gt(0) ? plateCost.div(share) : null;
}

/** A price as the house takes it and as the menu prints it, money, unrounded. */
export interface PriceAsked {
  readonly net: Decimal;
  readonly gross: Decimal;
}

/** The two prices a chef and an owner may mean by "passing it on", and the one that meets the target. */
export interface PassThrough {
  /** Keeps the food-cost percentage as it was before: p' = c'/(c/p), so Δp = Δc/(c/p). null when the plate cost nothing before. */
  readonly keepsPercentage: PriceAsked | null;
  /** Keeps the contribution margin as it was before: p' = p + Δc. */
  readonly keepsMargin: PriceAsked;
  /** Meets the target exactly: p' = c'/τ. null when the target is zero. */
  readonly meetsTarget: PriceAsked | null;
}

/**
 * What the price would have to become when the plate cost goes from `costBefore` to `costAfter` (money a plate), the
 * price before being `net` (net, money) and the target `target` (a ratio). Keeping the percentage asks for Δc/τ, keeping the margin
 * only for Δc: at 32 % a cost up by 0.91 asks for 2.85 or for 0.91.
 */
export function passThrough(
  costBefore: Decimal, costAfter: Decimal, net: Decimal, target: Decimal, taxRate: Exact,
): PassThrough {
  const asked = (price: Decimal | null): PriceAsked | null =>
    price === null ? null : { net: price, gross: grossPrice(price, taxRate) };
  const margin = net.plus(costAfter.minus(costBefore));
  return {
    // c'·p/c in one division, so that an unchanged cost gives back the very price.
    keepsPercentage: asked(costBefore.gt(0) ? costAfter.mul(net).div(costBefore) : null),
    keepsMargin: { net: margin, gross: grossPrice(margin, taxRate) },
    meetsTarget: asked(netPriceAtRatio(costAfter, target)),
  };
}
