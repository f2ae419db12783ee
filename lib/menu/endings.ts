/**
 * House endings: what a menu price may end on (.00, .50, .95), a matter of how a menu reads. A price that arithmetic
 * asks for goes up to the next one allowed, on the gross price that is printed, so that it asks no less; a cost is never
 * rounded. Common practice, no source; that 99 reads as value and 00 as quality was found by Parsa and others.
 */
import { Decimal, type Exact, roundHalfUp, toDecimal } from "@/lib/measure";

/**
 * The lowest printable price at or above `gross` that ends on one of `endings` (parts after the last whole one, each
 * below 1); without endings, the lowest with `places` decimals. Money. What lies within half a millionth of a price of
 * it is taken as it, so that a price which is already right stays.
 */
export function endedPrice(gross: Decimal, endings: readonly Exact[], places: number): Decimal {
  const asked = roundHalfUp(gross, places + 6);
  if (endings.length === 0) return asked.toDecimalPlaces(places, Decimal.ROUND_CEIL);
  const whole = asked.floor();
  const allowed = [whole, whole.plus(1)].flatMap((base) => endings.map((ending) => base.plus(toDecimal(ending)))).filter((price) => price.gte(asked));
  // Above every one of them, so that it is never taken.
  return allowed.reduce((lowest, price) => (price.lt(lowest) ? price : lowest), whole.plus(2));
}
