/** Schemas of the kitchen's own settings and of what is bought: dealers, items, quotes. */
import { z } from "zod";
import { type Habits, type Kind, UNITS, type Unit, isExact, moneyPlaces, ratio, toDecimal, unitFromSpelling } from "@/lib/measure";
import { ALLERGENS, type Allergens } from "../allergens";
import type { FactOf } from "../book";
import type { Dealer, Item, Pack, PackLevel, Quote } from "../item";
import type { Budget } from "../kitchen";
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
    sectionTargets: z.array(z.object({ section: name("the section"), target: share(habits, "The target of the section") }), { error: "Say which section has which target." })
      .max(100, { error: "At most 100 sections have a target of their own." }).default([]).superRefine((targets, context) => {
        targets.forEach(({ section }, index) => {
          if (targets.findIndex((other) => other.section === section) < index) context.addIssue({ code: "custom", path: [index, "section"], params: { code: "section-twice" }, message: `${section} has a target already: keep one of the two.` });
        });
      }),
    endings: z.array(number(habits, { what: "The ending of a price", zero: true }), { error: "List the endings that a menu price may have." })
      .max(20, { error: "At most 20 endings." }).default([]).transform((endings, context) => {
        endings.forEach((ending, index) => {
          if (ratio.compare(ratio.fromExact(ending), ratio.ONE) >= 0) context.addIssue({ code: "custom", path: [index], params: { code: "not-an-ending" }, message: "An ending is the part after the last whole one, such as 0.50 or 0.95: less than 1." });
        });
        return [...new Set(endings)].sort((a, b) => ratio.compare(ratio.fromExact(a), ratio.fromExact(b)));
      }),
    budget: orNull(budget(habits)).default(null),
  }).superRefine(({ endings, currency: code }, context) => {
    const places = moneyPlaces(code);
    endings.forEach((ending, index) => {
      if (!toDecimal(ending).toDecimalPlaces(places).eq(toDecimal(ending))) {
        context.addIssue({ code: "custom", path: ["endings", index], params: { code: "finer-than-money" }, message: places === 0 ? `${code} has no smaller coin: a price ends on a whole one, so leave the endings empty.` : `${code} has ${places} decimals: an ending has no more.` });
      }
    });
  });
}

function budget(habits: Habits): z.ZodType<Budget> {
  return z.object({
    period: note("The period", 60).superRefine((text, context) => {
      if (text === "") context.addIssue({ code: "custom", params: { code: "missing" }, message: "Say which period the figures are of, such as a year or October 2026." });
    }),
    guests: number(habits, { what: "The number of guests" }),
    foodCost: money(habits, { what: "The food cost" }),
    nonFoodCost: money(habits, { what: "The cost of everything but food", zero: true }),
    profit: money(habits, { what: "The profit", zero: true }),
    labour: orNull(money(habits, { what: "The labour", zero: true })).default(null),
    primeCostShare: orNull(share(habits, "What food and labour may cost together")).default(null),
  }, { error: "Give the period, the guests, the food cost, the other cost and the profit." });
}

export function dealerSchema(): z.ZodType<Dealer> {
  return z.object({ id, name: name("the dealer"), note: note("The note") });
}

const allergens: z.ZodType<Allergens> = z.object({
  contains: z.array(z.enum(ALLERGENS), { error: "Say which allergens the label names." }).default([]).transform(inOrder),
  mayContain: z.array(z.enum(ALLERGENS), { error: "Say which traces the label names." }).default([]).transform(inOrder),
  source: note("Where the allergens stand", 200).superRefine((text, context) => {
    if (text === "") context.addIssue({ code: "custom", params: { code: "missing" }, message: "Say where it stands: the label of which pack, or which sheet of the dealer’s." });
  }),
  on: day("The day of the label"),
}).transform((said) => ({ ...said, mayContain: said.mayContain.filter((one) => !said.contains.includes(one)) }));

/** Each once, in the order of the law's list. */
function inOrder(named: readonly Allergens["contains"][number][]): Allergens["contains"] {
  return ALLERGENS.filter((one) => named.includes(one));
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
    allergens: orNull(allergens).default(null),
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
