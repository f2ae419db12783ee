/**
 * How much to buy. Buy with the yield, cost with the factor, and never swap them: 1/Y is not F as soon as trim has a
 * value. Quantities are exact until a whole pack or piece is counted, and purchases are counted up.
 */
import { type Checked, type Ratio, bad, good, ratio } from "@/lib/measure";

/**
 * As-purchased quantity: q = N·s/Y. N portions of size s (a weight or volume), Y yield; q in the unit of s.
 * Fails with no-yield when Y is not above zero. Source: Dittmer & Keefe, ch. 6.
 */
export function purchaseQuantity(N: Ratio, s: Ratio, Y: Ratio): Checked<Ratio> {
  return asPurchased(ratio.mul(N, s), Y);
}

/** As-purchased quantity for an edible-portion quantity: q_AP = q_EP/Y. Fails as above. Source: BC Cook Articulation Committee. */
export function asPurchased(edible: Ratio, Y: Ratio): Checked<Ratio> {
  if (ratio.sign(Y) <= 0) return bad("yield", "no-yield", "A yield of zero gives no edible portion from any quantity: the yield must be above zero.");
  return good(ratio.div(edible, Y));
}

/** Edible-portion quantity from what is purchased: q_EP = q_AP·Y. Source: as above. */
export function ediblePortion(purchased: Ratio, Y: Ratio): Ratio {
  return ratio.mul(purchased, Y);
}

/** Portions from a quantity: N = q·Y/s, exact; whole portions are counted down. Fails with no-size. Source: Dittmer & Keefe, ch. 6. */
export function portionsFrom(q: Ratio, Y: Ratio, s: Ratio): Checked<Ratio> {
  if (ratio.sign(s) <= 0) return bad("size", "no-size", "A portion must have a size above zero.");
  return good(ratio.div(ratio.mul(q, Y), s));
}

/** Size that serves N portions from a quantity: s = q·Y/N. Fails with no-portions. Source: Dittmer & Keefe, ch. 6. */
export function portionSizeFrom(q: Ratio, Y: Ratio, N: Ratio): Checked<Ratio> {
  if (ratio.sign(N) <= 0) return bad("portions", "no-portions", "At least one portion must be served.");
  return good(ratio.div(ratio.mul(q, Y), N));
}

/** Yield that a quantity must give for N portions of size s: Y = N·s/q. Fails with no-quantity. Source: Dittmer & Keefe, ch. 6. */
export function yieldNeeded(N: Ratio, s: Ratio, q: Ratio): Checked<Ratio> {
  if (ratio.sign(q) <= 0) return bad("quantity", "no-quantity", "The quantity bought must be above zero.");
  return good(ratio.div(ratio.mul(N, s), q));
}

/**
 * A quantity counted up to whole steps (packs, pieces, half pounds): the least multiple of `step` not below it.
 * Fails with no-step when the step is not above zero.
 */
export function countedUp(quantity: Ratio, step: Ratio): Checked<Ratio> {
  if (ratio.sign(step) <= 0) return bad("step", "no-step", "What is bought whole must have a size above zero.");
  return good(ratio.mul(ratio.of(ratio.ceil(ratio.div(quantity, step))), step));
}

/**
 * Two dealers' prices that give one cost per usable unit when trim has no value: P_a/P_b = Y_a/Y_b, the price of a as a
 * multiple of b's at which neither is cheaper. Fails with no-yield. Algebra on C = P/Y.
 */
export function breakEvenPriceRatio(Ya: Ratio, Yb: Ratio): Checked<Ratio> {
  if (ratio.sign(Yb) <= 0 || ratio.sign(Ya) <= 0) return bad("yield", "no-yield", "Both yields must be above zero to be compared.");
  return good(ratio.div(Ya, Yb));
}
