/**
 * Weights as said in a sentence about a sheet: in the unit the billed weight was told in, pounds with their ounces,
 * since that is how the scale at the block reads. For sentences only; figures on a page are printed by lib/measure.
 */
import { type Ratio, type Unit, baseFactor, ratio } from "@/lib/measure";

const PLACES = 3;

/** 12.5625 lb as "12 lb 9 oz", 6.9 kg as "6.9 kg". `amount` is in base units; negative amounts lose their sign. */
export function sayWeight(amount: Ratio, unit: Unit): string {
  const size = amount.n < 0n ? ratio.neg(amount) : amount;
  if (unit !== "lb") return `${plain(ratio.div(size, ratio.fromExact(baseFactor(unit))))} ${unit}`;
  const ounces = ratio.toDecimal(ratio.div(size, ratio.fromExact(baseFactor("oz")))).toDecimalPlaces(2);
  const pounds = ounces.divToInt(16);
  const rest = ounces.minus(pounds.times(16));
  if (pounds.isZero()) return `${rest.toString()} oz`;
  return rest.isZero() ? `${pounds.toString()} lb` : `${pounds.toString()} lb ${rest.toString()} oz`;
}

/** A share as "4.2 %". */
export function sayShare(share: Ratio): string {
  return `${ratio.toDecimal(ratio.mul(share, ratio.of(100n))).toDecimalPlaces(1).toString()} %`;
}

/** Money without its sign, "5.00". */
export function sayMoney(amount: Ratio): string {
  return ratio.toDecimal(amount).toFixed(2);
}

function plain(amount: Ratio): string {
  const exact = ratio.toDecimal(amount);
  const rounded = exact.toDecimalPlaces(PLACES);
  // A small excess must not be told as 0.
  return (rounded.isZero() ? exact.toSignificantDigits(2) : rounded).toString();
}

