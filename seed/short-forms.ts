/**
 * The short forms in which the demo kitchen's files are written, so that a person can read and mend them: one file a
 * noun, weights and prices as a kitchen types them, `{ "item": "butter", "quantity": "4 lb" }` for a recipe line, a
 * dealer's price history as pairs of day and price. Each form is checked here for its own shape (a misspelled field
 * is refused) and opened into what the book's own schema reads; what a weight or a price may be is decided there.
 */
import { z } from "zod";
import type { FactKind } from "@/lib/book";

/** One fact as a file states it: from which day, and what the book's schema is to read. */
export interface Stated {
  readonly from: string;
  readonly id: string;
  readonly input: Readonly<Record<string, unknown>>;
}

/** A file of the demo: its name, the field its list stands under, the kind of fact, and its short form. */
export interface SeedFile {
  readonly file: string;
  readonly list: string;
  readonly kind: FactKind;
  /** Opens one element of the list; `from` is the file's own day, for facts that name none. */
  readonly open: (element: unknown, from: string | undefined) => Opened;
}

export type Opened = { readonly ok: true; readonly stated: readonly Stated[] } | { readonly ok: false; readonly sentences: readonly string[] };

const text = z.string();
const day = z.string().regex(/^\d{4}-\d{2}-\d{2}$/, "a day such as 2026-11-24");
const dated = { from: day.optional(), id: text };

const origin = z.union([
  z.strictObject({ item: text }).transform(({ item }) => ({ kind: "item", id: item })),
  z.strictObject({ cut: text }).transform(({ cut }) => ({ kind: "cut", id: cut })),
]);

/** A by-product's worth: "1.60 / lb", or the item or recipe whose place it takes. */
const worth = z.union([
  text.transform((rate) => ({ kind: "typed", rate })),
  z.strictObject({ item: text }).transform(({ item }) => ({ kind: "item", id: item })),
  z.strictObject({ recipe: text }).transform(({ recipe }) => ({ kind: "recipe", id: recipe })),
]);

const LINE_KINDS = ["item", "cut", "spec", "recipe"] as const;
const taken = { item: text.optional(), cut: text.optional(), spec: text.optional(), recipe: text.optional(), quantity: text, note: text.optional() };
type Taken = z.output<z.ZodObject<typeof taken>>;

function opensTo(short: Taken, context: z.RefinementCtx) {
  const named = LINE_KINDS.flatMap((kind) => {
    const id = short[kind];
    return id === undefined ? [] : [{ kind, id }];
  });
  const of = named[0];
  if (of === undefined || named.length > 1) context.addIssue({ code: "custom", message: "a line names exactly one item, cut, spec or recipe" });
  return { of: of ?? { kind: "item", id: "" }, quantity: short.quantity, note: short.note ?? "" };
}
const line = z.strictObject(taken).transform(opensTo);
/** A line of a plate may go one way only: to the table, or away. */
const platedLine = z.strictObject({ ...taken, channel: z.enum(["table", "away"]).optional() }).transform((short, context) => ({ ...opensTo(short, context), channel: short.channel ?? "any" }));

/** What is reckoned on the lines: "2 %" on their cost, or of the whole; or money a batch or a plate. */
const allowance = z.union([
  z.strictObject({ name: text, share: text, basis: text }).transform((short) => ({ ...short, kind: "share" })),
  z.strictObject({ name: text, money: text }).transform(({ name, money }) => ({ name, kind: "money", amount: money })),
]);

/** A line's key: what it is of; the second of the same thing counts on. */
function keyed<L extends { readonly of: { readonly id: string } }>(lines: readonly L[]): readonly (L & { readonly key: string })[] {
  const seen = new Map<string, number>();
  return lines.map((each) => {
    const times = (seen.get(each.of.id) ?? 0) + 1;
    seen.set(each.of.id, times);
    return { ...each, key: times === 1 ? each.of.id : `${each.of.id}-${times}` };
  });
}

const dealer = z
  .strictObject({ ...dated, name: text, note: text, minimumOrder: text.optional(), ordering: text.optional() })
  .transform((short) => ({ ...short, minimumOrder: short.minimumOrder ?? null, ordering: short.ordering ?? "" }));

const item = z
  .strictObject({
    ...dated, name: text, section: text, specification: text, kind: text, dealerId: text.nullable(),
    // A by-product of the house: its price inside the house, found in one way, and where it goes.
    transfer: z.strictObject({ market: text.optional(), fixed: text.optional(), source: text.optional(), item: text.optional(), less: text.optional(), on: day, destination: text }).transform(transferOf).optional(),
    density: z.strictObject({ gramsPerMl: text, source: text, on: day }).optional(),
    eachWeight: z.strictObject({ weight: text, source: text, on: day }).optional(),
    allergens: z.strictObject({ contains: z.array(text), mayContain: z.array(text).optional(), source: text, on: day }).optional(),
  })
  .transform((short) => ({ ...short, density: short.density ?? null, eachWeight: short.eachWeight ?? null, allergens: short.allergens ?? null, transfer: short.transfer ?? null }));

function transferOf({ market, fixed, source, item: itemId, less, on, destination }: { readonly market?: string | undefined; readonly fixed?: string | undefined; readonly source?: string | undefined; readonly item?: string | undefined; readonly less?: string | undefined; readonly on: string; readonly destination: string }) {
  const price = itemId !== undefined ? { kind: "item", itemId, less: less ?? null } : { kind: market === undefined ? "fixed" : "market", rate: market ?? fixed, source };
  return { price, on, destination, use: null };
}

const quote = z.strictObject({
  quote: z.looseObject({ id: text }),
  prices: z.array(z.tuple([day, text])).min(1),
});

const test = z
  .strictObject({
    id: text, kind: text, of: origin, dealerId: text.nullable(), on: day, cutter: text, pieces: text, billed: text, price: text.nullable(),
    parts: z.array(
      z
        .strictObject({ key: text, name: text, role: text, weight: text, value: worth.optional(), marketValue: text.optional(), furtherCost: text.optional(), pieces: z.array(text).optional() })
        .transform((part) => ({
          ...part, value: part.value ?? null, marketValue: part.marketValue ?? null, furtherCost: part.furtherCost ?? null, pieces: part.pieces ?? [],
        })),
    ),
    cooking: z.strictObject({ method: text, temperature: text, endPoint: text, time: text, trimmed: text, cooked: text }).optional(),
    scaleStep: text, followsTestId: text.optional(), note: text,
  })
  // A test applies from the day it was done.
  .transform((short) => ({ ...short, from: short.on, cooking: short.cooking ?? null, followsTestId: short.followsTestId ?? null }));

const cut = z
  .strictObject({
    ...dated, name: text, of: origin, partKey: text, testIds: z.array(text), leftOut: z.array(z.strictObject({ testId: text, reason: text })).optional(),
    borrowed: z.strictObject({ share: text, what: text, source: text, on: text }).optional(), repricing: text.optional(), joint: text.optional(), specification: text,
  })
  .transform((short) => ({ ...short, leftOut: short.leftOut ?? [], borrowed: short.borrowed ?? null, repricing: short.repricing ?? null, joint: short.joint ?? "sales-value" }));

const spec = z
  .strictObject({
    ...dated, cutId: text, name: text, size: text, tolerance: text, thickness: text, trim: text, costing: text, endValue: text.optional(),
    pieces: text.optional(), meanCut: z.strictObject({ weight: text, count: text.optional(), on: day }).optional(),
  })
  .transform((short) => ({ ...short, endValue: short.endValue ?? null, pieces: short.pieces ?? null, meanCut: short.meanCut ?? null }));

const recipe = z
  .strictObject({
    ...dated, name: text, section: text, yields: z.array(text), lines: z.array(line), allowances: z.array(allowance).optional(), method: text,
    steps: z.array(z.strictObject({ text, critical: z.strictObject({ degrees: text, scale: text, held: text }).optional() })).optional(),
  })
  .transform((short) => ({ ...short, lines: keyed(short.lines), allowances: short.allowances ?? [], steps: short.steps ?? [] }));

const ROLES = ["main", "side", "garnish", "cover", "packaging"] as const;
const dish = z
  .strictObject({
    ...dated, name: text, section: text, main: z.array(platedLine), side: z.array(platedLine).optional(), garnish: z.array(platedLine).optional(), cover: z.array(platedLine).optional(),
    packaging: z.array(platedLine).optional(), allowances: z.array(allowance).optional(), note: text,
  })
  .transform(({ main, side, garnish, cover, packaging, ...rest }) => {
    const byRole = { main, side, garnish, cover, packaging };
    return { ...rest, allowances: rest.allowances ?? [], lines: keyed(ROLES.flatMap((role) => (byRole[role] ?? []).map((each) => ({ ...each, role })))) };
  });

const menuPrice = z
  .strictObject({ ...dated, gross: text, taxRate: text.optional(), target: text.optional() })
  .transform((short) => ({ ...short, taxRate: short.taxRate ?? null, target: short.target ?? null }));

const week = z
  .strictObject({ ...dated, sold: z.record(text, text) })
  .transform((short) => ({ ...short, sold: Object.entries(short.sold).map(([dishId, count]) => ({ dishId, count })) }));

const delivered = z
  .strictObject({ item: text, packs: text.optional(), billed: text, received: text.optional(), price: text, per: text, amount: text.optional(), lot: text.optional(), useBy: day.optional(), note: text.optional() })
  .transform(({ item: itemId, ...rest }) => ({ ...rest, itemId, packs: rest.packs ?? null, received: rest.received ?? null, amount: rest.amount ?? null, lot: rest.lot ?? "", useBy: rest.useBy ?? null, note: rest.note ?? "" }));
const delivery = z
  .strictObject({ id: text, dealer: text, number: text, kind: text.optional(), on: day, lines: z.array(delivered), note: text.optional() })
  // A delivery applies from the day on its paper.
  .transform(({ dealer: dealerId, ...rest }) => ({ ...rest, dealerId, from: rest.on, kind: rest.kind ?? "invoice", note: rest.note ?? "" }));

/** A form whose element is one fact. */
function one<T extends { readonly from?: string | undefined; readonly id: string }>(form: z.ZodType<T>): SeedFile["open"] {
  return (element, fileFrom) =>
    opened(form, element, ({ from = fileFrom, ...input }) => (from === undefined ? null : [{ from, id: input.id, input }]));
}

function opened<T>(form: z.ZodType<T>, element: unknown, state: (short: T) => readonly Stated[] | null): Opened {
  const read = form.safeParse(element);
  if (!read.success) return { ok: false, sentences: read.error.issues.map((issue) => `${issue.path.join(".")}: ${issue.message}`) };
  const stated = state(read.data);
  return stated === null ? { ok: false, sentences: ["from: neither the fact nor its file says from which day it applies"] } : { ok: true, stated };
}

/** In the order in which facts of one day build on one another. */
export const SEED_FILES: readonly SeedFile[] = [
  { file: "dealers.json", list: "dealers", kind: "dealer", open: one(dealer) },
  { file: "items.json", list: "items", kind: "item", open: one(item) },
  {
    file: "quotes.json", list: "quotes", kind: "quote",
    open: (element) =>
      opened(quote, element, (short) => short.prices.map(([from, price]) => ({ from, id: short.quote.id, input: { ...short.quote, price } }))),
  },
  { file: "deliveries.json", list: "deliveries", kind: "delivery", open: one(delivery) },
  { file: "tests.json", list: "tests", kind: "test", open: one(test) },
  { file: "cuts.json", list: "cuts", kind: "cut", open: one(cut) },
  { file: "specs.json", list: "specs", kind: "spec", open: one(spec) },
  { file: "recipes.json", list: "recipes", kind: "recipe", open: one(recipe) },
  { file: "dishes.json", list: "dishes", kind: "dish", open: one(dish) },
  { file: "menu-prices.json", list: "prices", kind: "menuPrice", open: one(menuPrice) },
  { file: "sales.json", list: "weeks", kind: "sales", open: one(week) },
];
