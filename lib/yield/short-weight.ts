/**
 * Short weight: what was received weighs less than what was billed. It is a claim on the dealer and no part of the yield:
 * the test still counts the billed weight, since that was paid for. Weigh it on a suitable scale before the bag is opened;
 * liquid in the bag was billed and belongs in the test, as purge.
 */
import { type Problem, type Quantity, type Rate, type Ratio, baseFactor, kindOf, ratio } from "@/lib/measure";
import { scaleTolerance } from "./balance";
import { quantityInBase, rateInBase } from "./sheet";
import { sayMoney, sayWeight } from "./words";

export interface ShortWeight {
  /** In the unit that was billed. */
  readonly short: Quantity;
  /** What was paid for nothing: the short weight at the dealer's price, money; null while the price is not known. */
  readonly claim: Ratio | null;
  readonly problem: Problem;
}

/**
 * short = billed − received, claim = short · P. null when nothing is short beyond what one reading of the scale explains
 * (d/2, as `scaleTolerance`), or when the two are told in different kinds of unit. Common practice, no source.
 */
export function shortWeight(billed: Quantity, received: Quantity, price: Rate | null, step: Quantity | null): ShortWeight | null {
  if (kindOf(billed.unit) !== kindOf(received.unit)) return null;
  const short = ratio.sub(quantityInBase(billed), quantityInBase(received));
  const explained = step === null || kindOf(step.unit) !== kindOf(billed.unit) ? ratio.ZERO : scaleTolerance(1, quantityInBase(step));
  if (ratio.compare(short, explained) <= 0) return null;
  const priced = price !== null && kindOf(price.per) === kindOf(billed.unit) ? ratio.mul(short, rateInBase(price)) : null;
  const say = (weight: Ratio): string => sayWeight(weight, billed.unit);
  const claim = priced === null ? "a claim on the dealer" : `a claim on the dealer of ${sayMoney(priced)}`;
  return {
    short: { amount: ratio.toExact(ratio.div(short, ratio.fromExact(baseFactor(billed.unit)))), unit: billed.unit },
    claim: priced,
    problem: {
      path: "received", code: "short-weight",
      sentence: `Billed ${say(quantityInBase(billed))}, received ${say(quantityInBase(received))}: ${say(short)} short. That is ${claim}, not yield: the test counts what was billed.`,
    },
  };
}
