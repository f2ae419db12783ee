/**
 * Exact ratios of whole numbers: the arithmetic of yield tests and the slow, exact judge of every faster one. A ratio
 * is kept in lowest terms with a positive denominator, so two equal ratios are equal field by field. It becomes a
 * Decimal once, when a figure is shown or handed to a rounded arithmetic.
 */
import { Decimal, type Exact, exactRatio, greatestCommonDivisor, toRatio } from "./decimal";

export interface Ratio {
  readonly n: bigint;
  /** Above zero, sharing no factor with `n`. */
  readonly d: bigint;
}

/** n/d in lowest terms. Throws when d is 0: callers check what they divide by and tell the person. */
export function of(n: bigint, d: bigint = 1n): Ratio {
  if (d === 0n) throw new Error("expected a denominator other than 0");
  if (d < 0n) [n, d] = [-n, -d];
  const shared = greatestCommonDivisor(n < 0n ? -n : n, d);
  return shared === 1n ? { n, d } : { n: n / shared, d: d / shared };
}

export const ZERO: Ratio = { n: 0n, d: 1n };
export const ONE: Ratio = { n: 1n, d: 1n };

export function add(a: Ratio, b: Ratio): Ratio {
  return a.d === b.d ? of(a.n + b.n, a.d) : of(a.n * b.d + b.n * a.d, a.d * b.d);
}

export function sub(a: Ratio, b: Ratio): Ratio {
  return add(a, { n: -b.n, d: b.d });
}

export function mul(a: Ratio, b: Ratio): Ratio {
  return of(a.n * b.n, a.d * b.d);
}

/** a/b. Throws when b is 0. */
export function div(a: Ratio, b: Ratio): Ratio {
  return of(a.n * b.d, a.d * b.n);
}

export function neg(a: Ratio): Ratio {
  return { n: -a.n, d: a.d };
}

export function sum(terms: Iterable<Ratio>): Ratio {
  let total = ZERO;
  for (const term of terms) total = add(total, term);
  return total;
}

/** Below 0 when a < b, 0 when equal, above 0 when a > b. */
export function compare(a: Ratio, b: Ratio): -1 | 0 | 1 {
  const left = a.n * b.d;
  const right = b.n * a.d;
  return left < right ? -1 : left > right ? 1 : 0;
}

/** The smaller of two; of equal ones the first. */
export function lesser(a: Ratio, b: Ratio): Ratio {
  return compare(b, a) < 0 ? b : a;
}

/** The larger of two; of equal ones the first. */
export function greater(a: Ratio, b: Ratio): Ratio {
  return compare(b, a) > 0 ? b : a;
}

/** -1, 0 or 1. */
export function sign(a: Ratio): -1 | 0 | 1 {
  return a.n < 0n ? -1 : a.n > 0n ? 1 : 0;
}

/** The greatest whole number not above the ratio. */
export function floor(a: Ratio): bigint {
  const whole = a.n / a.d;
  return a.n < 0n && whole * a.d !== a.n ? whole - 1n : whole;
}

/** The least whole number not below the ratio. */
export function ceil(a: Ratio): bigint {
  return -floor(neg(a));
}

export function fromExact(value: Exact): Ratio {
  return toRatio(value);
}

/** The same number as text: a decimal where it ends, else "n/d". */
export function toExact(a: Ratio): Exact {
  return exactRatio(a.n, a.d);
}

/** Correct to 34 digits; exact where the decimal ends within them. */
export function toDecimal(a: Ratio): Decimal {
  return new Decimal(a.n.toString()).div(new Decimal(a.d.toString()));
}
