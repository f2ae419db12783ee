/**
 * Double-double: a number carried as the unevaluated sum of two doubles, high and low, about 106 bits or 31 decimal
 * digits. Error-free product by Veltkamp's splitting (Dekker, Numer. Math. 18, 1971), error-free sum by Knuth (TAOCP 2,
 * §4.2.2), the pair arithmetic after Hida, Li & Bailey (2001). A row is a dot product that keeps the error of each
 * step in the low part and rounds once at its end (Ogita, Rump & Oishi, SIAM J. Sci. Comput. 26, 2005). Given the same
 * lines in the same order the digits are the same on every machine, since IEEE 754 fixes each operation.
 * sweep.ts holds the same steps written out for whole graphs.
 */
import { Decimal, type Ratio, ratio } from "@/lib/measure";
import type { Calculator } from "./calculator";

export interface DoubleDouble {
  readonly hi: number;
  readonly lo: number;
}

/**
 * What a double-double carries for certain after a row of sums. Beyond it stands only the noise of binary fractions: a
 * kilo at 1.20 would read 1.2000000000000000000000000000000002.
 */
export const CARRIED_DIGITS = 30;

/** 2^27 + 1: splits 53 bits into two halves whose products are exact. */
export const SPLITTER = 134_217_729;

/** The part of a·b that p = fl(a·b) rounded away, exactly. */
export function productError(a: number, b: number, p: number): number {
  let t = SPLITTER * a;
  const aHigh = t - (t - a);
  const aLow = a - aHigh;
  t = SPLITTER * b;
  const bHigh = t - (t - b);
  const bLow = b - bHigh;
  return aHigh * bHigh - p + aHigh * bLow + aLow * bHigh + aLow * bLow;
}

/** The part of a + b that s = fl(a + b) rounded away, exactly. */
export function sumError(a: number, b: number, s: number): number {
  const z = s - a;
  return a - (s - z) + (b - z);
}

function pair(a: number, b: number): DoubleDouble {
  const hi = a + b;
  return { hi, lo: sumError(a, b, hi) };
}

/** The low half of n/d for whole n and d below 2^53 whose high half is fl(n/d): the remainder is exact, so one more division rounds it. */
export function lowOfQuotient(n: number, d: number, hi: number): number {
  const p = hi * d;
  return (n - p - productError(hi, d, p)) / d;
}

const QUOTIENT_BITS = 180;

/** The double nearest to n/d and the double nearest to what that leaves. d above zero. */
export function fromBigRatio(n: bigint, d: bigint): DoubleDouble {
  if (n === 0n) return { hi: 0, lo: 0 };
  const size = n < 0n ? -n : n;
  // Scale so that the quotient has about QUOTIENT_BITS bits: two roundings of 53 bits then see only whole numbers,
  // and a sticky last bit keeps a remainder from looking like a tie.
  const shift = QUOTIENT_BITS - (bitLength(size) - bitLength(d));
  const scaled = shift >= 0 ? size << BigInt(shift) : size;
  const by = shift >= 0 ? d : d << BigInt(-shift);
  let quotient = (scaled / by) << 1n;
  if (scaled % by !== 0n) quotient |= 1n;
  const high = Number(quotient);
  const low = Number(quotient - BigInt(high));
  const sign = n < 0n ? -1 : 1;
  return { hi: sign * scaleByPowerOfTwo(high, -shift - 1), lo: sign * scaleByPowerOfTwo(low, -shift - 1) };
}

function bitLength(n: bigint): number {
  return n.toString(16).length * 4;
}

function scaleByPowerOfTwo(value: number, power: number): number {
  // In two steps, so that no step leaves the range of a double before the result does.
  const half = Math.trunc(power / 2);
  return value * 2 ** half * 2 ** (power - half);
}

const float = new Float64Array(1);
const bits = new BigUint64Array(float.buffer);

/** The whole number m of a double m·2^power, |m| below 2^53, read off its bits. */
function wholeOf(value: number): bigint {
  float[0] = value;
  const pattern = bits[0] as bigint;
  const fraction = pattern & 0xf_ffff_ffff_ffffn;
  const whole = ((pattern >> 52n) & 0x7ffn) === 0n ? fraction : fraction | 0x10_0000_0000_0000n;
  return pattern >> 63n === 0n ? whole : -whole;
}

function powerOf(value: number): number {
  float[0] = value;
  return Math.max(1, Number(((bits[0] as bigint) >> 52n) & 0x7ffn)) - 1075;
}

/** hi + lo as one whole number times a power of two, exactly: both are binary fractions. */
function wholeAndPower(hi: number, lo: number): { readonly whole: bigint; readonly power: number } {
  if (lo === 0) return { whole: wholeOf(hi), power: powerOf(hi) };
  const high = powerOf(hi);
  const low = powerOf(lo);
  const power = Math.min(high, low);
  return { whole: (wholeOf(hi) << BigInt(high - power)) + (wholeOf(lo) << BigInt(low - power)), power };
}

/** hi + lo exactly. */
export function exactly(hi: number, lo: number): Ratio {
  const { whole, power } = wholeAndPower(hi, lo);
  return power >= 0 ? ratio.of(whole << BigInt(power)) : ratio.of(whole, 1n << BigInt(-power));
}

const powersOfFive: bigint[] = [];

/**
 * hi + lo as a Decimal, exactly and never through a printed double: whole·2^−k is whole·5^k with the point moved k
 * places. It has more digits than the Decimal context; the first operation on it rounds to the context.
 */
export function decimalOf(hi: number, lo: number): Decimal {
  if (lo === 0 && Number.isSafeInteger(hi)) return new Decimal(hi);
  const { whole, power } = wholeAndPower(hi, lo);
  if (power >= 0) return new Decimal((whole << BigInt(power)).toString());
  const scale = (powersOfFive[-power] ??= 5n ** BigInt(-power));
  return new Decimal(`${whole * scale}e${power}`);
}

export const doubleDouble: Calculator<DoubleDouble> = {
  zero: { hi: 0, lo: 0 },
  fromRatio: fromBigRatio,
  add(a, b) {
    const s = a.hi + b.hi;
    return pair(s, sumError(a.hi, b.hi, s) + (a.lo + b.lo));
  },
  multiplyAdd(sum, a, b) {
    const p = a.hi * b.hi;
    const e = productError(a.hi, b.hi, p);
    const s = sum.hi + p;
    return { hi: s, lo: sum.lo + (sumError(sum.hi, p, s) + (e + (a.hi * b.lo + a.lo * b.hi))) };
  },
  settle: (sum) => pair(sum.hi, sum.lo),
  divide(a, b) {
    const q = a.hi / b.hi;
    const p = q * b.hi;
    const rest = a.hi - p - productError(q, b.hi, p) + a.lo - q * b.lo;
    return pair(q, rest / b.hi);
  },
  compare: (a, b) => (a.hi === b.hi ? a.lo - b.lo : a.hi - b.hi),
  toDecimal: (a) => decimalOf(a.hi, a.lo),
  toRatio: (a) => exactly(a.hi, a.lo),
};
