/**
 * A kitchen: one place that buys and cooks; the unit of access and of data. Its habits say how it writes numbers,
 * what it weighs in, what it pays in and what share of a net menu price its food may cost.
 */
import type { Exact, Habits, Money } from "@/lib/measure";

export interface Kitchen {
  readonly name: string;
  readonly place: string;
  /** ISO 4217 code, "USD". All money in a kitchen's book is in this currency, but for a quote that names another. */
  readonly currency: string;
  /** BCP 47, "en-US": how numbers and dates are written and read. */
  readonly locale: string;
  /** IANA name, "America/New_York": decides which day today is. */
  readonly timeZone: string;
  /** What it weighs and measures in: pounds and quarts, or kilos and litres. */
  readonly measures: "us" | "metric";
  /** Tax within the menu price as a share of the net price: "0" where menus are printed without tax, "0.2" for 20 % included. */
  readonly taxRate: Exact;
  /** Target food cost as a share of the net price: "0.3". A dish's own target comes first. */
  readonly target: Exact;
  /** A dish within this many points under its target is near it: "0.01" is one point. */
  readonly near: Exact;
  /** Targets of whole sections of the menu, by the section's name; a dish's own target comes before its section's, and that before the kitchen's. */
  readonly sectionTargets: readonly SectionTarget[];
  /** What a menu price may end on, as the part after the last whole unit of money: "0", "0.5", "0.95". Each below 1, ascending; none: any price. */
  readonly endings: readonly Exact[];
  /** What the house spends and serves beside the food in one period, for prices by contribution, by ratio and by prime cost; null: not told. */
  readonly budget: Budget | null;
  /** What other countries' money is worth here, for dealers who ask in it; each currency once, never the kitchen's own. */
  readonly exchangeRates: readonly ExchangeRate[];
}

export interface ExchangeRate {
  /** ISO 4217 code, "EUR". */
  readonly currency: string;
  /** Of the kitchen's money for one of that currency; above zero. */
  readonly rate: Exact;
  /** Whose rate it is: the bank's, the dealer's invoice. */
  readonly source: string;
  readonly on: string;
}

export interface SectionTarget {
  readonly section: string;
  /** A share of the net price, as the kitchen's own target. */
  readonly target: Exact;
}

/** One period of the house, as its accounts have it. Money is in the kitchen's currency. */
export interface Budget {
  /** Which period, in words: "a year", "October 2026". */
  readonly period: string;
  readonly guests: Exact;
  readonly foodCost: Money;
  /** Everything that is not food: labour, rent, heat. */
  readonly nonFoodCost: Money;
  readonly profit: Money;
  /** Of the non-food cost, the labour; null: not told. */
  readonly labour: Money | null;
  /** Share of the net price that food and labour may cost together (0.6); null: not told. */
  readonly primeCostShare: Exact | null;
}

/** How this kitchen writes and reads figures. */
export function habitsOf(kitchen: Kitchen): Habits {
  return { locale: kitchen.locale, measures: kitchen.measures, currency: kitchen.currency };
}
