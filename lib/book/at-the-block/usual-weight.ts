/** What a part usually weighs of such a whole, from the shares that earlier tests gave it: a guide for the eye, told round. */
import { Decimal, type Quantity, exact, kindOf, ratio } from "@/lib/measure";
import { type Usual, quantityInBase } from "@/lib/yield";

/** Grams in an ounce is exact; weights of a US kitchen are told to the ounce, others to the ten grams. null: nothing is usual. */
export function usualWeight(usual: Usual | null, key: string, billed: Quantity): Quantity | null {
  const share = usual?.shares.get(key)?.share;
  if (share === undefined || kindOf(billed.unit) !== "mass") return null;
  const metric = billed.unit === "kg" || billed.unit === "g";
  const step = metric ? "10" : "1";
  const small = quantityInBase({ amount: exact(step), unit: metric ? "g" : "oz" });
  const steps = ratio.toDecimal(ratio.div(ratio.mul(share, quantityInBase(billed)), small)).toDecimalPlaces(0, Decimal.ROUND_HALF_UP);
  if (steps.isZero()) return null;
  return metric ? { amount: exact(steps.mul(step).div(1000).toFixed()), unit: "kg" } : { amount: exact(steps.div(16).toFixed()), unit: "lb" };
}
