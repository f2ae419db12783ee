/**
 * How two states of the same graph differ: the rows whose digits or completeness are not the same, ascending, with
 * what they are on one side. Kept by a cascade that is no longer the newest, or by a try-out, in place of a copy.
 */
export interface Delta {
  readonly rows: Int32Array;
  readonly hi: Float64Array;
  readonly lo: Float64Array;
  readonly incomplete: Uint8Array;
}

/** The place of a row in a delta, or −1. */
export function placeIn(delta: Delta, row: number): number {
  const { rows } = delta;
  let low = 0;
  let high = rows.length - 1;
  while (low <= high) {
    const middle = (low + high) >>> 1;
    const at = rows[middle] as number;
    if (at === row) return middle;
    if (at < row) low = middle + 1;
    else high = middle - 1;
  }
  return -1;
}
