/** The judge: decimal.js at 60 significant digits, twice what the engine carries, rounded at every step. Slow and plain. */
import { Decimal, type Ratio, ratio } from "@/lib/measure";
import type { Calculator } from "./calculator";

const Decimal60 = Decimal.clone({ precision: 60 });

/** A Decimal of any length as the fraction it is; nothing is rounded. */
export function ratioOf(value: Decimal): Ratio {
  const places = value.decimalPlaces();
  return ratio.of(BigInt(value.toFixed(places).replace(".", "")), 10n ** BigInt(places));
}

export const decimal60: Calculator<Decimal> = {
  zero: new Decimal60(0),
  fromRatio: (n, d) => new Decimal60(n.toString()).div(new Decimal60(d.toString())),
  add: (a, b) => a.plus(b),
  multiplyAdd: (sum, a, b) => sum.plus(a.times(b)),
  settle: (sum) => sum,
  divide: (a, b) => a.div(b),
  compare: (a, b) => a.comparedTo(b),
  toDecimal: (a) => new Decimal(a),
  toRatio: ratioOf,
};
