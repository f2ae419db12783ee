/** The units in which a dealer may tell a price, the kitchen's own first; those of an item's kind where that is settled. */
import { type FactOf, type Quote } from "@/lib/book";
import { type Kind, type Unit, UNIT_NAMES, customaryUnit, kindOf } from "@/lib/measure";

/** What price lists are written in; a price per millilitre or per dozen ounces is not. */
const LISTED: readonly Unit[] = ["lb", "oz", "kg", "qt", "gal", "L", "each", "dozen"].filter((unit): unit is Unit => (UNIT_NAMES as readonly string[]).includes(unit));

export function quoteUnits(kind: Kind | null, kitchen: Pick<FactOf["kitchen"], "measures">, now?: Quote["per"]): readonly Unit[] {
  const own = customaryUnit(kind ?? "mass", kitchen);
  const others = LISTED.filter((unit) => unit !== own && (kind === null || kindOf(unit) === kind));
  const units = [own, ...others];
  return now === undefined || now === "pack" || units.includes(now) ? units : [...units, now];
}
