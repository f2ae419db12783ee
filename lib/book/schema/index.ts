/**
 * What people, files and programs hand in, read into facts. There is one schema for each kind of fact; a form, a seed
 * file and a stored book all pass through it, so that nothing gets into a book by another door.
 */
import type { z } from "zod";
import type { Checked, Habits } from "@/lib/measure";
import type { FactKind, FactOf } from "../book";
import { ofAnotherShape, problemsOf } from "./fields";
import { cutSchema, specSchema, testSchema } from "./block";
import { deliverySchema } from "./delivery";
import { dealerSchema, itemSchema, kitchenSchema, quoteSchema } from "./larder";
import { dishSchema, menuPriceSchema, recipeSchema, salesSchema } from "./menu";

export { NAME_LIMIT, NOTE_LIMIT, isDay, slug } from "./fields";

const MAKERS: { readonly [K in FactKind]: (habits: Habits) => z.ZodType<FactOf[K]> } = {
  kitchen: kitchenSchema, dealer: dealerSchema, item: itemSchema, quote: quoteSchema, delivery: deliverySchema, test: testSchema, cut: cutSchema,
  spec: specSchema, recipe: recipeSchema, dish: dishSchema, menuPrice: menuPriceSchema, sales: salesSchema,
};

const made = new Map<string, z.ZodType>();

/** The schema of a kind of fact, for a kitchen that writes as `habits` say. */
export function factSchema<K extends FactKind>(kind: K, habits: Habits): z.ZodType<FactOf[K]> {
  const known = `${kind} ${habits.locale} ${habits.measures} ${habits.currency}`;
  let schema = made.get(known);
  if (schema === undefined) made.set(known, (schema = MAKERS[kind](habits)));
  return schema as z.ZodType<FactOf[K]>;
}

/** Reads a fact, or says what is wrong with it: a path to the field, a code and a sentence for each problem. */
export function readFact<K extends FactKind>(kind: K, input: unknown, habits: Habits): Checked<FactOf[K]> {
  const read = factSchema(kind, habits).safeParse(input, { error: ofAnotherShape });
  if (read.success) return { ok: true, value: read.data };
  return { ok: false, problems: problemsOf(read.error.issues) };
}
