/**
 * The balance of a sheet. Loss in cutting is derived, never typed: what was billed less everything that was weighed.
 * The parts almost never add up to the start weight, and a scale that reads in steps can make them add up to slightly
 * more; that much is forgiven and told. Beyond it the sheet is wrong and no figure may be drawn from it.
 */
import { type Checked, type Problem, type Ratio, type Unit, good, ratio } from "@/lib/measure";
import { sayWeight } from "./words";

export interface Weighing {
  readonly name: string;
  /** In base units. */
  readonly weight: Ratio;
  /** How often the scale was read for it: its pieces where they were weighed apart. */
  readonly weighings: number;
}

export interface Balance {
  /** What is unaccounted for, in base units; never below zero. */
  readonly loss: Ratio;
  /** By how much the parts weighed more than the whole, within what the scale's step explains; else zero. */
  readonly forgiven: Ratio;
  /** A note where something was forgiven. */
  readonly notes: readonly Problem[];
}

/**
 * Loss in cutting, in the weights' unit. W billed weight, U usable weight, w other weighed parts: L = W − U − Σ w.
 * Source: Dittmer & Keefe, ch. 6.
 */
export function lossInCutting(W: Ratio, U: Ratio, w: readonly Ratio[]): Ratio {
  return ratio.sub(ratio.sub(W, U), ratio.sum(w));
}

/**
 * How much more than the whole the parts may weigh on a scale of step d read m times: m·d/2, since each reading is
 * off by at most half a step. m counts the whole and every part. Derived from the rounding of the scale.
 */
export function scaleTolerance(m: number, d: Ratio): Ratio {
  return ratio.div(ratio.mul(ratio.of(BigInt(m)), d), ratio.of(2n));
}

/** How often the scale was read for a sheet: once for the whole, and for every part or each of its pieces. */
export function readingsOf(parts: readonly Weighing[]): number {
  return parts.reduce((count, part) => count + part.weighings, 1);
}

/**
 * Balances what was weighed against the whole. All weights in base units; `step` the scale's smallest step or null
 * when not said (then nothing is forgiven); `unit` is what sentences are told in; `whole` names the whole.
 * Problem: parts-exceed-whole, with the excess; which slip is the likeliest cause is asked of the whole sheet (slips.ts).
 */
export function balance(whole: { readonly name: string; readonly weight: Ratio }, parts: readonly Weighing[], step: Ratio | null, unit: Unit): Checked<Balance> {
  const loss = lossInCutting(whole.weight, ratio.ZERO, parts.map((part) => part.weight));
  if (ratio.sign(loss) >= 0) return good({ loss, forgiven: ratio.ZERO, notes: [] });
  const excess = ratio.neg(loss);
  const readings = readingsOf(parts);
  if (step !== null && ratio.compare(excess, scaleTolerance(readings, step)) <= 0) {
    const sentence = `The parts weigh ${sayWeight(excess, unit)} more than the whole, which ${readings} readings of a scale in steps of ${sayWeight(step, unit)} explain: loss counted as none.`;
    return good({ loss: ratio.ZERO, forgiven: excess, notes: [{ path: "parts", code: "loss-forgiven", sentence }] });
  }
  const total = ratio.add(whole.weight, excess);
  return {
    ok: false,
    problems: [
      {
        path: "parts",
        code: "parts-exceed-whole",
        sentence: `Parts add to ${sayWeight(total, unit)} but ${whole.name} weighed ${sayWeight(whole.weight, unit)}: ${sayWeight(excess, unit)} too much. ${UNKNOWN_CAUSE}`,
      },
    ],
  };
}

/** What is said of an excess while nothing in the sheet tells more (slips.ts does). */
export const UNKNOWN_CAUSE = "Most likely a tub was not tared, or ounces were typed as decimals: weigh again or correct the row.";
