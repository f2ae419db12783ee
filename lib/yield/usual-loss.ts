/**
 * What is usual: how much of the whole a sheet leaves unaccounted for, and what share each part is. Taken from earlier
 * tests of the same thing where there are some, else from what a careful colleague asks about (warnings.ts). It decides
 * when a sheet is looked at twice, and never changes a figure.
 */
import { type Ratio, kindOf, ratio } from "@/lib/measure";
import { type WeighedSheet, quantityInBase } from "./sheet";
import { STAGE_RANGES } from "./stages";
import { LOSS_ALWAYS, LOSS_WITHOUT_PURGE } from "./warnings";

/** Shares of the whole, 1 being all of it. */
export interface UsualLoss {
  readonly low: Ratio;
  readonly high: Ratio;
  /** What a sheet whose parts were too heavy may leave once it is mended: it may then still lack a row, such as purge. */
  readonly believable: Ratio;
}

export interface UsualShare {
  readonly name: string;
  readonly share: Ratio;
}

/** What earlier tests of the same thing say. */
export interface Usual {
  /** How many tests stand behind it. */
  readonly tests: number;
  readonly loss: UsualLoss | null;
  /** By the key of the part: its share of all that was billed in the tests that have it. */
  readonly shares: ReadonlyMap<string, UsualShare>;
}

/**
 * The usual loss of a kind of sheet where no earlier test says otherwise: of the block, none to 2 % without a row for
 * purge and to 5 % with one (published tests lose 0.6 to 4.2 %, Dittmer & Keefe; the thresholds are common practice, no source);
 * elsewhere what is left at the ends of the believable yields of the stage. null: anything, since the rest is not weighed.
 */
export function usualLossOf(sheet: Pick<WeighedSheet, "kind" | "parts">): UsualLoss | null {
  const weighedRest = sheet.parts.some((part) => part.role === "discard" || part.role === "by-product");
  const purged = sheet.parts.some((part) => part.role === "purge");
  switch (sheet.kind) {
    case "butcher": return { ...ofTheBlock, high: purged ? LOSS_ALWAYS : LOSS_WITHOUT_PURGE };
    case "trim": return weighedRest ? { ...ofTheBlock, high: purged ? LOSS_ALWAYS : LOSS_WITHOUT_PURGE } : null;
    case "drained": return weighedRest ? { ...ofTheBlock, high: LOSS_ALWAYS } : leftBy("drain");
    case "hydration": return leftBy("hydrate");
    case "cooking": return null;
  }
}

const ofTheBlock = { low: ratio.ZERO, believable: LOSS_ALWAYS };

/** What a stage leaves unaccounted for at the ends of its believable yields; below zero where it takes up water. */
export function leftBy(stage: keyof typeof STAGE_RANGES): UsualLoss {
  const { low, high } = STAGE_RANGES[stage];
  return { low: ratio.sub(ratio.ONE, high), high: ratio.sub(ratio.ONE, low), believable: ratio.sub(ratio.ONE, low) };
}

/** Added to the largest loss seen, so that the next test is not asked about for being a little over it. */
const ROOM = ratio.of(1n, 100n);
const HALF_AGAIN = ratio.of(3n, 2n);
/** With fewer tests than this behind it, a usual loss is not narrower than the default. */
const ENOUGH_TESTS = 3;

/**
 * What earlier tests of the same thing and kind say. Usual loss: from none to the largest seen and half of it again, at
 * least one hundredth of the whole more; with fewer than three tests never narrower than the default. Shares pool
 * weights, as yields do. Common practice, no source. Tests in another measure than the newest are passed over.
 */
export function usualFrom(tests: readonly WeighedSheet[]): Usual {
  const newest = tests.at(-1);
  if (newest === undefined) return { tests: 0, loss: null, shares: new Map() };
  const measure = kindOf(newest.billed.unit);
  const comparable = tests.filter((test) => test.kind === newest.kind && [test.billed, ...test.parts.map((part) => part.weight)].every((told) => kindOf(told.unit) === measure) && ratio.sign(quantityInBase(test.billed)) > 0);
  const byDefault = usualLossOf(newest);
  let most = ratio.ZERO;
  const weights = new Map<string, { name: string; part: Ratio; whole: Ratio }>();
  for (const test of comparable) {
    const whole = quantityInBase(test.billed);
    const left = ratio.div(ratio.sub(whole, ratio.sum(test.parts.map((part) => quantityInBase(part.weight)))), whole);
    if (ratio.compare(left, most) > 0) most = left;
    for (const part of test.parts) {
      const known = weights.get(part.key);
      const weight = quantityInBase(part.weight);
      weights.set(part.key, { name: part.name, part: known === undefined ? weight : ratio.add(known.part, weight), whole: known === undefined ? whole : ratio.add(known.whole, whole) });
    }
  }
  const shares = new Map([...weights].map(([key, { name, part, whole }]): [string, UsualShare] => [key, { name, share: ratio.div(part, whole) }]));
  const balanced = newest.kind === "butcher" || (newest.kind === "trim" && byDefault !== null);
  if (!balanced || byDefault === null) return { tests: comparable.length, loss: null, shares };
  const seen = ratio.greater(ratio.mul(most, HALF_AGAIN), ratio.add(most, ROOM));
  const high = comparable.length < ENOUGH_TESTS ? ratio.greater(seen, byDefault.high) : seen;
  return { tests: comparable.length, loss: { low: ratio.ZERO, high, believable: ratio.greater(high, byDefault.believable) }, shares };
}
