/** Figures of by-products as a kitchen reads them. */
import type { FactOf } from "@/lib/book";
import { type Kind, type Printed, type Quantity, type Ratio, UNITS, type Unit, baseFactor, customaryUnit, moneyFigure, moneyPlaces, printMoney, printNumber, ratio } from "@/lib/measure";

type Kitchen = FactOf["kitchen"];

/** "40.5 lb": an average week's amount, told in base units. */
export function weekAmount(amount: Ratio, kind: Kind, kitchen: Kitchen): Printed {
  const unit = customaryUnit(kind, kitchen);
  return { figure: printNumber(ratio.toDecimal(inUnit(amount, unit)), kitchen, { places: 1 }), unit };
}

export function weekText(amount: Ratio, kind: Kind, kitchen: Kitchen): string {
  const { figure, unit } = weekAmount(amount, kind, kitchen);
  return `${figure} ${unit}`;
}

export function moneyOf(amount: Ratio, kitchen: Kitchen): string {
  return moneyFigure(ratio.toDecimal(amount), kitchen).replace("-", "−");
}

/** "$2.60 / lb" of money per base unit. */
export function perUnitText(amount: Ratio, kind: Kind, kitchen: Kitchen): string {
  const unit = customaryUnit(kind, kitchen);
  return `${printMoney(ratio.toDecimal(ratio.mul(amount, ratio.fromExact(baseFactor(unit)))), kitchen, { places: moneyPlaces(kitchen.currency) })} / ${UNITS[unit].one}`;
}

function inUnit(amount: Ratio, unit: Unit): Ratio {
  return ratio.div(amount, ratio.fromExact(baseFactor(unit)));
}

/** A week's amount as one would record it: in the kitchen's large unit, to a thousandth, which is less than a cent a week. */
export function asRecorded(amount: Ratio, kind: Kind, kitchen: Kitchen): Quantity {
  const unit = customaryUnit(kind, kitchen);
  const thousandths = ratio.floor(ratio.add(ratio.mul(inUnit(amount, unit), ratio.of(1000n)), ratio.of(1n, 2n)));
  return { amount: ratio.toExact(ratio.of(thousandths, 1000n)), unit };
}

/** What a balance of credit and charge says. */
export const BALANCE_WORDS = {
  same: "credited and charged with the same number",
  uncounted: "nobody has counted its use, so all of it is credited",
  "out-of-date": "what is recorded as used is not what the week has",
  outside: "it leaves the menu: whoever takes it is charged, outside this book",
  beyond: "more is used than comes off: the rest must be bought",
} as const;
