/**
 * Where a dish stands against its target: over, near, under, unpriced or incomplete. Decided exactly: a dish whose
 * food cost is precisely its target is not over it, and one that is precisely `near` points under it is near, however
 * the decimals of its cost run. The fast figure decides wherever it can; where it lies so close to the line that its
 * last digits would have to be believed, the exact fraction of the plate cost decides.
 */
import { Decimal, type Exact, type Ratio, ratio } from "@/lib/measure";

export type DishState = "over" | "near" | "under" | "unpriced" | "incomplete";

/** Relative distance from a line within which the fast figure is not trusted (it holds 24 digits or more). */
const DOUBTFUL = new Decimal("1e-20");

/** A plate cost: its decimal figure, and the same as an exact fraction when somebody asks. */
export interface CostToJudge {
  readonly amount: Decimal;
  readonly exactly: () => Ratio;
}

/** −1, 0 or 1 as the cost is below, at or above the exact limit. */
function compareToLimit(cost: CostToJudge, limit: Ratio): number {
  const line = ratio.toDecimal(limit);
  const distance = cost.amount.minus(line);
  if (distance.abs().gt(line.abs().plus(cost.amount.abs()).mul(DOUBTFUL))) return distance.gt(0) ? 1 : -1;
  return ratio.compare(cost.exactly(), limit);
}

/**
 * The state of a dish by its plate cost c (money), net price p (money, exact; null: no menu price), target τ and near
 * margin ν (shares of the net price). Over: c > τ·p. Near: not over and c ≥ (τ − ν)·p. Under otherwise. An incomplete
 * cost is only a lower bound: over if even the bound is over, else "incomplete", since nobody can say. A price that
 * is not above zero counts as no price.
 */
export function dishState(
  cost: CostToJudge, complete: boolean, net: Ratio | null, target: Exact, near: Exact,
): DishState {
  if (net === null || net.n <= 0n) return "unpriced";
  const share = ratio.fromExact(target);
  if (compareToLimit(cost, ratio.mul(net, share)) > 0) return "over";
  if (!complete) return "incomplete";
  const nearFrom = ratio.sub(share, ratio.fromExact(near));
  return compareToLimit(cost, ratio.mul(net, nearFrom)) >= 0 ? "near" : "under";
}
