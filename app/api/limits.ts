/**
 * How much a program may ask at once: so many requests a minute for each key, fewer that write, and fewer still for whoever
 * comes with keys that are none. A bucket that fills up again, for each in this process; the sizes are the house's own choice.
 */
interface Bucket {
  left: number;
  at: number;
}

/** Requests a minute. */
export const A_MINUTE = { read: 600, write: 120, stranger: 60 } as const;
export type Allowance = keyof typeof A_MINUTE;

const MINUTE = 60_000;
/** Buckets kept at most. */
const MOST_KEPT = 5_000;

/** The framework loads this module several times over, the process is one. */
const home = globalThis as { trimledgerProgramLimits?: Map<string, Bucket> };

/** Takes one request off; how many seconds to wait where none is left, else 0. */
export function takeOne(allowance: Allowance, whose: string, now: number = Date.now()): number {
  const buckets = (home.trimledgerProgramLimits ??= new Map<string, Bucket>());
  const key = `${allowance} ${whose}`;
  const most = A_MINUTE[allowance];
  const held = buckets.get(key) ?? { left: most, at: now };
  const left = Math.min(most, held.left + (Math.max(0, now - held.at) / MINUTE) * most);
  buckets.delete(key);
  if (buckets.size >= MOST_KEPT) for (const oldest of buckets.keys()) {
    buckets.delete(oldest);
    break;
  }
  buckets.set(key, { left: left < 1 ? left : left - 1, at: now });
  return left < 1 ? Math.max(1, Math.ceil(((1 - left) / most) * (MINUTE / 1000))) : 0;
}
