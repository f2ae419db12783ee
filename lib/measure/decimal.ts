/**
 * Exact figures. A figure that a person typed is kept as the text of an exact number ("7.10", or "1/3" where a
 * decimal would not end), so that facts are plain data and nothing is lost on the way to and from the database.
 * Arithmetic happens in one shared decimal context of 34 significant digits; rounding for people happens once,
 * when a figure is printed (print.ts).
 */
import DecimalJs from "decimal.js";

/** The one decimal context: 34 significant digits, half-up, no exponent notation in any size a kitchen meets. */
export const Decimal = DecimalJs.clone({
  precision: 34,
  rounding: DecimalJs.ROUND_HALF_UP,
  toExpNeg: -60,
  toExpPos: 60,
  minE: -9e15,
  maxE: 9e15,
});
export type Decimal = DecimalJs;

declare const exactBrand: unique symbol;
/**
 * The text of an exact number: a plain decimal ("-12.5", "0.0625") or a ratio of two whole numbers ("1/3") where a
 * decimal would not terminate. Canonical: no exponent, no leading plus, no trailing zeros after the point beyond what
 * was given, a ratio in lowest terms. Made by `exact`, `exactRatio` or the parsers, never by a cast.
 */
export type Exact = string & { readonly [exactBrand]: true };

const DECIMAL_TEXT = /^-?(?:0|[1-9]\d*)(?:\.\d+)?$/;
const RATIO_TEXT = /^-?[1-9]\d*\/[1-9]\d*$/;

/** True when the text is already a canonical exact number. */
export function isExact(text: string): text is Exact {
  return text.length <= 120 && (DECIMAL_TEXT.test(text) || RATIO_TEXT.test(text));
}

/** Reads a canonical exact number; throws on anything else, since only our own code may hand in such text. */
export function exact(text: string): Exact {
  if (!isExact(text)) throw new Error(`expected an exact number such as "7.10" or "1/3", got "${text.slice(0, 40)}"`);
  return text;
}

/** The exact number n/d: as a decimal where it terminates, else as a ratio in lowest terms. Fails when d is 0. */
export function exactRatio(n: bigint, d: bigint): Exact {
  if (d === 0n) throw new Error("expected a denominator other than 0");
  if (d < 0n) [n, d] = [-n, -d];
  const shared = greatestCommonDivisor(n < 0n ? -n : n, d);
  n /= shared;
  d /= shared;
  // A fraction terminates when its denominator holds no prime but 2 and 5.
  let rest = d;
  let places = 0;
  let scale = 1n;
  while (rest % 10n === 0n) rest /= 10n;
  while (rest % 2n === 0n) rest /= 2n;
  while (rest % 5n === 0n) rest /= 5n;
  if (rest !== 1n) return `${n}/${d}` as Exact;
  while ((n * scale) % d !== 0n) {
    scale *= 10n;
    places += 1;
  }
  const digits = ((n < 0n ? -n : n) * scale) / d;
  const text = digits.toString().padStart(places + 1, "0");
  const whole = text.slice(0, text.length - places);
  const point = places === 0 ? "" : `.${text.slice(text.length - places)}`;
  return `${n < 0n ? "-" : ""}${whole}${point}` as Exact;
}

/** The exact number as a Decimal: exact for a decimal text, correct to 34 digits for a ratio. */
export function toDecimal(value: Exact): Decimal {
  const slash = value.indexOf("/");
  if (slash < 0) return new Decimal(value);
  return new Decimal(value.slice(0, slash)).div(new Decimal(value.slice(slash + 1)));
}

/** The exact number as a pair of whole numbers in lowest terms with a positive denominator. */
export function toRatio(value: Exact): { readonly n: bigint; readonly d: bigint } {
  const slash = value.indexOf("/");
  if (slash >= 0) return { n: BigInt(value.slice(0, slash)), d: BigInt(value.slice(slash + 1)) };
  const point = value.indexOf(".");
  if (point < 0) return { n: BigInt(value), d: 1n };
  const n = BigInt(value.slice(0, point) + value.slice(point + 1));
  const d = 10n ** BigInt(value.length - point - 1);
  const shared = greatestCommonDivisor(n < 0n ? -n : n, d);
  return { n: n / shared, d: d / shared };
}

export function greatestCommonDivisor(a: bigint, b: bigint): bigint {
  while (b !== 0n) [a, b] = [b, a % b];
  return a === 0n ? 1n : a;
}
