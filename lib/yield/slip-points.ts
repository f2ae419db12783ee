/**
 * How likely a slip is, in points: how often it is made, and what in the sheet gives it away. Common practice, no source; a
 * seeded sample in tests/yield measures how often the points find the slip that was made.
 */
import type { Quantity, Ratio } from "@/lib/measure";
import type { FigureSlip } from "./slip-corrections";

export type SlipKind = FigureSlip | "tub-not-tared" | "no-tub-tared" | "tare-taken-twice" | "weighed-twice" | "not-weighed";

/** A slip at some places of the sheet, before it is told. */
export interface Proposal {
  readonly kind: SlipKind;
  readonly places: readonly number[];
  readonly wouldBe: readonly (Quantity | null)[];
  readonly weights: readonly Ratio[];
  readonly points: number;
  readonly tub: Quantity | null;
}

/** How often each slip is made, in points. */
export const OFTEN: Readonly<Record<SlipKind, number>> = {
  "tub-not-tared": 30, "ounces-as-decimals": 30, "not-weighed": 24, "wrong-unit": 24, "no-tub-tared": 22, "digits-swapped": 24, "decimal-point": 24,
  "weighed-twice": 16, "tare-taken-twice": 25, "decimals-as-ounces": 18, "digit-doubled": 18, "digit-dropped": 10,
};
export const OFF_THE_STEP = 15;
export const ODD_UNIT = 15;
export const SCALES_UNIT = 8;
export const SAME_WEIGHT = 18;
export const USUAL_SHARE = 25;
export const UNUSUAL_BEFORE = 25;
/** Taken from a proposal of a kind that is proposed already: three of one kind tell a cook less than three kinds. */
export const OF_A_KIND = 12;
/** Taken from a correction that leaves more than is usual, though not more than is believable. */
export const BEYOND_USUAL = 12;
