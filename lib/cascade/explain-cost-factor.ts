/** The cost factor of a cut, F = C/P: how many times the dealer's price a usable unit costs (Dittmer & Keefe, ch. 6). */
import { type Unit, BASE_UNIT, kindOf } from "@/lib/measure";
import { takenFrom } from "./explain-lines";
import { type Sources, one, perOne, rootItem } from "./explain-sources";
import type { CostFactor } from "./explain-types";
import { nameOf } from "./names";

/** F = C/P on the price of the item at the root, told per `unit`; null while either is not wholly known, or P is zero. */
export function costFactor(sources: Sources, cutId: string, unit: Unit): CostFactor | null {
  const root = rootItem(sources.book, { kind: "cut", id: cutId });
  const cost = sources.costOf({ kind: "cut", id: cutId });
  const line = root && takenFrom(sources, { key: "root", of: { kind: "item", id: root.id }, quantity: one(BASE_UNIT[kindOf(unit)]), note: "" });
  if (!root || !cost || cost.missing.length > 0 || !line || line.missing.length > 0 || !line.amount?.gt(0)) return null;
  return {
    factor: cost.amount.div(line.amount),
    item: root,
    name: nameOf(sources.book, root),
    price: { amount: perOne(line.amount, unit), per: unit },
  };
}
