/**
 * x = A·x + b, the reciprocal method of cost accounting: departments that serve each other, or by-products that are worth
 * what they earn in something that rests on their own cost. Exact, in fractions.
 *
 * Taking the values in turn until nothing moves any more settles only if the spectral radius of A is below 1. That is
 * certain where that of |A| is, and this is settled without any approximation: |A| ≥ 0 has a spectral radius below 1
 * exactly if every leading principal minor of I − |A| is above zero (Hawkins and Simon 1949; nonsingular M-matrices),
 * that is, if elimination without exchanging rows meets only pivots above zero.
 */
import { type Ratio, ratio } from "@/lib/measure";

/** Rows of a square matrix. */
export type Matrix = readonly (readonly Ratio[])[];

export type Together =
  | { readonly ok: true; readonly x: readonly Ratio[] }
  /** The values would run away from each other, or nothing holds them. */
  | { readonly ok: false; readonly why: "does-not-settle" };

/** The one x with x = A·x + b, where it settles. Throws when the shapes do not fit. */
export function solveTogether(A: Matrix, b: readonly Ratio[]): Together {
  if (A.length !== b.length || A.some((row) => row.length !== b.length)) throw new Error("expected a square matrix and a right side of its size");
  if (!settles(A)) return { ok: false, why: "does-not-settle" };
  return { ok: true, x: eliminate(A.map((row, i) => row.map((a, j) => ratio.sub(i === j ? ratio.ONE : ratio.ZERO, a))), b) };
}

/** Whether the spectral radius of |A| is below 1. */
export function settles(A: Matrix): boolean {
  const rows = A.map((row, i) => row.map((a, j) => ratio.sub(i === j ? ratio.ONE : ratio.ZERO, ratio.sign(a) < 0 ? ratio.neg(a) : a)));
  for (let k = 0; k < rows.length; k += 1) {
    const pivot = at(rows, k, k);
    if (ratio.sign(pivot) <= 0) return false;
    for (let i = k + 1; i < rows.length; i += 1) takeOff(rows, i, k, ratio.div(at(rows, i, k), pivot));
  }
  return true;
}

/** Gaussian elimination of M·x = b, M not singular. */
function eliminate(M: Ratio[][], b: readonly Ratio[]): readonly Ratio[] {
  const rows = M.map((row, i) => [...row, b[i] ?? ratio.ZERO]);
  const n = M.length;
  for (let k = 0; k < n; k += 1) {
    const best = rows.findIndex((row, i) => i >= k && ratio.sign(row[k] ?? ratio.ZERO) !== 0);
    if (best < 0) throw new Error("expected a matrix that is not singular");
    [rows[k], rows[best]] = [rows[best] ?? [], rows[k] ?? []];
    for (let i = k + 1; i < n; i += 1) takeOff(rows, i, k, ratio.div(at(rows, i, k), at(rows, k, k)));
  }
  const x: Ratio[] = Array.from({ length: n }, () => ratio.ZERO);
  for (let i = n - 1; i >= 0; i -= 1) {
    let rest = at(rows, i, n);
    for (let j = i + 1; j < n; j += 1) rest = ratio.sub(rest, ratio.mul(at(rows, i, j), x[j] ?? ratio.ZERO));
    x[i] = ratio.div(rest, at(rows, i, i));
  }
  return x;
}

/** Row i less `times` row k. */
function takeOff(rows: Ratio[][], i: number, k: number, times: Ratio): void {
  const above = rows[k] ?? [];
  rows[i] = (rows[i] ?? []).map((value, j) => ratio.sub(value, ratio.mul(times, above[j] ?? ratio.ZERO)));
}

function at(rows: readonly (readonly Ratio[])[], i: number, j: number): Ratio {
  const value = rows[i]?.[j];
  if (value === undefined) throw new Error(`expected a value at ${i}, ${j}`);
  return value;
}
