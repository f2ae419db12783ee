/**
 * A small kitchen for store tests: striploin through a butcher test to a steak on two dishes, priced, with a clock that
 * the test moves by hand. Today is Wednesday, 25 November 2026, in New York.
 */
import { type Change, type Kitchen, factKey } from "@/lib/book";
import { exact } from "@/lib/measure";
import { type Clock, type Commission, type DatedChange, type LiveBook, type Store, basedOn } from "@/lib/store";
import { delivery, dish, item, menuPrice, quote, recipe, striploin, week } from "../menu/small-books";

export const TODAY = "2026-11-25";

export const kitchen: Kitchen = {
  name: "Test kitchen", place: "Anywhere", currency: "USD", locale: "en-US", timeZone: "America/New_York",
  measures: "us", taxRate: exact("0"), target: exact("0.3"), near: exact("0.01"), sectionTargets: [], endings: [], budget: null, exchangeRates: [],
};

export const CHEF = { name: "Chef" };
export const SOUS = { name: "Sous chef" };

/** A clock that stands still until it is set: noon of today in New York. */
export function standingClock(): Clock & { set(moment: string): void } {
  let now = Date.parse(`${TODAY}T17:00:00Z`);
  return { now: () => now, set: (moment) => { now = Date.parse(moment); } };
}

export const FACTS: readonly Change[] = [
  ...striploin,
  item("butter"), quote("butter", "4.20 a lb"), delivery("invoice-1", "butter", "36 lb", "4.20 a lb"),
  recipe("herb-butter", ["2 lb", "32 portion"], ["item butter 2 lb"]),
  dish("steak-frites", ["spec steak-10oz 1 portion", "recipe herb-butter 1 portion"]),
  dish("butter-bean", ["recipe herb-butter 2 oz"]),
  menuPrice("steak-frites", "32.00"), menuPrice("butter-bean", "9.00"),
  week("2026-11-16", { "steak-frites": "40", "butter-bean": "12" }),
];

export function from(validFrom: string, changes: readonly Change[]): DatedChange[] {
  return changes.map((change) => ({ change, validFrom }));
}

/** Opens the small kitchen; everything in it applies since the first of November. */
export async function openSmall(store: Store, settings: Partial<Kitchen> = {}): Promise<string> {
  return store.createKitchen({ ...kitchen, ...settings }, CHEF, from("2026-11-01", FACTS), "opening");
}

/** A commission by an editor who has this live book on the screen. */
export function commission(live: LiveBook, entries: readonly DatedChange[], who = CHEF, why = "because"): Commission {
  return { entries, basedOn: basedOn(live, entries.map(({ change }) => change)), who, why };
}

export const key = (change: Change): string => factKey(change.kind, change.id);
