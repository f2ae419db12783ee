/**
 * What is given away with each portion. The guest was promised the size; what is cut is what was weighed at the pass, on
 * average. Above the size the difference is given away and paid for. Below it nothing is saved: within the tolerance it
 * is chance that must not become a habit, and under it a promise is broken.
 */
import { type Quantity, type Ratio, ratio } from "@/lib/measure";
import { limitsOf } from "./portion-tolerance";
import { quantityInBase } from "./sheet";

/** on: at the size. over: given away. under: below the size, within the tolerance. short: below the size less the tolerance. */
export type CutStanding = "on" | "over" | "under" | "short";

export interface Giveaway {
  readonly standing: CutStanding;
  /** w̄ − s in base units; below zero when less is cut than was promised. */
  readonly off: Ratio;
  /** (w̄ − s)/s. */
  readonly share: Ratio;
  /** (w̄ − s)·C, money a portion, where something is given away; null otherwise, or while C is not known. */
  readonly perPortion: Ratio | null;
}

/**
 * Giveaway per portion = (w̄ − s)·C for w̄ > s. s the size promised, w̄ the mean weight as cut, both of one kind of
 * unit; C cost per base unit of the cut, money, null while it is not known. `tolerance` null: any amount under the size
 * is short. Derived.
 */
export function giveaway(size: Quantity, meanCut: Quantity, tolerance: Quantity | null, C: Ratio | null): Giveaway {
  const s = quantityInBase(size);
  const w = quantityInBase(meanCut);
  const off = ratio.sub(w, s);
  const least = tolerance === null ? s : limitsOf(size, tolerance).least;
  const standing: CutStanding = ratio.sign(off) > 0 ? "over" : ratio.sign(off) === 0 ? "on" : ratio.compare(w, least) < 0 ? "short" : "under";
  return { standing, off, share: ratio.div(off, s), perPortion: standing !== "over" || C === null ? null : ratio.mul(off, C) };
}
