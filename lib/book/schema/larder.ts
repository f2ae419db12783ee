/** Schemas of the kitchen's own settings and of what is bought: dealers, items, quotes. */
import { z } from "zod";
import { type Habits, type Kind, type Quantity, UNITS, type Unit, isExact, moneyPlaces, ratio, toDecimal, unitFromSpelling } from "@/lib/measure";
import { ALLERGENS, type Allergens } from "../allergens";
import type { FactOf } from "../book";
import type { Dealer, Item, Landed, Pack, PackLevel, Quote, Transfer } from "../item";
import { gtin14 } from "../gtin";
import type { Budget, ExchangeRate } from "../kitchen";
import { parsePack } from "../pack";
import { bareUnit, chosen, day, id, key, keyed, money, name, note, number, orNull, quantity, rate, readWithin, share, tick, word } from "./fields";

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
    exchangeRates: z.array(exchangeRate(habits), { error: "List what other money is worth." }).max(30, { error: "At most 30 currencies." }).default([]),
  }).superRefine(({ endings, currency: code, exchangeRates }, context) => {
    exchangeRates.forEach(({ currency: other }, index) => {
      if (other === code) context.addIssue({ code: "custom", path: ["exchangeRates", index, "currency"], params: { code: "own-currency" }, message: `${code} is the kitchen’s own money and needs no rate: take this line out.` });
      else if (exchangeRates.findIndex((one) => one.currency === other) < index) context.addIssue({ code: "custom", path: ["exchangeRates", index, "currency"], params: { code: "currency-twice" }, message: `${other} has a rate already: keep one of the two.` });
    });
    const places = moneyPlaces(code);
    endings.forEach((ending, index) => {
      if (!toDecimal(ending).toDecimalPlaces(places).eq(toDecimal(ending))) {
        context.addIssue({ code: "custom", path: ["endings", index], params: { code: "finer-than-money" }, message: places === 0 ? `${code} has no smaller coin: a price ends on a whole one, so leave the endings empty.` : `${code} has ${places} decimals: an ending has no more.` });
      }
    });
  });
}

function exchangeRate(habits: Habits): z.ZodType<ExchangeRate> {
  return z.object({
    currency, rate: number(habits, { what: "What one of it is worth" }), source: note("Whose rate it is", 120), on: day("The day of the rate"),
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

export function dealerSchema(habits: Habits): z.ZodType<Dealer> {
  return z.object({
    id, name: name("the dealer"), note: note("The note"),
    minimumOrder: orNull(money(habits, { what: "The least an order comes to" })).default(null), ordering: note("How to order", 300).default(""),
  });
}

/** What one part of the house pays another for a by-product. */
function transfer(habits: Habits, kind: Kind): z.ZodType<Transfer> {
  const bare = bareUnit(kind, habits);
  const counted = (what: string, zero: boolean): z.ZodType<Quantity> => quantity(habits, [kind], { what, bare, zero });
  const said = note("Where the price comes from", 200).superRefine((text, context) => {
    if (text === "") context.addIssue({ code: "custom", params: { code: "missing" }, message: "Say where the price comes from: which market report, or how the house decided on it." });
  });
  return z.object({
    price: z.discriminatedUnion("kind", [
      z.object({ kind: z.literal("market"), rate: rate(habits, { what: "The market price", bare }), source: said }),
      z.object({ kind: z.literal("fixed"), rate: rate(habits, { what: "The transfer price", bare, zero: true }), source: said }),
      z.object({ kind: z.literal("item"), itemId: chosen("the item whose place it takes"), less: orNull(rate(habits, { what: "The work still to be done", bare, zero: true })).default(null) }),
    ], { error: "Say how the transfer price is found: by a market, by an item, or fixed." }),
    on: day("The day it was decided"), destination: note("Where it goes", 200).default(""),
    use: orNull(z.object({ produced: counted("How much comes off", false), used: counted("How much is used", true), over: note("Over which weeks", 80).default("") })).default(null),
  }).superRefine(({ price }, context) => {
    const rates = price.kind === "item" ? (price.less === null ? [] : [["less", price.less] as const]) : [["rate", price.rate] as const];
    for (const [at, one] of rates) {
      if (UNITS[one.per].kind !== kind) context.addIssue({ code: "custom", path: ["price", at], params: { code: "wrong-kind" }, message: `The item is priced by ${kind}, so the transfer price cannot be per ${one.per}.` });
    }
  });
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
    transfer: orNull(z.unknown()).default(null),
  }).transform((item, context): Item => {
    if (item.transfer === null) return { ...item, transfer: null };
    const read = readWithin(transfer(habits, item.kind), item.transfer, ["transfer"], context);
    if (item.dealerId !== null) context.addIssue({ code: "custom", path: ["dealerId"], params: { code: "made-here" }, message: "A by-product of the house is bought from nobody: leave the dealer out, or take its transfer price out." });
    return { ...item, transfer: read };
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
export const per: z.ZodType<"pack" | Unit> = z.string({ error: "Say whether the price is for the pack or for one of a unit." }).transform((text, context) => {
  const tidy = text.trim();
  if (tidy === "pack") return tidy;
  if (Object.hasOwn(UNITS, tidy)) return tidy as Unit;
  const unit = unitFromSpelling(tidy);
  if (unit !== undefined) return unit;
  context.addIssue({ code: "custom", params: { code: "no-unit" }, message: "Say whether the price is for the pack or for one of a unit, such as lb." });
  return z.NEVER;
});

const gtin = z.string({ error: "The carton number is digits." }).max(40, { error: "A GTIN has 8, 12, 13 or 14 digits." }).transform((text, context) => {
  if (text.trim() === "") return "";
  const digits = gtin14(text);
  if (digits !== null) return digits;
  context.addIssue({ code: "custom", params: { code: "not-a-gtin" }, message: "That is not a GTIN: it has 8, 12, 13 or 14 digits, the last of which checks the others. Read it off the carton once more." });
  return z.NEVER;
});

/** Money a unit or a pack, or a share of the asked price: told apart by what is there. */
function landed(habits: Habits): z.ZodType<Omit<Landed, "key"> & { readonly key?: string | undefined }> {
  const what = "The extra or rebate";
  return z.object({
    key, name: name("the extra or rebate"), way: word(["adds", "takes-off"], "Whether it adds to the price or takes off"),
    of: z.discriminatedUnion("kind", [
      z.object({ kind: z.literal("money"), amount: money(habits, { what }), per }),
      z.object({ kind: z.literal("share"), share: share(habits, "The share") }),
    ], { error: "Say whether it is an amount of money or a share of the price." }),
  });
}

export function quoteSchema(habits: Habits): z.ZodType<Quote> {
  return z
    .object({
      id, itemId: chosen("the item"), dealerId: chosen("the dealer"), pack: packSchema(habits),
      price: money(habits, { what: "The price" }), per,
      currency: orNull(currency).default(null),
      basis: word(["quoted", "contract", "market", "invoice"], "What the price rests on").default("quoted"),
      until: orNull(day("The last day of the contract")).default(null),
      code: note("The order code", 60),
      gtin: gtin.default(""),
      landed: z.array(landed(habits), { error: "List what comes on top of the price." }).max(12, { error: "At most 12 extras and rebates." }).default([])
        .transform((list): Landed[] => keyed(list, (one) => one.name)),
    })
    .transform((quote): Quote => ({ ...quote, currency: quote.currency === habits.currency ? null : quote.currency }))
    .superRefine((quote, context) => {
      if (quote.pack.catchWeight && quote.per === "pack") {
        context.addIssue({ code: "custom", path: ["per"], params: { code: "catch-weight-per-pack" }, message: "Catch weight is billed by what it weighs: give the price for one pound or kilo, not for the pack." });
      }
      if (quote.per !== "pack" && isExact(quote.pack.size.amount) && UNITS[quote.per].kind !== UNITS[quote.pack.size.unit].kind) {
        context.addIssue({ code: "custom", path: ["per"], params: { code: "wrong-kind" }, message: `The pack is told in ${quote.pack.size.unit}, so the price cannot be per ${quote.per}: give both in the same kind of unit.` });
      }
      if (quote.until !== null && quote.basis !== "contract") {
        context.addIssue({ code: "custom", path: ["until"], params: { code: "no-contract" }, message: "Only a contract has a last day: say that it is one, or leave the day empty." });
      }
      quote.landed.forEach(({ of, name: called }, index) => {
        if (of.kind === "money" && of.per !== "pack" && UNITS[of.per].kind !== UNITS[quote.pack.size.unit].kind) {
          context.addIssue({ code: "custom", path: ["landed", index, "per"], params: { code: "wrong-kind" }, message: `The pack is told in ${quote.pack.size.unit}, so ${called} cannot be per ${of.per}.` });
        } else if (of.kind === "money" && of.per === "pack" && quote.pack.catchWeight) {
          context.addIssue({ code: "custom", path: ["landed", index, "per"], params: { code: "catch-weight-per-pack" }, message: `The pack is billed by what it weighs: give ${called} for one pound or kilo.` });
        }
      });
    });
}
