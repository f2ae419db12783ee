/** Schemas of what is cooked and sold: recipes, dishes, menu prices, a week's sales. */
import { z } from "zod";
import { type Habits, type Kind, kindOf } from "@/lib/measure";
import type { Dish, Line, LineKind, MenuPrice, Recipe, SalesWeek } from "../recipe";
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
    method: note("The method", 20_000),
  });
}

export function dishSchema(habits: Habits): z.ZodType<Dish> {
  const role = word(["main", "side", "garnish", "cover", "packaging"], "What it is on the plate");
  return z.object({
    id, name: name("the dish"), section: note("The section", 60),
    lines: z.array(z.object({ role: role.default("main") }).loose().transform(({ role: of, ...rest }, context) => ({
      ...readWithin(line(habits), rest, [], context), role: of,
    }))).max(MOST_LINES, tooMany).transform((lines) => keyed(lines, (one) => one.of.id)),
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
