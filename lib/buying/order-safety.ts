/**
 * How much to buy of what is cut, so that it suffices. Quantity comes from the yield, q = E/Y, never from a cost factor.
 * At the mean yield it falls short half the time; for an event it is taken at the lower limit of what the next m pieces may
 * yield, Ŷ − t·s·√(1/m + 1/M): M pieces in all tests, s what single pieces differ by, t of n − 1 degrees, one-sided. But m is
 * itself what is bought, m = q/W̄, so q solves q·(Ŷ − t·s·√(W̄/q + 1/M)) = E. With k = t·s that is a quadratic,
 * (Ŷ² − k²/M)·q² − (2EŶ + k²W̄)·q + E² = 0, of which q is the greater root (the lesser one solves it with the other sign). q grows
 * with E; where Ŷ² ≤ k²/M there is no quantity of which one could be so sure: too few tests, too far apart.
 * Source of the limit: the prediction interval, Devore, Probability and Statistics for Engineering and the Sciences, ch. 7,
 * as in lib/yield/interval.ts; the quantity from it derived.
 */
import { Decimal, type Exact, type Ratio, exact, ratio } from "@/lib/measure";
import { TESTS_FOR_INTERVAL, TESTS_TO_START, type TestYield, deviationsOf, rootOf, tHolding, varianceOf } from "@/lib/yield";

/** What is known of how a cut comes off what it is cut from. */
export interface CutYield {
  /** Ŷ, usable over as purchased, pooled; or as borrowed. Above zero. */
  readonly yield: Ratio;
  /** W̄: what one piece weighs as purchased, base units; null where nobody has tested one. */
  readonly piece: Ratio | null;
  /** The tests it stands on; none where the yield is borrowed. */
  readonly tests: readonly TestYield[];
}

/** By which yield a quantity was found, and how sure that is. */
export type Sureness =
  /** By the mean. asked: nobody wanted more. borrowed: somebody else's yield, whose spread nobody here knows. one-test: no spread. too-spread: no quantity would do. */
  | { readonly by: "mean"; readonly why: "asked" | "borrowed" | "one-test" | "too-spread" }
  /** By the lower limit. `few`: from fewer tests than a spread should be told from. */
  | { readonly by: "limit"; readonly level: Exact; readonly few: boolean };

export interface CutQuantity {
  /** q, as purchased, base units. */
  readonly quantity: Ratio;
  /** E/q: what it must yield to suffice, and what was reckoned with. */
  readonly yield: Ratio;
  readonly sureness: Sureness;
}

/** What has to be bought for `needed` (E, base units, above zero) of a cut. `sureness`: one-sided, above a half and below one; null: the mean. */
export function quantityFor(needed: Ratio, cut: CutYield, sureness: Exact | null): CutQuantity {
  const mean = (why: Extract<Sureness, { by: "mean" }>["why"]): CutQuantity => ({ quantity: ratio.div(needed, cut.yield), yield: cut.yield, sureness: { by: "mean", why } });
  if (sureness === null) return mean("asked");
  if (cut.tests.length === 0 || cut.piece === null) return mean("borrowed");
  if (cut.tests.length < TESTS_FOR_INTERVAL) return mean("one-test");
  const limit: Sureness = { by: "limit", level: sureness, few: cut.tests.length < TESTS_TO_START };
  const found = deviationsOf(cut.tests.map((test) => ({ value: test.yield, weight: test.pieces })));
  const variance = varianceOf(found) ?? ratio.ZERO;
  if (ratio.sign(variance) === 0) return { ...mean("asked"), sureness: limit };
  const t = tHolding(ratio.toDecimal(ratio.fromExact(sureness)).mul(2).minus(1), new Decimal(cut.tests.length - 1));
  const k2 = t.mul(rootOf(variance)).pow(2);
  const Y = ratio.toDecimal(cut.yield);
  const a = Y.pow(2).minus(k2.div(ratio.toDecimal(found.weight)));
  if (a.lte(0)) return mean("too-spread");
  const E = ratio.toDecimal(needed);
  const W = ratio.toDecimal(cut.piece);
  const b = E.mul(Y).mul(2).plus(k2.mul(W));
  // b² − 4aE² multiplied out, so that nothing cancels where pieces hardly differ.
  const root = k2.mul(E.mul(Y).mul(W).mul(4).plus(k2.mul(W.pow(2))).plus(E.pow(2).mul(4).div(ratio.toDecimal(found.weight)))).sqrt();
  const quantity = countedUpward(b.plus(root).div(a.mul(2)));
  return { quantity, yield: ratio.div(needed, quantity), sureness: limit };
}

/** A root has no end: it is kept to 24 digits, upwards, so that what is bought never falls short of it. */
const DIGITS = 24;

function countedUpward(value: Decimal): Ratio {
  return ratio.fromExact(exact(value.toSignificantDigits(DIGITS, Decimal.ROUND_UP).toFixed()));
}

/** The lower limit itself, Ŷ − t·s·√(1/m + 1/M), of m pieces; null where there is no spread to tell it from. */
export function lowerLimit(cut: CutYield, pieces: Ratio, sureness: Exact): Decimal | null {
  if (cut.tests.length < TESTS_FOR_INTERVAL) return null;
  const found = deviationsOf(cut.tests.map((test) => ({ value: test.yield, weight: test.pieces })));
  const share = ratio.add(ratio.div(ratio.ONE, pieces), ratio.div(ratio.ONE, found.weight));
  const t = tHolding(ratio.toDecimal(ratio.fromExact(sureness)).mul(2).minus(1), new Decimal(cut.tests.length - 1));
  return ratio.toDecimal(cut.yield).minus(t.mul(rootOf(ratio.mul(varianceOf(found) ?? ratio.ZERO, share))));
}
