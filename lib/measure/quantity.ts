/**
 * A quantity: an exact amount and the unit it was stated in, with what the person typed kept beside it. A rate: money
 * per one of a unit. Conversions stay within a kind (mass, volume, count) and are exact multiples; crossing kinds is
 * refused here and happens only through a density or an each-weight recorded for an item.
 */
import { type Decimal, type Exact, exactRatio, toDecimal, toRatio } from "./decimal";
import { type Kind, type Unit, baseFactor, kindOf } from "./units";

export interface Quantity {
  readonly amount: Exact;
  readonly unit: Unit;
  /** What was typed, where it differs from amount and unit: "18 lb 6 oz". */
  readonly typed?: string | undefined;
}

/** Money in the kitchen's currency. */
export interface Money {
  readonly amount: Exact;
  readonly typed?: string | undefined;
}

/** Money per one of a unit: 7.10 a lb. */
export interface Rate {
  readonly amount: Exact;
  readonly per: Unit;
  readonly typed?: string | undefined;
}

export function quantityKind(quantity: Quantity): Kind {
  return kindOf(quantity.unit);
}

/** The quantity in its kind's base unit (g, mL, each), to 34 digits; exact for every terminating amount of a few digits. */
export function inBase(quantity: Quantity): Decimal {
  return toDecimal(quantity.amount).mul(toDecimal(baseFactor(quantity.unit)));
}

/** The quantity in its kind's base unit as an exact ratio. */
export function inBaseExactly(quantity: Quantity): Exact {
  const amount = toRatio(quantity.amount);
  const factor = toRatio(baseFactor(quantity.unit));
  return exactRatio(amount.n * factor.n, amount.d * factor.d);
}

/**
 * The quantity's amount in another unit of the same kind, to 34 digits.
 * Throws when the kinds differ: callers check `quantityKind` first and tell the person.
 */
export function amountIn(quantity: Quantity, unit: Unit): Decimal {
  if (kindOf(quantity.unit) !== kindOf(unit)) {
    throw new Error(`expected a unit of ${kindOf(quantity.unit)} to convert ${quantity.unit} into, got ${unit}`);
  }
  if (quantity.unit === unit) return toDecimal(quantity.amount);
  return inBase(quantity).div(toDecimal(baseFactor(unit)));
}

/** Money per base unit (g, mL, each) of a rate, to 34 digits. */
export function ratePerBase(rate: Rate): Decimal {
  return toDecimal(rate.amount).div(toDecimal(baseFactor(rate.per)));
}

/** A cost per base unit (g, mL, each) restated per `unit`, to 34 digits. */
export function perUnit(costPerBase: Decimal, unit: Unit): Decimal {
  return costPerBase.mul(toDecimal(baseFactor(unit)));
}
