/**
 * Exact figures in columns. A number is a numerator (x_amount) over a denominator (x_over, 1 for a decimal); a
 * quantity adds its unit, a rate what it is per, and each what was typed where that differs. Nothing is converted or
 * rounded on the way: the digits and the unit that were understood are the digits and the unit that come back.
 */
import { type Exact, type Money, type Quantity, type Rate, UNIT_NAMES, type Unit, exact } from "@/lib/measure";

type Named<P extends string, S extends string> = `${P}_${S}`;

const named = <P extends string, S extends string>(prefix: P, suffix: S): Named<P, S> => `${prefix}_${suffix}`;

/** Columns of an exact number called `prefix`. */
export function exactColumns<P extends string>(prefix: P) {
  return { [named(prefix, "amount")]: "exact", [named(prefix, "over")]: "exact" } as
    { readonly [N in Named<P, "amount" | "over">]: "exact" };
}
export function maybeExactColumns<P extends string>(prefix: P) {
  return { [named(prefix, "amount")]: "exact?", [named(prefix, "over")]: "exact?" } as
    { readonly [N in Named<P, "amount" | "over">]: "exact?" };
}

type ExactRow<P extends string> = { readonly [N in Named<P, "amount" | "over">]: string };
type MaybeExactRow<P extends string> = { readonly [N in Named<P, "amount" | "over">]: string | null };

export function exactIn<P extends string>(row: ExactRow<P>, prefix: P): Exact {
  return joined(row[named(prefix, "amount")], row[named(prefix, "over")]);
}
export function maybeExactIn<P extends string>(row: MaybeExactRow<P>, prefix: P): Exact | null {
  const amount = row[named(prefix, "amount")];
  const over = row[named(prefix, "over")];
  return amount === null || over === null ? null : joined(amount, over);
}
export function exactRow<P extends string>(prefix: P, value: Exact): ExactRow<P> {
  const { amount, over } = split(value);
  return { [named(prefix, "amount")]: amount, [named(prefix, "over")]: over } as ExactRow<P>;
}
export function maybeExactRow<P extends string>(prefix: P, value: Exact | null): MaybeExactRow<P> {
  if (value !== null) return exactRow(prefix, value);
  return { [named(prefix, "amount")]: null, [named(prefix, "over")]: null } as MaybeExactRow<P>;
}

function split(value: Exact): { amount: string; over: string } {
  const slash = value.indexOf("/");
  return slash < 0 ? { amount: value, over: "1" } : { amount: value.slice(0, slash), over: value.slice(slash + 1) };
}

function joined(amount: string, over: string): Exact {
  return exact(over === "1" ? amount : `${amount}/${over}`);
}

/** Columns of an exact number with its unit ("unit" for quantities, "per" for rates) and what was typed. */
function unitColumns<P extends string, U extends string>(prefix: P, unit: U) {
  return { ...exactColumns(prefix), [named(prefix, unit)]: "text", [named(prefix, "typed")]: "text?" } as
    { readonly [N in Named<P, "amount" | "over">]: "exact" } & { readonly [N in Named<P, U>]: "text" } &
    { readonly [N in Named<P, "typed">]: "text?" };
}
function maybeUnitColumns<P extends string, U extends string>(prefix: P, unit: U) {
  return { ...maybeExactColumns(prefix), [named(prefix, unit)]: "text?", [named(prefix, "typed")]: "text?" } as
    { readonly [N in Named<P, "amount" | "over">]: "exact?" } & { readonly [N in Named<P, U | "typed">]: "text?" };
}

export const quantityColumns = <P extends string>(prefix: P) => unitColumns(prefix, "unit");
export const maybeQuantityColumns = <P extends string>(prefix: P) => maybeUnitColumns(prefix, "unit");
export const maybeRateColumns = <P extends string>(prefix: P) => maybeUnitColumns(prefix, "per");
export const moneyColumns = <P extends string>(prefix: P) => ({
  ...exactColumns(prefix), [named(prefix, "typed")]: "text?",
}) as { readonly [N in Named<P, "amount" | "over">]: "exact" } & { readonly [N in Named<P, "typed">]: "text?" };

type Typed<P extends string> = { readonly [N in Named<P, "typed">]: string | null };
type QuantityRow<P extends string> = ExactRow<P> & Typed<P> & { readonly [N in Named<P, "unit">]: string };
type MaybeQuantityRow<P extends string> = MaybeExactRow<P> & Typed<P> & { readonly [N in Named<P, "unit">]: string | null };
type MaybeRateRow<P extends string> = MaybeExactRow<P> & Typed<P> & { readonly [N in Named<P, "per">]: string | null };
type MoneyRow<P extends string> = ExactRow<P> & Typed<P>;

/** The text in one column of a row. Apart from the rows' own types, so that the compiler can see which column is meant. */
function cell<P extends string, S extends string, V extends string | null>(
  row: { readonly [N in Named<P, S>]: V }, prefix: P, suffix: S,
): V {
  return row[named(prefix, suffix)];
}

function withTyped<F extends object, P extends string>(figure: F, row: Typed<P>, prefix: P): F & { readonly typed?: string } {
  const typed = cell<P, "typed", string | null>(row, prefix, "typed");
  return typed === null ? figure : { ...figure, typed };
}

export function quantityIn<P extends string>(row: QuantityRow<P>, prefix: P): Quantity {
  const unit = unitFrom(cell<P, "unit", string>(row, prefix, "unit"));
  return withTyped<Quantity, P>({ amount: exactIn<P>(row, prefix), unit }, row, prefix);
}
export function maybeQuantityIn<P extends string>(row: MaybeQuantityRow<P>, prefix: P): Quantity | null {
  const amount = maybeExactIn<P>(row, prefix);
  const unit = cell<P, "unit", string | null>(row, prefix, "unit");
  return amount === null || unit === null ? null : withTyped<Quantity, P>({ amount, unit: unitFrom(unit) }, row, prefix);
}
export function quantityRow<P extends string>(prefix: P, quantity: Quantity): QuantityRow<P> {
  return {
    ...exactRow(prefix, quantity.amount), [named(prefix, "unit")]: quantity.unit, [named(prefix, "typed")]: quantity.typed ?? null,
  } as QuantityRow<P>;
}
export function maybeQuantityRow<P extends string>(prefix: P, quantity: Quantity | null): MaybeQuantityRow<P> {
  if (quantity !== null) return quantityRow(prefix, quantity);
  return { ...maybeExactRow(prefix, null), [named(prefix, "unit")]: null, [named(prefix, "typed")]: null } as MaybeQuantityRow<P>;
}

export function maybeRateIn<P extends string>(row: MaybeRateRow<P>, prefix: P): Rate | null {
  const amount = maybeExactIn<P>(row, prefix);
  const per = cell<P, "per", string | null>(row, prefix, "per");
  return amount === null || per === null ? null : withTyped<Rate, P>({ amount, per: unitFrom(per) }, row, prefix);
}
export function maybeRateRow<P extends string>(prefix: P, rate: Rate | null): MaybeRateRow<P> {
  return {
    ...maybeExactRow(prefix, rate?.amount ?? null),
    [named(prefix, "per")]: rate?.per ?? null, [named(prefix, "typed")]: rate?.typed ?? null,
  } as MaybeRateRow<P>;
}

export function moneyIn<P extends string>(row: MoneyRow<P>, prefix: P): Money {
  return withTyped<Money, P>({ amount: exactIn<P>(row, prefix) }, row, prefix);
}
export function moneyRow<P extends string>(prefix: P, money: Money): MoneyRow<P> {
  return { ...exactRow(prefix, money.amount), [named(prefix, "typed")]: money.typed ?? null } as MoneyRow<P>;
}

type MaybeMoneyRow<P extends string> = MaybeExactRow<P> & Typed<P>;

export const maybeMoneyColumns = <P extends string>(prefix: P) => ({
  ...maybeExactColumns(prefix), [named(prefix, "typed")]: "text?",
}) as { readonly [N in Named<P, "amount" | "over">]: "exact?" } & { readonly [N in Named<P, "typed">]: "text?" };
export function maybeMoneyIn<P extends string>(row: MaybeMoneyRow<P>, prefix: P): Money | null {
  const amount = maybeExactIn<P>(row, prefix);
  return amount === null ? null : withTyped<Money, P>({ amount }, row, prefix);
}
export function maybeMoneyRow<P extends string>(prefix: P, money: Money | null): MaybeMoneyRow<P> {
  return { ...maybeExactRow(prefix, money?.amount ?? null), [named(prefix, "typed")]: money?.typed ?? null } as MaybeMoneyRow<P>;
}

const UNIT_BY_NAME: ReadonlyMap<string, Unit> = new Map(UNIT_NAMES.map((unit) => [unit, unit]));

export function unitFrom(text: string): Unit {
  const unit = UNIT_BY_NAME.get(text);
  if (!unit) throw new Error(`expected a unit in the database, got "${text}"`);
  return unit;
}
