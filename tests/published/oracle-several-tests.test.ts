/**
 * The statistics of several tests recomputed another way on random inputs. Means, deviations and medians by a general-purpose statistics
 * library, to a double's precision. Student's t by that library to the seven digits its own t holds, and, for whole degrees, by the
 * finite sums of Abramowitz & Stegun 26.7.3 and 26.7.4 in decimals of 60 digits, which share nothing with our continued fraction.
 */
import DecimalJs from "decimal.js";
import fc from "fast-check";
import library from "jstat";
import { describe, expect, test } from "vitest";
import { type Ratio, Decimal, ratio } from "@/lib/measure";
import { compareTwo, intervalOfMean, intervalOfNext, outliersOf, shareBeyond, spreadOf, tHolding } from "@/lib/yield";
import { won } from "../yield/sheets";
import { exactly, singlePieces } from "../yield/yields";

const { jStat } = library;
const Wide = DecimalJs.clone({ precision: 60 });

const double = (value: Ratio | Decimal): number => Number(value instanceof Decimal ? value.toString() : ratio.toDecimal(value as Ratio).toString());

function close(ours: Ratio | Decimal, theirs: number, within: number): void {
  const mine = double(ours);
  expect(Math.abs(mine - theirs), `${mine} against ${theirs}`).toBeLessThanOrEqual(within * Math.max(1, Math.abs(theirs)));
}

/** P(|T| ≤ t) for whole ν, θ = arctan(t/√ν). Odd: (2/π)(θ + sin θ(cos θ + 2/3 cos³θ + …)); even: sin θ(1 + 1/2 cos²θ + 3/8 cos⁴θ + …). */
function shareWithin(t: DecimalJs, degrees: number): DecimalJs {
  const square = t.mul(t).div(degrees);
  const cosine = new Wide(1).div(square.plus(1).sqrt());
  const sine = t.div(new Wide(degrees).sqrt()).mul(cosine);
  const odd = degrees % 2 === 1;
  let term = odd ? cosine : new Wide(1);
  let sum = new Wide(0);
  for (let power = odd ? 1 : 0; power <= degrees - 2; power += 2) {
    sum = sum.plus(term);
    term = term.mul(power + 1).div(power + 2).mul(cosine).mul(cosine);
  }
  if (!odd) return sine.mul(sum);
  return Wide.atan(t.div(new Wide(degrees).sqrt())).plus(sine.mul(sum)).mul(2).div(Wide.acos(-1));
}

describe("Student's t", () => {
  test("the share beyond is that of the finite sums, to 28 digits", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 120 }), fc.integer({ min: 1, max: 20_000 }), (degrees, thousandths) => {
        const t = new Decimal(thousandths).div(1000);
        const ours = shareBeyond(t, new Decimal(degrees));
        const theirs = new Wide(1).minus(shareWithin(new Wide(t.toString()), degrees));
        expect(new Wide(ours.toString()).minus(theirs).abs().lt("1e-28")).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  test("the t that holds a level is found again by the finite sums, to 26 digits", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 1, max: 9999 }), (degrees, tenThousandths) => {
        const level = new Decimal(tenThousandths).div(10_000);
        const t = tHolding(level, new Decimal(degrees));
        expect(shareWithin(new Wide(t.toString()), degrees).minus(level.toString()).abs().lt("1e-26")).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  test("and is the library's, to the seven digits that one holds", () => {
    fc.assert(
      fc.property(fc.integer({ min: 10, max: 600 }), fc.integer({ min: 50, max: 999 }), (tenths, thousandths) => {
        const ours = tHolding(new Decimal(thousandths).div(1000), new Decimal(tenths).div(10));
        close(ours, jStat.studentt.inv(0.5 + thousandths / 2000, tenths / 10), 2e-7);
      }),
      { numRuns: 60 },
    );
  });
});

describe("several tests", () => {
  test("mean, deviation, variation, median and median distance are the library's, to a double's precision", () => {
    fc.assert(
      fc.property(singlePieces(4, 30), (tests) => {
        const values = tests.map((each) => double(each.yield));
        const spread = won(spreadOf(tests));
        close(spread.mean, jStat.mean(values), 1e-14);
        close(spread.deviation ?? new Decimal(0), jStat.stdev(values, true), 1e-14);
        close(spread.variation ?? new Decimal(0), jStat.stdev(values, true) / jStat.mean(values), 1e-13);
        const check = won(outliersOf(tests));
        close(check.median, jStat.median(values), 1e-14);
        close(check.medianDistance, jStat.meddev(values), 1e-14);
      }),
      { numRuns: 80 },
    );
  });

  test("intervals are the library's t times its deviation", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 9999 }), { minLength: 2, maxLength: 20 }), fc.integer({ min: 50, max: 99 }), (shares, percent) => {
        const tests = exactly(shares.map((each) => ratio.of(BigInt(each), 10_000n)));
        const level = ratio.of(BigInt(percent), 100n);
        const values = shares.map((each) => each / 10_000);
        const t = jStat.studentt.inv(0.5 + percent / 200, values.length - 1) * jStat.stdev(values, true);
        close(won(intervalOfMean(tests, level)).reach, t / Math.sqrt(values.length), 1e-6);
        close(won(intervalOfNext(tests, level)).reach, t * Math.sqrt(1 + 1 / values.length), 1e-6);
      }),
      { numRuns: 60 },
    );
  });

  test("Welch's t, degrees and interval are those of doubles, its chance the library's", () => {
    fc.assert(
      fc.property(singlePieces(3, 12), singlePieces(3, 12), (one, two) => {
        const other = two.map((each) => ({ ...each, id: `other ${each.id}` }));
        const found = won(compareTwo({ name: "one", tests: one }, { name: "other", tests: other })).difference;
        if (found === null) return;
        const [a, b] = [one, two].map((tests) => {
          const values = tests.map((each) => double(each.yield));
          return { mean: jStat.mean(values), v: jStat.stdev(values, true) ** 2 / values.length, n: values.length };
        });
        if (a === undefined || b === undefined) return;
        const error = Math.sqrt(a.v + b.v);
        const degrees = (a.v + b.v) ** 2 / (a.v ** 2 / (a.n - 1) + b.v ** 2 / (b.n - 1));
        close(found.t, (a.mean - b.mean) / error, 1e-9);
        close(found.degrees, degrees, 1e-9);
        close(found.chance, 2 * jStat.studentt.cdf(-Math.abs((a.mean - b.mean) / error), degrees), 1e-6);
        close(found.high, a.mean - b.mean + jStat.studentt.inv(0.975, degrees) * error, 1e-6);
      }),
      { numRuns: 40 },
    );
  });
});
