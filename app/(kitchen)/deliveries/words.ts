/** A delivery's findings in words. */
import type { Delivery, FactOf } from "@/lib/book";
import type { JudgedDelivered, PriceAgainst } from "@/lib/buying";
import { type Ratio, type Unit, UNITS, moneyFigure, moneyPlaces, printMoney, ratio } from "@/lib/measure";

type Kitchen = FactOf["kitchen"];

export function paperName({ kind, number }: Pick<Delivery, "kind" | "number">): string {
  const what = kind === "credit" ? "Credit memo" : "Invoice";
  return number === "" ? `${what} without a number` : `${what} ${number}`;
}

export const perText = (per: "pack" | Unit): string => (per === "pack" ? "a pack" : `/ ${UNITS[per].one}`);

/** Money with the places it has, at most four, at least those of the currency. */
export function priceText(amount: Ratio, kitchen: Kitchen): string {
  return moneyFigure(ratio.toDecimal(amount), kitchen, { places: placesOf(amount, kitchen) });
}

export function placesOf(amount: Ratio, kitchen: Pick<Kitchen, "currency">): number {
  return Math.max(moneyPlaces(kitchen.currency), Math.min(4, ratio.toDecimal(amount).decimalPlaces()));
}

export const moneyWords = (amount: Ratio, kitchen: Kitchen): string => printMoney(ratio.toDecimal(amount), kitchen);

/** "agrees with the quote", "dearer by 0.20 / lb than quoted (7.10)". */
export function againstWords(price: PriceAgainst, kitchen: Kitchen): string {
  switch (price.kind) {
    case "none": return "no price of this dealer on that day";
    case "apart": return price.why === "money" ? "quoted in other money, not compared" : "quoted in other units, not compared";
    case "agrees": return "as quoted";
    case "dearer": case "cheaper": return `${price.kind} by ${priceText(price.by, kitchen)} ${perText(price.per)} than quoted (${priceText(price.quoted, kitchen)})`;
  }
}

/** In one sentence: what of it is to be claimed or asked. */
export function findings(lines: readonly JudgedDelivered[]): { readonly short: number; readonly dearer: number; readonly off: number } {
  return { short: lines.filter((line) => line.short !== null).length, dearer: lines.filter(({ price }) => price.kind === "dearer").length, off: lines.filter(({ totalOff }) => totalOff !== null).length };
}
