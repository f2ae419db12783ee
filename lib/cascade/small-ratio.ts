/**
 * Exact numbers in machine registers: the text of an exact number ("12.375", "1/3") read as two whole numbers below
 * 2^53, and multiplied and compared there without BigInt, for as long as they fit. Nearly everything a kitchen types
 * fits; what does not is told so, and goes the slow way through BigInt with the same result.
 */
import { type Kind, type Unit, UNIT_NAMES, baseFactor, kindOf, toRatio } from "@/lib/measure";

const LARGEST = Number.MAX_SAFE_INTEGER;

/** A ratio under construction, reused: every operation writes into it and says whether the result still fits. */
export class SmallRatio {
  n = 0;
  d = 1;

  set(n: number, d: number): boolean {
    this.n = n;
    this.d = d;
    return true;
  }

  /** Multiplies by n/d (whole, d above zero); false when either side leaves the whole numbers below 2^53. */
  times(n: number, d: number): boolean {
    this.n *= n;
    this.d *= d;
    return this.n <= LARGEST && this.n >= -LARGEST && this.d <= LARGEST;
  }

  /** Reads the text of an exact number; false when its digits do not fit. */
  read(text: string): boolean {
    let n = 0;
    let d = 1;
    let inFraction = false;
    let negative = false;
    const length = text.length;
    if (length > 17) return false;
    for (let i = 0; i < length; i += 1) {
      const code = text.charCodeAt(i);
      if (code >= 48 && code <= 57) {
        n = n * 10 + (code - 48);
        if (inFraction) d *= 10;
      } else if (code === 46) inFraction = true;
      else if (code === 45) negative = true;
      else if (code === 47) return this.#readDenominator(text, i + 1, negative ? -n : n);
      else return false;
    }
    if (n > LARGEST || d > LARGEST) return false;
    this.n = negative ? -n : n;
    this.d = d;
    return true;
  }

  #readDenominator(text: string, from: number, n: number): boolean {
    let d = 0;
    for (let i = from; i < text.length; i += 1) d = d * 10 + (text.charCodeAt(i) - 48);
    if (d > LARGEST) return false;
    this.n = n;
    this.d = d;
    return true;
  }
}

/** The kinds of quantity by number, for columns. */
export const KINDS = ["mass", "volume", "count"] as const satisfies readonly Kind[];

/** A unit as whole numbers: one of it is n/d of its kind's base unit (g, mL, each). All of them fit. */
export interface SmallUnit {
  readonly kind: Kind;
  /** The place of its kind in KINDS. */
  readonly code: number;
  readonly n: number;
  readonly d: number;
}

export const SMALL_UNITS: Readonly<Record<Unit, SmallUnit>> = Object.fromEntries(
  UNIT_NAMES.map((unit): [Unit, SmallUnit] => {
    const { n, d } = toRatio(baseFactor(unit));
    return [unit, { kind: kindOf(unit), code: KINDS.indexOf(kindOf(unit)), n: Number(n), d: Number(d) }];
  }),
) as Record<Unit, SmallUnit>;
