/**
 * A kitchen: one place that buys and cooks; the unit of access and of data. Its habits say how it writes numbers,
 * what it weighs in, what it pays in and what share of a net menu price its food may cost.
 */
import type { Exact, Habits } from "@/lib/measure";

export interface Kitchen {
  readonly name: string;
  readonly place: string;
  /** ISO 4217 code, "USD". All money in a kitchen's book is in this currency. */
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
}

/** How this kitchen writes and reads figures. */
export function habitsOf(kitchen: Kitchen): Habits {
  return { locale: kitchen.locale, measures: kitchen.measures, currency: kitchen.currency };
}
