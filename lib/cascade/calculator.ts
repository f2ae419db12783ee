/**
 * The arithmetic of the cascade behind one small interface. The graph and its order know nothing of numbers; a
 * calculator knows nothing of the graph. Three stand behind it: double-double (double-double.ts, what the engine
 * carries), decimal.js at 60 digits (decimal-60.ts, the judge) and exact fractions (fractions.ts, for half-cent ties
 * and proof). A row is summed in the order of its lines: start from a constant, multiply and accumulate, settle once.
 */
import type { Decimal, Ratio } from "@/lib/measure";

export interface Calculator<T> {
  readonly zero: T;
  /** n/d, rounded once to what the calculator carries; d above zero. */
  fromRatio(n: bigint, d: bigint): T;
  add(a: T, b: T): T;
  /** sum + a·b: the step of a row. What it returns may only be accumulated further, or settled. */
  multiplyAdd(sum: T, a: T, b: T): T;
  /** Rounds a row's sum, once. */
  settle(sum: T): T;
  /** a/b; b not zero. */
  divide(a: T, b: T): T;
  /** Below 0 when a < b, 0 when equal, above 0 when a > b. */
  compare(a: T, b: T): number;
  toDecimal(a: T): Decimal;
  /** The value exactly as carried. */
  toRatio(a: T): Ratio;
}
