/** Schemas of what is cooked and sold: recipes, dishes, menu prices, a week's sales. */
import { z } from "zod";
import { type Habits, type Kind, kindOf, ratio } from "@/lib/measure";
import type { Allowance, Dish, Line, LineKind, MenuPrice, Recipe, RecipeStep, SalesWeek } from "../recipe";
import { chosen, day, id, key, keyed, money, name, note, number, orNull, quantity, readWithin, share, word } from "./fields";

const MOST_LINES = 200;
const ANY: readonly Kind[] = ["mass", "volume", "count"];
const LINE_KINDS = ["item", "cut", "spec", "recipe"] as const satisfies readonly LineKind[];

/** { kind, id }, or "cut:…" as a select field sends it. */
const taken: z.ZodType<Line["of"]> = z.union([
  z.object({ kind: z.enum(LINE_KINDS), id }),
  z.string().regex(/^(?:item|cut|spec|recipe):.+/).transform((text): Line["of"] => {
    const kind = LINE_KINDS.find((one) => text.startsWith(`${one}:`)) ?? "item";
    return { kind, id: text.slice(kind.length + 1) };
  }),
], { error: "Choose what goes in: an item, a cut, a portion or a recipe." });

const line = (habits: Habits) =>
  z
    .object({ key, of: taken, quantity: z.unknown(), note: note("The note on a line", 200) })
    .transform((one, context) => {
      // A bare number is a count of portions where portions are counted; elsewhere the unit has to be said.
      const field = quantity(habits, ANY, { what: "The quantity", ...(one.of.kind === "spec" ? { bare: "portion" as const } : {}) });
      return { ...one, quantity: readWithin(field, one.quantity ?? "", ["quantity"], context) };
    });

/** All shares of the whole together must leave something of it. */
function allowances(habits: Habits) {
  const called = { key, name: name("the allowance") };
  return z
    .array(z.discriminatedUnion("kind", [
      z.object({ ...called, kind: z.literal("share"), share: share(habits, "The share"), basis: word(["on-cost", "of-whole"], "What the share is of") }),
      z.object({ ...called, kind: z.literal("money"), amount: money(habits, { what: "The allowance" }) }),
    ], { error: "Say whether the allowance is a share or an amount of money." }), { error: "Say which allowances are made." })
    .max(20, { error: "At most 20 allowances." }).default([])
    .superRefine((list, context) => {
      const ofWhole = list.reduce((sum, one) => (one.kind === "share" && one.basis === "of-whole" ? ratio.add(sum, ratio.fromExact(one.share)) : sum), ratio.ZERO);
      if (ratio.compare(ofWhole, ratio.ONE) >= 0) context.addIssue({ code: "custom", params: { code: "nothing-left" }, message: "The shares of the whole add to all of it: nothing would be left to serve. Give less, or put them on the cost." });
    })
    .transform((list): Allowance[] => keyed(list, (one) => one.name));
}

function step(habits: Habits): z.ZodType<RecipeStep> {
  return z.object({
    text: note("A step", 2_000).superRefine((text, context) => {
      if (text === "") context.addIssue({ code: "custom", params: { code: "missing" }, message: "Say what is done in this step." });
    }),
    critical: orNull(z.object({
      degrees: number(habits, { what: "The temperature", zero: true }), scale: word(["F", "C"], "The scale"), held: note("How long it is held", 120),
    })).default(null),
  });
}

const tooMany = { error: `At most ${MOST_LINES} lines.` };

export function recipeSchema(habits: Habits): z.ZodType<Recipe> {
  return z.object({
    id, name: name("the recipe"), section: note("The section", 60),
    yields: z.array(quantity(habits, ANY, { what: "The batch yield" }), { error: "Say how much the batch yields, measured after cooking." })
      .min(1, { error: "Say how much the batch yields, measured after cooking." })
      .max(3, { error: "A batch is measured at most once by weight, once by volume and once by count." })
      .superRefine((yields, context) => {
        yields.forEach((one, index) => {
          const first = yields.findIndex((other) => kindOf(other.unit) === kindOf(one.unit));
          if (first < index) context.addIssue({ code: "custom", path: [index], params: { code: "yield-twice" }, message: "The batch is measured twice in the same kind of unit: keep one of the two." });
        });
      }),
    lines: z.array(line(habits)).max(MOST_LINES, tooMany).transform((lines) => keyed(lines, (one) => one.of.id)),
    allowances: allowances(habits),
    method: note("The method", 20_000),
    steps: z.array(step(habits), { error: "List the steps." }).max(100, { error: "At most 100 steps." }).default([]),
  });
}

export function dishSchema(habits: Habits): z.ZodType<Dish> {
  const role = word(["main", "side", "garnish", "cover", "packaging"], "What it is on the plate");
  const channel = word(["any", "table", "away"], "When it goes with the plate");
  return z.object({
    id, name: name("the dish"), section: note("The section", 60),
    lines: z.array(z.object({ role: role.default("main"), channel: channel.default("any") }).loose().transform(({ role: of, channel: by, ...rest }, context) => ({
      ...readWithin(line(habits), rest, [], context), role: of, channel: by,
    }))).max(MOST_LINES, tooMany).transform((lines) => keyed(lines, (one) => one.of.id)),
    allowances: allowances(habits),
    note: note("The note"),
  });
}

export function menuPriceSchema(habits: Habits): z.ZodType<MenuPrice> {
  return z.object({
    id, gross: money(habits, { what: "The menu price" }),
    taxRate: orNull(share(habits, "The tax rate", { zero: true })).default(null),
    target: orNull(share(habits, "The target")).default(null),
  });
}

export function salesSchema(habits: Habits): z.ZodType<SalesWeek> {
  return z.object({
    id: day("The Monday of the week").refine(isMonday, { error: "A week is named by its Monday." }),
    sold: z.array(z.object({ dishId: chosen("the dish"), count: number(habits, { what: "How many were sold", zero: true, whole: true }) })).max(5000, { error: "At most 5,000 dishes in a week." }),
  });
}

/** Zeller's congruence, since this room keeps no clock: the day of the week of a Gregorian date. */
function isMonday(text: string): boolean {
  const [year = 0, month = 0, date = 0] = text.split("-").map(Number);
  const m = month < 3 ? month + 12 : month;
  const y = month < 3 ? year - 1 : year;
  const weekday = (date + Math.floor((13 * (m + 1)) / 5) + y + Math.floor(y / 4) - Math.floor(y / 100) + Math.floor(y / 400)) % 7;
  return weekday === 2;
}
