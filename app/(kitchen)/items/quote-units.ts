/** The units and the money in which a dealer may tell a price. Units: the kitchen's own first; those of an item's kind where that is settled. */
import { type FactOf, type Quote } from "@/lib/book";
import { type Kind, type Unit, UNIT_NAMES, customaryUnit, kindOf } from "@/lib/measure";
import type { Choice } from "@/components/form";
import { CURRENCIES } from "@/components/kitchen/habit-choices";

/** What price lists are written in; a price per millilitre or per dozen ounces is not. */
const LISTED: readonly Unit[] = ["lb", "oz", "kg", "qt", "gal", "L", "each", "dozen"].filter((unit): unit is Unit => (UNIT_NAMES as readonly string[]).includes(unit));

export function quoteUnits(kind: Kind | null, kitchen: Pick<FactOf["kitchen"], "measures">, now?: Quote["per"]): readonly Unit[] {
  const own = customaryUnit(kind ?? "mass", kitchen);
  const others = LISTED.filter((unit) => unit !== own && (kind === null || kindOf(unit) === kind));
  const units = [own, ...others];
  return now === undefined || now === "pack" || units.includes(now) ? units : [...units, now];
}

/** The kitchen's own money first, as ""; then those with a rate in the house rules, then others. */
export function quoteCurrencies(kitchen: Pick<FactOf["kitchen"], "currency" | "exchangeRates">, now: string | null = null): readonly Choice[] {
  const rated = kitchen.exchangeRates.map(({ currency }) => currency);
  const others = [...(now === null ? [] : [now]), ...CURRENCIES.map(({ value }) => value)].filter((code) => code !== kitchen.currency && !rated.includes(code));
  return [{ value: "", label: kitchen.currency }, ...rated.map((code) => ({ value: code, label: code })), ...[...new Set(others)].map((code) => ({ value: code, label: `${code}, no rate yet` }))];
}
