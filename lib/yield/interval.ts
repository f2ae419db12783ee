/**
 * Two intervals that are easily taken for each other. The interval of the mean says where the yield of many pieces lies:
 * prices follow it, and it narrows with every test. The interval of the next piece says what one more piece, or the few
 * pieces of a function, may yield: orders follow it, and it never becomes narrower than pieces differ. They are types of
 * their own, so that one cannot be shown under the other's name. Both assume tests that are alike (one specification,
 * dealer and cut), independent of each other and spread as the normal curve is. A yield lies between 0 and 1 (or has no
 * upper end where water is taken up); an interval that would reach past is cut off there, and says so.
 */
import { type Checked, Decimal, type Ratio, bad, good, ratio } from "@/lib/measure";
import { deviationsOf, plainDeviations, rootOf, varianceOf } from "./deviations";
import { TESTS_FOR_INTERVAL, USUAL_LEVEL } from "./house-limits";
import { tHolding } from "./student-t";
import type { TestYield } from "./test-yield";

interface Interval {
  /** How sure, a share of one. */
  readonly level: Ratio;
  readonly tests: number;
  readonly centre: Ratio;
  /** How far it reaches to either side before it is cut off. */
  readonly reach: Decimal;
  readonly low: Decimal;
  readonly high: Decimal;
  /** It would reach below 0, or above 1: fewer tests than the spread asks for. */
  readonly cutLow: boolean;
  readonly cutHigh: boolean;
}

/** Where the yield of many pieces lies. */
export interface MeanInterval extends Interval {
  readonly of: "mean";
  /** About the pooled yield, which prices follow, or about the plain mean of the tests' yields. */
  readonly about: "pooled" | "mean-of-tests";
}

/** What the next piece, or the next few pieces together, may yield. */
export interface NextInterval extends Interval {
  readonly of: "next";
  /** How many pieces together. */
  readonly pieces: Ratio;
}

/**
 * Interval of the mean about the mean of the tests' own yields, every test counting the same: ȳ ± t·s/√n, t of n − 1 degrees.
 * Problems: too-few-tests, level-out-of-range. Source: Student; NIST/SEMATECH e-Handbook 1.3.5.2.
 */
export function intervalOfMean(yields: readonly TestYield[], level: Ratio = USUAL_LEVEL): Checked<MeanInterval> {
  const problem = unfit(yields, level);
  if (problem !== null) return problem;
  const found = plainDeviations(yields.map((test) => test.yield));
  const error = rootOf(ratio.div(varianceOf(found) ?? ratio.ZERO, ratio.of(BigInt(found.count))));
  return good({ of: "mean", about: "mean-of-tests", ...reaching(yields, level, found.mean, error) });
}

/**
 * Interval of the mean about the pooled yield Ŷ = ΣU/ΣW: Ŷ ± t·SE, SE = (1/W̄)·√(Σ(U_i − Ŷ·W_i)²/(n(n−1))), t of n − 1 degrees.
 * Large pieces count for more. The same as `intervalOfMean` when every test was billed the same; an approximation else
 * (the ratio-of-totals estimator's), good while no single test holds most of the weight. Problems: as `intervalOfMean`.
 */
export function intervalOfPooled(yields: readonly TestYield[], level: Ratio = USUAL_LEVEL): Checked<MeanInterval> {
  const problem = unfit(yields, level);
  if (problem !== null) return problem;
  const n = ratio.of(BigInt(yields.length));
  const billed = ratio.sum(yields.map((test) => test.billed));
  const pooled = ratio.div(ratio.sum(yields.map((test) => test.usable)), billed);
  // With q_i = U_i − Ŷ·W_i the mean of the q is 0, so Σq² is their sum of squared deviations.
  const { squares } = plainDeviations(yields.map((test) => ratio.sub(test.usable, ratio.mul(pooled, test.billed))));
  const mean = ratio.div(billed, n);
  const variance = ratio.div(squares, ratio.mul(ratio.mul(n, ratio.sub(n, ratio.ONE)), ratio.mul(mean, mean)));
  return good({ of: "mean", about: "pooled", ...reaching(yields, level, pooled, rootOf(variance)) });
}

/**
 * Interval of the next m pieces together: ȳ ± t·s·√(1/m + 1/M), t of n − 1 degrees. M is the number of pieces in all tests, ȳ
 * their mean yield and s what single pieces differ by: a test of k pieces worked together is taken as the mean of k
 * pieces of about one size, so it counts k times and differs by s/√k. With tests of one piece each this is the textbook's prediction
 * interval. Problems: as `intervalOfMean`; not-above-zero when m is not. Source: Devore, Probability and Statistics for Engineering and the Sciences, ch. 7; weights derived.
 */
export function intervalOfNext(yields: readonly TestYield[], level: Ratio = USUAL_LEVEL, pieces: Ratio = ratio.ONE): Checked<NextInterval> {
  const problem = unfit(yields, level);
  if (problem !== null) return problem;
  if (ratio.sign(pieces) <= 0) return bad("pieces", "not-above-zero", "How many pieces come next must be above zero.");
  const found = deviationsOf(yields.map((test) => ({ value: test.yield, weight: test.pieces })));
  const share = ratio.add(ratio.div(ratio.ONE, pieces), ratio.div(ratio.ONE, found.weight));
  return good({ of: "next", pieces, ...reaching(yields, level, found.mean, rootOf(ratio.mul(varianceOf(found) ?? ratio.ZERO, share))) });
}

/** "level-out-of-range" when a level is not between 0 and 1, else null. */
export function levelProblem(level: Ratio): ReturnType<typeof bad> | null {
  if (ratio.sign(level) > 0 && ratio.compare(level, ratio.ONE) < 0) return null;
  return bad("level", "level-out-of-range", "How sure an interval is must lie between 0 % and 100 %, both excluded: 95 % is usual.");
}

function unfit(yields: readonly TestYield[], level: Ratio): ReturnType<typeof bad> | null {
  if (yields.length < TESTS_FOR_INTERVAL) {
    const have = yields.length === 0 ? "There is no test" : "One test tells a yield, but not how much yields differ";
    return bad("tests", "too-few-tests", `${have}: an interval needs at least two tests.`);
  }
  return levelProblem(level);
}

function reaching(yields: readonly TestYield[], level: Ratio, centre: Ratio, error: Decimal): Interval {
  const tests = yields.length;
  const middle = ratio.toDecimal(centre);
  const reach = error.isZero() ? error : tHolding(ratio.toDecimal(level), new Decimal(tests - 1)).mul(error);
  const low = middle.minus(reach);
  const high = middle.plus(reach);
  const cutLow = low.lt(0);
  const cutHigh = high.gt(1) && !yields.some((test) => test.gains);
  return { level, tests, centre, reach, low: cutLow ? new Decimal(0) : low, high: cutHigh ? new Decimal(1) : high, cutLow, cutHigh };
}
