/** Schemas of the kitchen's own settings and of what is bought: dealers, items, quotes. */
import { z } from "zod";
import { type Habits, type Kind, UNITS, type Unit, isExact, unitFromSpelling } from "@/lib/measure";
import type { FactOf } from "../book";
import type { Dealer, Item, Pack, PackLevel, Quote } from "../item";
import { parsePack } from "../pack";
import { bareUnit, chosen, day, id, money, name, note, number, orNull, quantity, share, tick, word } from "./fields";

export const KINDS = ["mass", "volume", "count"] as const satisfies readonly Kind[];
const ANY: readonly Kind[] = KINDS;

const currency = z.string({ error: "Give the currency as three letters, such as USD." }).transform((text) => text.trim().toUpperCase()).refine(
  (code) => /^[A-Z]{3}$/.test(code) && Intl.supportedValuesOf("currency").includes(code),
  { error: "That is not a currency: give its three letters, such as USD, EUR or GBP." },
);
const locale = z.string({ error: "Say how numbers are written, such as en-US." }).refine(
  (tag) => {
    try {
      return tag.length <= 35 && Intl.NumberFormat.supportedLocalesOf(tag).length === 1;
    } catch {
      return false;
    }
  },
  { error: "That is not a way of writing numbers that is known here: en-US, en-GB, de-DE and fr-FR are." },
);
const timeZone = z.string({ error: "Say which time zone the kitchen is in." }).refine(
  (zone) => {
    try {
      return zone.length <= 60 && new Intl.DateTimeFormat("en-US", { timeZone: zone }).resolvedOptions().timeZone !== "";
    } catch {
      return false;
    }
  },
  { error: "That is not a time zone: name a city in it, such as America/New_York or Europe/Paris." },
);

export function kitchenSchema(habits: Habits): z.ZodType<FactOf["kitchen"]> {
  return z.object({
    id, name: name("the kitchen"), place: note("The place", 120), currency, locale, timeZone,
    measures: word(["us", "metric"], "What it weighs in"),
    taxRate: share(habits, "The tax rate", { zero: true }),
    target: share(habits, "The target"),
    near: share(habits, "How near counts as near", { zero: true }),
  });
}

export function dealerSchema(): z.ZodType<Dealer> {
  return z.object({ id, name: name("the dealer"), note: note("The note") });
}

export function itemSchema(habits: Habits): z.ZodType<Item> {
  return z.object({
    id, name: name("the item"), section: note("The section", 60), specification: note("The purchase specification"),
    kind: word(KINDS, "What it is priced by"),
    dealerId: orNull(chosen("a dealer")),
    density: orNull(z.object({ gramsPerMl: number(habits, { what: "The density in grams a millilitre" }), source: note("Where the density comes from", 200), on: day("The day of the density") })),
    eachWeight: orNull(z.object({
      weight: quantity(habits, ["mass"], { what: "The weight of one", bare: bareUnit("mass", habits) }),
      source: note("Where the weight of one comes from", 200), on: day("The day of the weighing"),
    })),
  });
}

function packSchema(habits: Habits): z.ZodType<Pack> {
  const level: z.ZodType<PackLevel> = z.object({ count: number(habits, { what: "How many a pack holds" }), container: note("The container", 40) });
  return z.union([
    z.string().transform((text, context) => {
      const read = parsePack(text, habits);
      if (read.ok) return read.value;
      for (const problem of read.problems) context.addIssue({ code: "custom", params: { code: problem.code }, message: problem.sentence });
      return z.NEVER;
    }),
    z.object({ levels: z.array(level).max(4), size: quantity(habits, ANY, { what: "What the pack holds" }), catchWeight: tick }),
  ], { error: "Say what the pack holds, such as 40 lb or 6/102 oz can." });
}

/** "pack", or the unit that is priced. */
const per: z.ZodType<"pack" | Unit> = z.string({ error: "Say whether the price is for the pack or for one of a unit." }).transform((text, context) => {
  const tidy = text.trim();
  if (tidy === "pack") return tidy;
  if (Object.hasOwn(UNITS, tidy)) return tidy as Unit;
  const unit = unitFromSpelling(tidy);
  if (unit !== undefined) return unit;
  context.addIssue({ code: "custom", params: { code: "no-unit" }, message: "Say whether the price is for the pack or for one of a unit, such as lb." });
  return z.NEVER;
});

export function quoteSchema(habits: Habits): z.ZodType<Quote> {
  return z
    .object({
      id, itemId: chosen("the item"), dealerId: chosen("the dealer"), pack: packSchema(habits),
      price: money(habits, { what: "The price" }), per,
      basis: word(["quoted", "contract", "invoice"], "What the price rests on").default("quoted"),
      code: note("The order code", 60),
    })
    .superRefine((quote, context) => {
      if (quote.pack.catchWeight && quote.per === "pack") {
        context.addIssue({ code: "custom", path: ["per"], params: { code: "catch-weight-per-pack" }, message: "Catch weight is billed by what it weighs: give the price for one pound or kilo, not for the pack." });
      }
      if (quote.per !== "pack" && isExact(quote.pack.size.amount) && UNITS[quote.per].kind !== UNITS[quote.pack.size.unit].kind) {
        context.addIssue({ code: "custom", path: ["per"], params: { code: "wrong-kind" }, message: `The pack is told in ${quote.pack.size.unit}, so the price cannot be per ${quote.per}: give both in the same kind of unit.` });
      }
    });
}
