/** How a dealer's price is told: what is asked in its own money, what it rests on, and how long it has stood. */
import type { FactOf, Quote } from "@/lib/book";
import { type Printed, UNITS, moneyFigure, moneyPlaces, oneOf, printDay, printMoney, toDecimal } from "@/lib/measure";
import { daysBetween } from "@/lib/yield";

type Kitchen = FactOf["kitchen"];

/** "€7.10 a kilo", "$48.60 a pack". */
export function askedText(quote: Pick<Quote, "price" | "per" | "currency">, kitchen: Kitchen): string {
  return `${printMoney(toDecimal(quote.price.amount), moneyOf(quote, kitchen), { places: placesOf(quote, kitchen) })} ${quote.per === "pack" ? "a pack" : oneOf(quote.per)}`;
}

/** The same for a column under the kitchen's sign: what is asked in other money carries its own. */
export function askedFigure(quote: Pick<Quote, "price" | "per" | "currency">, kitchen: Kitchen): Printed {
  const amount = toDecimal(quote.price.amount);
  const options = { places: placesOf(quote, kitchen) };
  return {
    figure: quote.currency === null ? moneyFigure(amount, kitchen, options) : printMoney(amount, moneyOf(quote, kitchen), options),
    unit: quote.per === "pack" ? "a pack" : `/ ${UNITS[quote.per].one}`,
  };
}

/** Habits in which a quote's own money is printed. */
export function moneyOf(quote: Pick<Quote, "currency">, kitchen: Kitchen): Kitchen {
  return quote.currency === null ? kitchen : { ...kitchen, currency: quote.currency };
}

/** Prices a pound go below the cent on some lists. */
function placesOf(quote: Pick<Quote, "price" | "currency">, kitchen: Kitchen): number | undefined {
  const decimals = toDecimal(quote.price.amount).decimalPlaces();
  return decimals > moneyPlaces(quote.currency ?? kitchen.currency) ? decimals : undefined;
}

/** What a price rests on, "contract to Thu 31 Dec 2026"; "" for one that is simply quoted. */
export function basisText({ basis, until }: Pick<Quote, "basis" | "until">, kitchen: Kitchen, today: string): string {
  switch (basis) {
    case "quoted": return "";
    case "market": return "moves with the market";
    case "invoice": return "from the invoice";
    case "contract": return until === null ? "contract" : until < today ? `contract ended ${printDay(until, kitchen)}` : `contract to ${printDay(until, kitchen)}`;
  }
}

/** So many days before its last day a contract is spoken of: time enough to ask for the next price. */
const SOON = 30;

export function contractEnd({ basis, until }: Pick<Quote, "basis" | "until">, today: string): "ended" | "soon" | null {
  if (basis !== "contract" || until === null) return null;
  return until < today ? "ended" : daysBetween(today, until) <= SOON ? "soon" : null;
}

/** "today", "1 day", "12 days": since when something stands. */
export function daysText(from: string, today: string): string {
  const days = daysBetween(from, today);
  return days === 0 ? "today" : days === 1 ? "1\u00a0day" : `${days}\u00a0days`;
}
