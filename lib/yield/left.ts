/**
 * What is left to account for while a test is being weighed: the whole less everything weighed so far. At the end it is
 * the loss. It is the same sum as loss in cutting, but over a sheet that is not finished, so it may stand at anything.
 */
import { type Quantity, type Ratio, baseFactor, kindOf, ratio } from "@/lib/measure";
import { quantityInBase } from "./sheet";

export interface LeftToAccountFor {
  /** In the whole's own unit; its size where the parts are heavier than the whole. */
  readonly amount: Quantity;
  readonly tooMuch: boolean;
  /** Of the whole, weighed so far; over 1 where the parts are heavier. */
  readonly weighed: Ratio;
  /** Each part's share of the whole, in order. */
  readonly shares: readonly Ratio[];
}

/** null while there is no whole, or when a part is measured in another kind of unit than the whole. */
export function leftToAccountFor(whole: Quantity | null, parts: readonly Quantity[]): LeftToAccountFor | null {
  if (whole === null) return null;
  const total = quantityInBase(whole);
  if (ratio.sign(total) <= 0 || parts.some((part) => kindOf(part.unit) !== kindOf(whole.unit))) return null;
  const shares = parts.map((part) => ratio.div(quantityInBase(part), total));
  const weighed = ratio.sum(shares);
  const left = ratio.mul(ratio.sub(ratio.ONE, weighed), total);
  const tooMuch = ratio.sign(left) < 0;
  const amount = ratio.div(tooMuch ? ratio.neg(left) : left, ratio.fromExact(baseFactor(whole.unit)));
  return { amount: { amount: ratio.toExact(amount), unit: whole.unit }, tooMuch, weighed, shares };
}
