/**
 * How several tests of one thing lie about each other: how many, the pooled yield (which prices follow), the mean of the
 * tests' own yields (which their spread is about), the standard deviation, the least and the greatest. Percentages are
 * averaged here only to say how tests differ, never to cost.
 */
import { type Checked, type Decimal, type Ratio, bad, good, ratio } from "@/lib/measure";
import { plainDeviations, rootOf, varianceOf } from "./deviations";
import type { TestYield } from "./test-yield";

export interface Spread {
  readonly tests: number;
  /** Ŷ = ΣU/ΣW. */
  readonly pooled: Ratio;
  /** ȳ = Σy/n, every test counting the same. */
  readonly mean: Ratio;
  /** s² = Σ(y − ȳ)²/(n − 1); null while there is one test: one test says nothing of how tests differ. */
  readonly variance: Ratio | null;
  /** s, a share of one; null while there is one test. */
  readonly deviation: Decimal | null;
  /** s/ȳ, the coefficient of variation; null while there is one test. */
  readonly variation: Decimal | null;
  readonly least: TestYield;
  readonly greatest: TestYield;
}

/** The spread of one or several tests. Problem: no-tests. Source: any textbook of statistics; pooled yield by the ratio-of-totals estimator. */
export function spreadOf(yields: readonly TestYield[]): Checked<Spread> {
  const first = yields[0];
  if (first === undefined) return noTests();
  const found = plainDeviations(yields.map((test) => test.yield));
  const variance = varianceOf(found);
  const deviation = variance === null ? null : rootOf(variance);
  return good({
    tests: yields.length,
    pooled: ratio.div(ratio.sum(yields.map((test) => test.usable)), ratio.sum(yields.map((test) => test.billed))),
    mean: found.mean,
    variance,
    deviation,
    variation: deviation === null ? null : deviation.div(ratio.toDecimal(found.mean)),
    least: yields.reduce((least, test) => (ratio.compare(test.yield, least.yield) < 0 ? test : least), first),
    greatest: yields.reduce((greatest, test) => (ratio.compare(test.yield, greatest.yield) > 0 ? test : greatest), first),
  });
}

export function noTests(): ReturnType<typeof bad> {
  return bad("tests", "no-tests", "There is no test of this yet: make one first.");
}
