/**
 * A new dealer price, without a new test. Two methods exist, and both are shown where they differ. By the factor, as
 * the textbooks do, every by-product is assumed to move in step with the dealer's price. By-products at their own
 * price keep their values: the slope per 1 of dealer price is then W/U = 1/Y, not F, and F < 1/Y whenever V > 0.
 */
import { type Ratio, ratio } from "@/lib/measure";

/** C′ = F·P′, money per usable unit. F cost factor per unit, P′ the new price per unit. Source: Dittmer & Keefe, ch. 6. */
export function repriceByFactor(F: Ratio, newP: Ratio): Ratio {
  return ratio.mul(F, newP);
}

/**
 * C′ = C + (W/U)(P′ − P), money per usable unit, by-products held at their own prices. C cost per usable unit at price P;
 * W billed and U usable weight. Algebra on C = (W/U)·P − Σ (w_k/U)·v_k.
 */
export function repriceAtOwnPrices(C: Ratio, W: Ratio, U: Ratio, P: Ratio, newP: Ratio): Ratio {
  return ratio.add(C, ratio.mul(ratio.div(W, U), ratio.sub(newP, P)));
}

/**
 * What the factor says less what by-products at their own price say, money per usable unit; algebra on the two:
 * C′(factor) − C′(own) = −(V/U)(P′/P − 1). Negative when the price rose: the factor understates. null when P = 0, where
 * there is no factor. V value of the by-products, U usable weight.
 */
export function repricingGap(V: Ratio, U: Ratio, P: Ratio, newP: Ratio): Ratio | null {
  if (ratio.sign(P) === 0) return null;
  return ratio.mul(ratio.div(V, U), ratio.sub(ratio.ONE, ratio.div(newP, P)));
}
