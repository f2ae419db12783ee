/**
 * The one place where figures are rounded. Money goes half-up to the currency's minor unit, a tie away from zero, as
 * bookkeeping does. A figure that arithmetic of 34 digits left a hair beside a tie is taken as the tie, since the exact
 * figure is: without that, 0.125 reached by a division could print as 0.12.
 */
import { Decimal } from "./decimal";

const HAIR = new Decimal("1e-28");

/** Half-up to `places` decimals, ties away from zero, what is within 1e-28 of a tie (relatively) counting as one. */
export function roundHalfUp(value: Decimal, places: number): Decimal {
  const scale = new Decimal(10).pow(places);
  const scaled = value.abs().mul(scale);
  const tie = scaled.floor().add("0.5");
  const up = scaled.gte(tie) || tie.sub(scaled).lte(scaled.mul(HAIR));
  const rounded = (up ? scaled.floor().add(1) : scaled.floor()).div(scale);
  return rounded.isZero() ? new Decimal(0) : value.isNegative() ? rounded.neg() : rounded;
}

const placesByCurrency = new Map<string, number>();

/** Decimals of a currency's minor unit by ISO 4217: 2 for USD, 0 for JPY, 3 for KWD. 2 where the code is unknown. */
export function moneyPlaces(currency: string): number {
  const known = placesByCurrency.get(currency);
  if (known !== undefined) return known;
  let places = 2;
  try {
    places = new Intl.NumberFormat("en-US", { style: "currency", currency }).resolvedOptions().maximumFractionDigits ?? 2;
  } catch {
    // Not a currency code: the kitchen's own settings are checked where they are made.
  }
  placesByCurrency.set(currency, places);
  return places;
}

/** Money to the currency's minor unit, half-up. */
export function roundMoney(amount: Decimal, currency: string): Decimal {
  return roundHalfUp(amount, moneyPlaces(currency));
}
