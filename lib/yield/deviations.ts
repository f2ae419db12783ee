/**
 * Mean and squared deviations, exactly. Sums of ratios are taken over one common denominator and brought to lowest terms
 * once, so that fifty tests with fifty denominators stay quick. The root, which no ratio can hold, is a Decimal and is
 * taken last: a spread far smaller than its mean loses no digit.
 */
import { Decimal, type Ratio, ratio } from "@/lib/measure";

export interface Deviations {
  readonly count: number;
  /** Σ w. */
  readonly weight: Ratio;
  /** m = Σ w·y / Σ w. */
  readonly mean: Ratio;
  /** Σ w·(y − m)². */
  readonly squares: Ratio;
}

export interface Weighted {
  readonly value: Ratio;
  /** Above zero. */
  readonly weight: Ratio;
}

/** Weighted mean m = Σ w·y/Σ w and S = Σ w·(y − m)² = Σ w·y² − (Σ w·y)²/Σ w. Throws on an empty list: callers say first that there is none. */
export function deviationsOf(values: readonly Weighted[]): Deviations {
  if (values.length === 0) throw new Error("expected at least one value");
  const valueUnit = commonDenominator(values.map((each) => each.value));
  const weightUnit = commonDenominator(values.map((each) => each.weight));
  let sum = 0n;
  let weighted = 0n;
  let squared = 0n;
  for (const { value, weight } of values) {
    const y = value.n * (valueUnit / value.d);
    const w = weight.n * (weightUnit / weight.d);
    sum += w;
    weighted += w * y;
    squared += w * y * y;
  }
  return {
    count: values.length,
    weight: ratio.of(sum, weightUnit),
    mean: ratio.of(weighted, sum * valueUnit),
    squares: ratio.of(sum * squared - weighted * weighted, sum * weightUnit * valueUnit * valueUnit),
  };
}

/** As `deviationsOf`, every value counting the same. */
export function plainDeviations(values: readonly Ratio[]): Deviations {
  return deviationsOf(values.map((value) => ({ value, weight: ratio.ONE })));
}

/** s² = S/(n − 1): unbiased for independent values whose variance is σ²/w. null for one value. */
export function varianceOf({ count, squares }: Deviations): Ratio | null {
  return count < 2 ? null : ratio.div(squares, ratio.of(BigInt(count - 1)));
}

/** The root of an exact ratio, to 34 digits. */
export function rootOf(value: Ratio): Decimal {
  return Decimal.sqrt(ratio.toDecimal(value));
}

function commonDenominator(values: readonly Ratio[]): bigint {
  // In lowest terms, common/d keeps below the line just what `common` lacks to be a multiple of d.
  return values.reduce((common, { d }) => common * ratio.of(common, d).d, 1n);
}
