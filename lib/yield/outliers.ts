/**
 * Tests that stand far from the others, by a rule that one bad weighing cannot bend: the modified z-score, 0.6745·(y − median)/MAD,
 * MAD the median of the distances to the median, flagged beyond 3.5. It is a flag and never a removal: a person looks for a
 * cause at the block first (a tare not taken, pounds and ounces mixed, another specification). Of a few honest tests one
 * is flagged by chance about once in six times, so the flag asks and does not judge. Source: Iglewicz & Hoaglin (1993),
 * as in the NIST/SEMATECH e-Handbook 1.3.5.17; their stand-in for a MAD of zero is the mean distance over 1.253314.
 */
import { type Checked, type Ratio, bad, good, ratio } from "@/lib/measure";
import type { Side } from "./individuals-chart";
import { plainDeviations } from "./deviations";
import { OUTLIER_SCORE, TESTS_FOR_OUTLIERS } from "./house-limits";
import type { TestYield } from "./test-yield";

const NORMAL_QUARTILE: Ratio = ratio.of(6745n, 10_000n);
const MEAN_DISTANCE: Ratio = ratio.of(1_253_314n, 1_000_000n);

export interface Outlier {
  readonly test: TestYield;
  /** Modified z-score without its sign. */
  readonly score: Ratio;
  readonly side: Side;
}

export interface OutlierCheck {
  readonly median: Ratio;
  /** MAD; zero when more than half of the tests gave the very same yield. */
  readonly medianDistance: Ratio;
  /** In the order of the tests given; empty when none stands far out. */
  readonly flagged: readonly Outlier[];
}

/** The tests that stand far from the others. Problem: too-few-tests, with fewer than four. */
export function outliersOf(yields: readonly TestYield[], beyond: Ratio = OUTLIER_SCORE): Checked<OutlierCheck> {
  if (yields.length < TESTS_FOR_OUTLIERS) {
    return bad("tests", "too-few-tests", `With fewer than ${TESTS_FOR_OUTLIERS} tests nobody can say which of them stands apart: make another.`);
  }
  const median = medianOf(yields.map((test) => test.yield));
  const distances = yields.map((test) => distance(test.yield, median));
  const medianDistance = medianOf(distances);
  // One unit of the score: about a standard deviation.
  const unit = ratio.sign(medianDistance) > 0 ? ratio.div(medianDistance, NORMAL_QUARTILE) : ratio.mul(MEAN_DISTANCE, plainDeviations(distances).mean);
  if (ratio.sign(unit) === 0) return good({ median, medianDistance, flagged: [] });
  const flagged = yields.flatMap((test): readonly Outlier[] => {
    const score = ratio.div(distance(test.yield, median), unit);
    return ratio.compare(score, beyond) > 0 ? [{ test, score, side: ratio.compare(test.yield, median) > 0 ? "above" : "below" }] : [];
  });
  return good({ median, medianDistance, flagged });
}

/** The middle value, or halfway between the middle two. Throws on an empty list. */
export function medianOf(values: readonly Ratio[]): Ratio {
  const sorted = [...values].sort(ratio.compare);
  const high = sorted[Math.floor(sorted.length / 2)];
  const low = sorted[Math.ceil(sorted.length / 2) - 1];
  if (high === undefined || low === undefined) throw new Error("expected at least one value");
  return ratio.div(ratio.add(low, high), ratio.of(2n));
}

function distance(value: Ratio, from: Ratio): Ratio {
  const difference = ratio.sub(value, from);
  return ratio.sign(difference) < 0 ? ratio.neg(difference) : difference;
}
