/**
 * The individuals chart: one test at a time against the limits that the tests' own test-to-test differences draw. Limits lie at
 * ȳ ± 3·MR̄/d₂, MR̄ the mean of the moving ranges of two, and the moving ranges' own upper limit at D₄·MR̄. A point
 * beyond is a signal to look for a cause (a new cutter, another dealer's trim, a tub not tared), not a verdict on
 * anybody. Limits are exact ratios. Source: standard tables of control-chart constants for samples of two, d₂ = 1.128 and
 * D₄ = 3.267; NIST/SEMATECH e-Handbook 6.3.2.2. 3/d₂ is the 2.66 that books round to.
 */
import { type Checked, type Ratio, bad, good, ratio } from "@/lib/measure";
import { plainDeviations } from "./deviations";
import { RUN_LENGTH, TESTS_FOR_CHART } from "./house-limits";
import { type TestYield, byDay } from "./test-yield";

/** d₂ for ranges of two: the mean range of two normal values is so many standard deviations. */
export const RANGE_TO_DEVIATION: Ratio = ratio.of(1128n, 1000n);
/** D₄ for ranges of two: the upper limit of ranges over their mean. The lower limit is 0. */
export const RANGE_LIMIT: Ratio = ratio.of(3267n, 1000n);

export type Side = "above" | "below";

export interface ChartPoint {
  readonly test: TestYield;
  /** |y_i − y_(i−1)|; null for the oldest test. */
  readonly movingRange: Ratio | null;
  /** Beyond a limit of yields; on the limit is not beyond. */
  readonly beyond: Side | null;
  /** The step from the test before is beyond the limit of moving ranges. */
  readonly rangeBeyond: boolean;
  /** The eighth or later in a row on this side of the mean. */
  readonly run: Side | null;
}

export interface IndividualsChart {
  readonly mean: Ratio;
  /** MR̄. */
  readonly meanRange: Ratio;
  readonly lower: Ratio;
  readonly upper: Ratio;
  /** The lower limit would lie below 0, or the upper above 1. */
  readonly cutLow: boolean;
  readonly cutHigh: boolean;
  readonly rangeUpper: Ratio;
  /** Oldest first. */
  readonly points: readonly ChartPoint[];
}

/** The chart of eight tests or more, put in order of their days. Problem: too-few-tests. */
export function individualsChart(yields: readonly TestYield[]): Checked<IndividualsChart> {
  if (yields.length < TESTS_FOR_CHART) {
    return bad("tests", "too-few-tests", `Control limits need at least ${TESTS_FOR_CHART} tests, and there ${yields.length === 1 ? "is 1" : `are ${yields.length}`}: fewer would call chance a signal.`);
  }
  const ordered = byDay(yields);
  const ranges = ordered.map((test, index) => {
    const before = ordered[index - 1];
    return before === undefined ? null : size(ratio.sub(test.yield, before.yield));
  });
  const { mean } = plainDeviations(ordered.map((test) => test.yield));
  const meanRange = plainDeviations(ranges.flatMap((range) => range ?? [])).mean;
  const reach = ratio.div(ratio.mul(ratio.of(3n), meanRange), RANGE_TO_DEVIATION);
  const lower = ratio.sub(mean, reach);
  const upper = ratio.add(mean, reach);
  const rangeUpper = ratio.mul(RANGE_LIMIT, meanRange);
  const cutLow = ratio.sign(lower) < 0;
  const cutHigh = ratio.compare(upper, ratio.ONE) > 0 && !ordered.some((test) => test.gains);

  let side: Side | null = null;
  let inRow = 0;
  const points = ordered.map((test, index): ChartPoint => {
    const order = ratio.compare(test.yield, mean);
    const here = order > 0 ? "above" : order < 0 ? "below" : null;
    inRow = here === null ? 0 : here === side ? inRow + 1 : 1;
    side = here;
    const movingRange = ranges[index] ?? null;
    return {
      test,
      movingRange,
      beyond: ratio.compare(test.yield, upper) > 0 ? "above" : ratio.compare(test.yield, lower) < 0 ? "below" : null,
      rangeBeyond: movingRange !== null && ratio.compare(movingRange, rangeUpper) > 0,
      run: inRow >= RUN_LENGTH ? here : null,
    };
  });
  return good({ mean, meanRange, lower: cutLow ? ratio.ZERO : lower, upper: cutHigh ? ratio.ONE : upper, cutLow, cutHigh, rangeUpper, points });
}

/** Which signal the newest test gives, if any: the chart's word on whether the tests still stand. */
export function newestSignal(chart: IndividualsChart): "beyond" | "range-beyond" | "run" | null {
  const newest = chart.points.at(-1);
  if (newest === undefined) return null;
  return newest.beyond !== null ? "beyond" : newest.rangeBeyond ? "range-beyond" : newest.run !== null ? "run" : null;
}

function size(value: Ratio): Ratio {
  return ratio.sign(value) < 0 ? ratio.neg(value) : value;
}
