/**
 * The sweep: rows costed in order, each whole and in the order of its lines. This is `doubleDouble.multiplyAdd` and
 * `settle` of double-double.ts written out in one loop, because nine tenths of all time is spent here; a test holds the
 * two to the same bits. Sources are cited there.
 */
import { SPLITTER } from "./double-double";
import type { Figures } from "./figures";

/** Costs the rows from `from` up to but without `to`. Sources below `from` must be settled. */
export function sweep(figures: Figures, from: number, to: number): void {
  const { lineStart, lineStop, source, coefficientHi, coefficientLo, constantHi, constantLo, hi, lo } = figures;
  for (let row = from; row < to; row += 1) {
    let s = constantHi[row] as number;
    let c = constantLo[row] as number;
    const stop = lineStop[row] as number;
    for (let k = lineStart[row] as number; k < stop; k += 1) {
      const from = source[k] as number;
      const a = coefficientHi[k] as number;
      const b = hi[from] as number;
      const p = a * b;
      let t = SPLITTER * a;
      const aHigh = t - (t - a);
      const aLow = a - aHigh;
      t = SPLITTER * b;
      const bHigh = t - (t - b);
      const bLow = b - bHigh;
      const e = aHigh * bHigh - p + aHigh * bLow + aLow * bHigh + aLow * bLow;
      const sum = s + p;
      const z = sum - s;
      c += s - (sum - z) + (p - z) + (e + (a * (lo[from] as number) + (coefficientLo[k] as number) * b));
      s = sum;
    }
    const high = s + c;
    const z = high - s;
    hi[row] = high;
    lo[row] = s - (high - z) + (c - z);
  }
}
