/**
 * The sentences of what several tests say: intervals, a flagged test, a comparison. Each is made in one place from figures that
 * stand beside it, so that two pages cannot tell the same thing in two ways, and the mean is never told as the next piece.
 */
import { Decimal, type Habits, type Ratio, printDay, printPoints, printShare, ratio } from "@/lib/measure";
import type { Comparison, ComparisonVerdict } from "./compare";
import type { Confounding } from "./confounding";
import type { MeanInterval, NextInterval } from "./interval";
import type { Outlier, OutlierCheck } from "./outliers";

type Locale = Pick<Habits, "locale">;

/** The name over an interval: what it is of. */
export function intervalName(interval: MeanInterval | NextInterval): string {
  if (interval.of === "mean") return "Interval of the mean";
  const one = ratio.compare(interval.pieces, ratio.ONE) === 0;
  return one ? "Interval of the next piece" : `Interval of the next ${ratio.toDecimal(interval.pieces).toString()} pieces together`;
}

/** "The mean yield lies between 70.1 and 72.3 % (95 % sure, from 8 tests)." */
export function sayInterval(interval: MeanInterval | NextInterval, habits: Locale): string {
  const range = `${printShare(interval.low, habits)} and ${printShare(interval.high, habits)} %`;
  const sure = `(${level(interval.level, habits)} sure, from ${interval.tests} tests)`;
  const cut = interval.cutLow || interval.cutHigh ? ` It is cut off at ${interval.cutLow && interval.cutHigh ? "0 and 100" : interval.cutLow ? "0" : "100"} %: with so much spread, more tests are needed to say more.` : "";
  if (interval.of === "mean") return `The mean yield lies between ${range} ${sure}.${cut}`;
  const one = ratio.compare(interval.pieces, ratio.ONE) === 0;
  return `${one ? "The next piece" : `The next ${ratio.toDecimal(interval.pieces).toString()} pieces together`} may yield between ${range} ${sure}.${cut}`;
}

/** A flagged test, and what to look for before it is left out. */
export function sayOutlier(outlier: Outlier, check: OutlierCheck, habits: Locale): string {
  const day = outlier.test.on === null ? "One test" : `The test of ${printDay(outlier.test.on, habits)}`;
  const own = printShare(ratio.toDecimal(outlier.test.yield), habits);
  return `${day}, at ${own} %, stands far ${outlier.side} the others (median ${printShare(ratio.toDecimal(check.median), habits)} %): was a tub not tared, pounds and ounces mixed, or another piece cut? It still counts, until somebody leaves it out and says why.`;
}

/** The verdict of a comparison in one sentence. */
export function sayComparison(comparison: Comparison, habits: Locale): string {
  const verdict = comparison.verdict;
  switch (verdict.kind) {
    case "more": {
      const sure = comparison.difference === null ? "" : ` (${level(comparison.difference.level, habits)} sure)`;
      return `${verdict.more} yields more than ${verdict.less}, by ${printPoints(verdict.by, habits)} points: between ${printPoints(verdict.least, habits)} and ${printPoints(verdict.most, habits)}${sure}.`;
    }
    case "cannot-tell":
      return `No difference between ${comparison.a} and ${comparison.b} that these tests can tell${saySpan(comparison, habits)}.`;
    case "too-few":
      return `Not enough tests to tell ${comparison.a} from ${comparison.b}: ${sayCounts(verdict)}, and each side needs at least ${verdict.needed}.`;
    case "no-spread":
      return `Within ${comparison.a} and within ${comparison.b} every test gave the very same yield: weighings do not repeat so well, so check that these were weighed and not worked out.`;
  }
}

/** What stands beside a verdict where something else differs as well. */
export function sayConfounding({ a, b, what }: Confounding, compared: string): string {
  return `${capital(compared)} and ${what} differ together between ${a} and ${b}: these tests cannot say which of the two made a difference.`;
}

/** An interval that holds zero, so that nobody reads "no difference" into it: one may yield so much more, or the other. */
function saySpan({ a, b, difference }: Comparison, habits: Locale): string {
  if (difference === null) return "";
  return `: ${a} may yield up to ${printPoints(Decimal.max(difference.high, 0), habits)} points more, or ${b} up to ${printPoints(Decimal.min(difference.low, 0), habits)}`;
}

function sayCounts({ groups }: Extract<ComparisonVerdict, { kind: "too-few" }>): string {
  return groups.map(({ name, tests }) => `${name} has ${tests === 0 ? "none" : tests}`).join(" and ");
}

/** 0.95 is "95 %", 0.9917 "99.2 %". */
function level(share: Ratio, habits: Locale): string {
  const whole = ratio.mul(share, ratio.of(100n)).d === 1n;
  return `${printShare(ratio.toDecimal(share), habits, { places: whole ? 0 : 1 })} %`;
}

function capital(word: string): string {
  return word.slice(0, 1).toUpperCase() + word.slice(1);
}
