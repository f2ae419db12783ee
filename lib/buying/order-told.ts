/**
 * Quantities of an order as a kitchen weighs and counts them. What is needed is told upwards, so that whoever buys or cuts
 * just what stands there has enough; what is left over is told downwards, so that nobody counts on more. The arithmetic
 * before it is exact: only what is printed is rounded.
 */
import { type Habits, type Kind, type Quantity, type Ratio, type Unit, baseFactor, quantityText, ratio } from "@/lib/measure";

/** From how much on which unit is told, and to what step, largest first. */
interface Rung { readonly unit: Unit; readonly from: Ratio; readonly step: Ratio }
const rung = (unit: Unit, from: bigint, n: bigint, d: bigint): Rung => ({ unit, from: ratio.of(from), step: ratio.of(n, d) });

const RUNGS: Readonly<Record<Habits["measures"], Readonly<Record<Kind, readonly Rung[]>>>> = {
  us: {
    mass: [rung("lb", 1n, 1n, 16n), rung("oz", 0n, 1n, 8n)],
    volume: [rung("qt", 1n, 1n, 8n), rung("fl oz", 0n, 1n, 2n)],
    count: [rung("each", 0n, 1n, 1n)],
  },
  metric: {
    mass: [rung("kg", 1n, 1n, 100n), rung("g", 0n, 1n, 1n)],
    volume: [rung("L", 1n, 1n, 20n), rung("mL", 0n, 5n, 1n)],
    count: [rung("each", 0n, 1n, 1n)],
  },
};

/** An amount of base units (g, mL, each) in the unit and to the step in which the kitchen tells it. */
export function toldAs(amount: Ratio, kind: Kind, habits: Pick<Habits, "measures">, way: "up" | "down"): Quantity {
  const rungs = RUNGS[habits.measures][kind];
  const at = rungs.find(({ unit, from }) => ratio.compare(ratio.div(amount, ratio.fromExact(baseFactor(unit))), from) >= 0) ?? rungs.at(-1);
  if (at === undefined) throw new Error(`expected a way to tell a ${kind}`);
  const steps = ratio.div(ratio.div(amount, ratio.fromExact(baseFactor(at.unit))), at.step);
  return { amount: ratio.toExact(ratio.mul(ratio.of(way === "up" ? ratio.ceil(steps) : ratio.floor(steps)), at.step)), unit: at.unit };
}

/** "28 lb 2 oz", enough. */
export function neededText(amount: Ratio, kind: Kind, habits: Habits): string {
  return quantityText(toldAs(amount, kind, habits, "up"), habits);
}

/** "7 lb 14 oz", at least. */
export function leftText(amount: Ratio, kind: Kind, habits: Habits): string {
  return quantityText(toldAs(amount, kind, habits, "down"), habits);
}
