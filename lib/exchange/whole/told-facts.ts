/**
 * Facts as they are told to programs and written into files: exact, with every field there, in the shape the book has
 * them. Each schema is of the book's own type, so that a field which is added there is missed here by the compiler; a
 * property test holds them to facts of every kind. What comes in is read by the schemas of lib/book, which take this and
 * what a person would type.
 */
import { z } from "zod";
import { ALLERGENS, type Delivery, type FactKind, type FactOf, type Landed, type Transfer } from "@/lib/book";
import { type Exact, type Money, type Quantity, type Rate, UNIT_NAMES } from "@/lib/measure";

/** The schemas that have a name of their own in a document made of them, and what is said of others there. */
export const TOLD = z.registry<{ readonly id?: string; readonly description?: string; readonly type?: string; readonly minimum?: number; readonly maximum?: number; readonly pattern?: undefined }>();

const named = <S extends z.ZodType>(schema: S, id: string, description: string): S => {
  TOLD.add(schema, { id, description });
  return schema;
};

// A pattern says more to a reader of the document than "text"; the brand is the book's.
export const told = {
  exact: named(z.string().max(120).regex(/^-?(?:0|[1-9]\d*)(?:\.\d+)?$|^-?[1-9]\d*\/[1-9]\d*$/) as unknown as z.ZodType<Exact>, "Exact",
    "An exact number as text: a decimal (\"18.375\"), or a ratio of two whole numbers where a decimal would not end (\"1/3\")."),
  unit: named(z.enum(UNIT_NAMES), "Unit", "A unit of mass, volume or count."),
  day: named(z.string().regex(/^\d{4}-\d{2}-\d{2}$/), "Day", "A calendar day, 2026-11-24."),
  moment: named(z.string().regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z$/), "Moment", "A moment in UTC, 2026-11-25T09:30:00.000Z."),
};

const { exact, unit, day } = told;
const text = z.string();
const typed = { typed: z.string().exactOptional() };

const quantity: z.ZodType<Quantity> = named(z.strictObject({ amount: exact, unit, ...typed }), "Quantity", "An amount of a unit; `typed` is what somebody wrote, where it is kept.");
const money: z.ZodType<Money> = named(z.strictObject({ amount: exact, ...typed }), "Money", "An amount of the kitchen’s money, unless another currency is said beside it.");
const rate: z.ZodType<Rate> = named(z.strictObject({ amount: exact, per: unit, ...typed }), "Rate", "Money for one of a unit.");
const packOrUnit = z.union([z.literal("pack"), unit]);

const origin = z.strictObject({ kind: z.enum(["item", "cut"]), id: text });
const line = { key: text, of: z.strictObject({ kind: z.enum(["item", "cut", "spec", "recipe"]), id: text }), quantity, note: text };
const allowances = z.array(z.discriminatedUnion("kind", [
  z.strictObject({ key: text, name: text, kind: z.literal("share"), share: exact, basis: z.enum(["on-cost", "of-whole"]) }),
  z.strictObject({ key: text, name: text, kind: z.literal("money"), amount: money }),
]));

const landed: z.ZodType<Landed> = z.strictObject({
  key: text, name: text, way: z.enum(["adds", "takes-off"]),
  of: z.discriminatedUnion("kind", [z.strictObject({ kind: z.literal("money"), amount: money, per: packOrUnit }), z.strictObject({ kind: z.literal("share"), share: exact })]),
});

const transfer: z.ZodType<Transfer> = z.strictObject({
  price: z.discriminatedUnion("kind", [
    z.strictObject({ kind: z.literal("market"), rate, source: text }), z.strictObject({ kind: z.literal("fixed"), rate, source: text }),
    z.strictObject({ kind: z.literal("item"), itemId: text, less: rate.nullable() }),
  ]),
  on: day, destination: text, use: z.strictObject({ produced: quantity, used: quantity, over: text }).nullable(),
});

const delivery: z.ZodType<Delivery> = z.strictObject({
  id: text, dealerId: text, number: text, kind: z.enum(["invoice", "credit"]), on: day,
  lines: z.array(z.strictObject({
    key: text, itemId: text, packs: exact.nullable(), billed: quantity, price: money, per: packOrUnit, amount: money.nullable(), received: quantity.nullable(),
    lot: text, useBy: day.nullable(), note: text,
  })),
  note: text,
});

/** One schema for each kind of fact. */
export const TOLD_FACTS: { readonly [K in FactKind]: z.ZodType<FactOf[K]> } = {
  kitchen: named(z.strictObject({
    id: text, name: text, place: text, currency: text, locale: text, timeZone: text, measures: z.enum(["us", "metric"]), taxRate: exact, target: exact, near: exact,
    sectionTargets: z.array(z.strictObject({ section: text, target: exact })), endings: z.array(exact),
    budget: z.strictObject({ period: text, guests: exact, foodCost: money, nonFoodCost: money, profit: money, labour: money.nullable(), primeCostShare: exact.nullable() }).nullable(),
    exchangeRates: z.array(z.strictObject({ currency: text, rate: exact, source: text, on: day })),
  }), "FactOfKitchen", "The kitchen’s own settings."),
  dealer: named(z.strictObject({ id: text, name: text, note: text, minimumOrder: money.nullable(), ordering: text }), "FactOfDealer", "Somebody the kitchen buys from."),
  item: named(z.strictObject({
    id: text, name: text, section: text, specification: text, kind: z.enum(["mass", "volume", "count"]), dealerId: text.nullable(),
    density: z.strictObject({ gramsPerMl: exact, source: text, on: day }).nullable(),
    eachWeight: z.strictObject({ weight: quantity, source: text, on: day }).nullable(),
    allergens: z.strictObject({ contains: z.array(z.enum(ALLERGENS)), mayContain: z.array(z.enum(ALLERGENS)), source: text, on: day }).nullable(),
    transfer: transfer.nullable(),
  }), "FactOfItem", "Something bought; with `transfer`, a by-product of the house."),
  quote: named(z.strictObject({
    id: text, itemId: text, dealerId: text,
    pack: z.strictObject({ levels: z.array(z.strictObject({ count: exact, container: text })), size: quantity, catchWeight: z.boolean() }),
    price: money, per: packOrUnit, currency: text.nullable(), basis: z.enum(["quoted", "contract", "market", "invoice"]), until: day.nullable(), code: text, gtin: text,
    landed: z.array(landed),
  }), "FactOfQuote", "What a dealer asks for a pack of an item."),
  delivery: named(delivery, "FactOfDelivery", "An invoice or a credit memo of a dealer."),
  test: named(z.strictObject({
    id: text, kind: z.enum(["butcher", "trim", "cooking", "drained", "hydration"]), of: origin, dealerId: text.nullable(), on: day, cutter: text, pieces: exact, billed: quantity,
    price: rate.nullable(),
    parts: z.array(z.strictObject({
      key: text, name: text, role: z.enum(["main", "by-product", "discard", "purge"]), weight: quantity,
      value: z.union([z.strictObject({ kind: z.literal("typed"), rate }), z.strictObject({ kind: z.enum(["item", "recipe"]), id: text })]).nullable() as z.ZodType<FactOf["test"]["parts"][number]["value"]>,
      marketValue: rate.nullable(), furtherCost: rate.nullable(), pieces: z.array(quantity),
    })),
    cooking: z.strictObject({ method: text, temperature: text, endPoint: text, time: text, trimmed: quantity, cooked: quantity }).nullable(),
    scaleStep: quantity.nullable(), followsTestId: text.nullable(), note: text,
  }), "FactOfTest", "A yield test: what was billed, and what each part weighed."),
  cut: named(z.strictObject({
    id: text, name: text, of: origin, partKey: text, testIds: z.array(text), leftOut: z.array(z.strictObject({ testId: text, reason: text })),
    borrowed: z.strictObject({ share: exact, what: text, source: text, on: day }).nullable(), repricing: z.enum(["by-factor", "by-products-at-own-price"]).nullable(),
    joint: z.enum(["sales-value", "net-realizable", "weight"]), specification: text,
  }), "FactOfCut", "A usable product, and the tests it stands on."),
  spec: named(z.strictObject({
    id: text, cutId: text, name: text, size: quantity, tolerance: quantity.nullable(), thickness: text, trim: text, costing: z.enum(["by-weight", "whole"]),
    endValue: rate.nullable(), pieces: exact.nullable(), meanCut: z.strictObject({ weight: quantity, count: exact.nullable(), on: day }).nullable(),
  }), "FactOfSpec", "A portion of a cut."),
  recipe: named(z.strictObject({
    id: text, name: text, section: text, yields: z.array(quantity), lines: z.array(z.strictObject(line)), allowances, method: text,
    steps: z.array(z.strictObject({ text, critical: z.strictObject({ degrees: exact, scale: z.enum(["F", "C"]), held: text }).nullable() })),
  }), "FactOfRecipe", "A standard recipe."),
  dish: named(z.strictObject({
    id: text, name: text, section: text,
    lines: z.array(z.strictObject({ ...line, role: z.enum(["main", "side", "garnish", "cover", "packaging"]), channel: z.enum(["any", "table", "away"]) })),
    allowances, note: text,
  }), "FactOfDish", "A dish of the menu."),
  menuPrice: named(z.strictObject({ id: text, gross: money, taxRate: exact.nullable(), target: exact.nullable() }), "FactOfMenuPrice", "What a dish sells for, and its target; its id is the dish’s."),
  sales: named(z.strictObject({ id: day, sold: z.array(z.strictObject({ dishId: text, count: exact })) }), "FactOfSales", "What was sold in a week; its id is the Monday."),
};
