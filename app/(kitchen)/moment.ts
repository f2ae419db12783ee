/** Moments told in the kitchen's own time: "Wed 25 Nov 2026, 10:20". Which day a moment falls on depends on the place. */
import type { FactOf } from "@/lib/book";
import { printDay } from "@/lib/measure";

type Place = Pick<FactOf["kitchen"], "timeZone" | "locale" | "measures" | "currency">;

/** The calendar day, in the kitchen's time zone, of a moment in UTC. */
export function dayOf(moment: string, kitchen: Place): string {
  return new Intl.DateTimeFormat("en-CA", { timeZone: kitchen.timeZone, year: "numeric", month: "2-digit", day: "2-digit" }).format(new Date(moment));
}

/** A moment in UTC as the kitchen would say it. */
export function printMoment(moment: string, kitchen: Place): string {
  const time = new Intl.DateTimeFormat(kitchen.locale, { timeZone: kitchen.timeZone, hour: "numeric", minute: "2-digit" }).format(new Date(moment));
  return `${printDay(dayOf(moment, kitchen), kitchen)}, ${time}`;
}

/** The day of a moment, short: "23 Nov", with the year where it is not this year's. */
export function printShortDay(moment: string, kitchen: Place, today: string): string {
  const year = dayOf(moment, kitchen).slice(0, 4) === today.slice(0, 4) ? {} : { year: "numeric" as const };
  return new Intl.DateTimeFormat(kitchen.locale.startsWith("en") ? "en-GB" : kitchen.locale, { timeZone: kitchen.timeZone, day: "numeric", month: "short", ...year }).format(new Date(moment));
}
