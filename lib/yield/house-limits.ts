/**
 * What the house asks of its tests before a figure is shown or doubted: how many tests, how old, how far moved. All in
 * one place, and all defaults that a kitchen may move: no published norm was found for the number of tests or for when
 * to test again, so what bears no source here is common practice.
 */
import { type Ratio, ratio } from "@/lib/measure";

/** How sure an interval is: 95 in 100. Common practice of statistics. */
export const USUAL_LEVEL: Ratio = ratio.of(19n, 20n);

/** An interval needs a spread, and a spread two tests. Arithmetic, not taste. */
export const TESTS_FOR_INTERVAL = 2;
/** Tests to start with, and the fewest in a group that is compared. Common practice, no source. */
export const TESTS_TO_START = 3;
/** From four tests on, one of them may be said to stand far from the others; with three, which one would be chance. Common practice, no source. */
export const TESTS_FOR_OUTLIERS = 4;
/** Tests to price from; from as many the usual range is told. Common practice, no source. */
export const TESTS_TO_PRICE = 5;
/** Tests before control limits are drawn. Common practice (8 to 10), no source. */
export const TESTS_FOR_CHART = 8;
/** How many of the last tests a new one is ranked among. Common practice, no source. */
export const LAST_TESTS = 10;
/** So many in a row on one side of the mean are not chance. A usual run rule of control charts, from memory. */
export const RUN_LENGTH = 8;
/** A modified z-score beyond this is flagged. Source: Iglewicz & Hoaglin, How to Detect and Handle Outliers (1993), as in the NIST/SEMATECH e-Handbook 1.3.5.17. */
export const OUTLIER_SCORE: Ratio = ratio.of(7n, 2n);

export interface StalenessLimits {
  /** A test older than so many days is old. */
  readonly days: number;
  /** Fewer tests than so many behind a cut are few. */
  readonly tests: number;
  /** A dealer's price that moved by more than this share since the test is far from it. */
  readonly priceMove: Ratio;
}

export const STALENESS_LIMITS: StalenessLimits = {
  // Quarterly: common practice, no source.
  days: 92,
  tests: TESTS_TO_START,
  // The house's usual limit for asking about a price: common practice, no source.
  priceMove: ratio.of(15n, 100n),
};
