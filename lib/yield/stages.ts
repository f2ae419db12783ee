/**
 * The stages a thing passes between the invoice and the guest, with the yields that are believable at each. Whether a
 * stage can add weight at all is a law (trimming cannot); the range is a guard rail that a kitchen may move, and a
 * yield outside it is asked about, not refused. Ranges are common practice but where a source is named.
 */
import { type Problem, type Ratio, ratio } from "@/lib/measure";
import { sayShare } from "./words";

export type StageKind = "trim" | "thaw" | "deglaze" | "cook" | "carve" | "brine" | "hydrate" | "drain" | "reduce";

export interface StageRange {
  /** What the stage does, as a sentence's subject: "Trimming". */
  readonly doing: string;
  /** Weight can be added: water or solution is taken up. */
  readonly gain: boolean;
  readonly low: Ratio;
  readonly high: Ratio;
}

export type StageRanges = Readonly<Record<StageKind, StageRange>>;

const hundredths = (n: number): Ratio => ratio.of(BigInt(n), 100n);
const range = (doing: string, gain: boolean, low: number, high: number): StageRange => ({ doing, gain, low: hundredths(low), high: hundredths(high) });

export const STAGE_RANGES: StageRanges = {
  trim: range("Trimming", false, 0, 100),
  // Total purge 2 to 5 % higher after slow thawing in one university study.
  thaw: range("Thawing", false, 85, 100),
  // Glaze 8 to 12 % usual, up to 40 % seen.
  deglaze: range("Deglazing", false, 60, 100),
  cook: range("Cooking in dry heat", false, 40, 100),
  carve: range("Carving", false, 40, 100),
  brine: range("Brining", true, 100, 120),
  // A yield handbook lists 291 % among others.
  hydrate: range("Hydrating", true, 150, 400),
  drain: range("Draining", false, 40, 90),
  reduce: range("Reducing", false, 5, 90),
};

/** A warning when a yield lies outside the believable range of its stage, else null. */
export function stageWarning(stage: StageKind, stageYield: Ratio, path: string, ranges: StageRanges = STAGE_RANGES): Problem | null {
  const { doing, low, high } = ranges[stage];
  if (ratio.compare(stageYield, low) >= 0 && ratio.compare(stageYield, high) <= 0) return null;
  const usual = ratio.sign(low) === 0 ? `at most ${sayShare(high)}` : `between ${sayShare(low)} and ${sayShare(high)}`;
  return { path, code: "yield-unusual", sentence: `${doing} usually yields ${usual}; this one yields ${sayShare(stageYield)}. Check the weights and their units.` };
}
