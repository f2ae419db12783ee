/**
 * What programs are told and what they may send, as zod schemas: the answers are held to them by tests, requests are read
 * by them, and the document that describes it all (openapi.ts) is made of them. Money is of the kitchen; every figure is
 * the text of an exact number.
 */
import { z } from "zod";
import { FACT_KINDS, type FactKind } from "@/lib/book";
import { NODE_KINDS } from "@/lib/cascade";
import { TOLD, TOLD_FACTS, told } from "@/lib/exchange";

/** Gives a schema a name of its own in the document. */
export function named<S extends z.ZodType>(schema: S, id: string, description: string): S {
  TOLD.add(schema, { id, description });
  return schema;
}

const { day, moment } = told;
const text = z.string();
const whole = z.int().min(0);
const figure = named(z.string().regex(/^-?(?:0|[1-9]\d*)(?:\.\d+)?$/), "Figure", "A decimal figure as text, with all its digits: 13.5185185…");
const factKind = named(z.enum(FACT_KINDS), "FactKind", "What a fact is of.");
const nodeKind = named(z.enum(NODE_KINDS), "NodeKind", "What a cost is of.");
const direction = z.enum(["over", "back under"]);
const nodeRef = z.strictObject({ kind: nodeKind, id: text });

/** Any fact, told whole. */
const anyFact = named(z.union(FACT_KINDS.map((kind) => TOLD_FACTS[kind] as z.ZodType) as unknown as readonly [z.ZodType, z.ZodType]), "Fact", "A fact, told whole: which shape it has says its kind.");

const missing = named(z.strictObject({ what: z.enum(["price", "exchange-rate", "yield", "density", "each-weight", "fact"]), of: nodeRef, name: text }), "Missing", "What would make a cost whole.");
const borrowed = z.array(z.strictObject({ id: text, name: text }));
const cost = {
  amount: figure, per: z.enum(["g", "mL", "each", "portion", "batch", "plate"]),
  atLeast: z.boolean(), missing: z.array(missing), borrowed,
};
const costTold = named(z.strictObject(cost), "Cost", "Money per g, mL or each (items and cuts), portion, batch or plate. With `atLeast` it is a lower bound, and `missing` says why; `borrowed` are the cuts on yields measured elsewhere.");

const provenance = named(z.strictObject({ revision: whole, validFrom: day, recordedAt: moment, by: text, why: text }), "Provenance", "The revision that holds a fact: since when it applies, and who recorded it when and why.");

/** Which book an answer was read from. */
const bookRead = { on: day, changeNo: whole };
const next = text.nullable();

const dish = named(z.strictObject({
  id: text, name: text, section: text, plateCost: costTold, gross: figure.nullable(), net: figure.nullable(), taxRate: told.exact,
  foodCost: figure.nullable(), target: figure, ownTarget: z.boolean(), near: figure, contribution: figure.nullable(),
  state: z.enum(["over", "near", "under", "unpriced", "incomplete"]),
}), "DishFigures", "A dish of the menu: plate cost, menu price as printed (gross) and without its tax (net), food cost as a ratio of the net price (0.318), target, contribution, state.");

const moved = z.strictObject({ kind: nodeKind, id: text, name: text, before: costTold.nullable(), after: costTold.nullable() });
const ripple = named(z.strictObject({
  crossings: z.array(z.strictObject({ dishId: text, name: text, direction: direction })),
  dishes: z.array(z.strictObject({
    id: text, name: text, crossing: direction.nullable(), before: dish.nullable(), after: dish.nullable(),
    costChange: figure.nullable(), points: figure.nullable(), soldAWeek: figure.nullable(), moneyAWeek: figure.nullable(),
  })),
  moved: z.array(moved), unmoved: whole, moneyAWeek: figure.nullable(), takingsAWeek: figure.nullable(),
}), "Ripple", "What a change does to the costs of today: dishes that cross their target, every dish that moves, what moved on the way.");

const changedFact = z.strictObject({ kind: factKind, id: text, name: text, revision: whole, validFrom: day, replaces: whole.nullable() });
const entry = {
  changeNo: whole, at: moment, by: text, why: text, factCount: whole, facts: z.array(changedFact), moved: z.record(nodeKind, whole),
  crossings: z.array(z.strictObject({ dishId: text, name: text, direction: direction })),
};

const stale = named(z.strictObject({ kind: factKind, id: text, name: text, by: text, at: moment, revision: whole, mine: anyFact.nullable(), theirs: anyFact.nullable() }), "Stale", "A fact that somebody else changed: by whom and when, what was sent and what stands now. Send again with `basedOn` that revision to write over it.");

export const problemShape = named(z.strictObject({
  type: text, title: text, status: whole, detail: text, code: text,
  problems: z.array(z.strictObject({ path: text, code: text, sentence: text })).optional(), stale: z.array(stale).optional(),
}), "Problem", "What is wrong (RFC 9457), with a sentence for people in `detail`; `problems` name each field, `stale` each fact that was changed meanwhile.");

const factIn = z.strictObject({ ...bookRead, kind: factKind, id: text, fact: anyFact, provenance: provenance.nullable() });

export const answers = {
  start: named(z.strictObject({
    kitchen: z.strictObject({ name: text, place: text, currency: text, measures: z.enum(["us", "metric"]), locale: text, timeZone: text }),
    program: z.strictObject({ name: text, may: z.enum(["read", "write"]) }), today: day, changeNo: whole, facts: z.record(factKind, whole),
  }), "Start", "The kitchen that the key is for, and what its book holds."),
  book: named(z.strictObject({ ...bookRead, kind: factKind, facts: z.array(z.strictObject({ id: text, fact: anyFact, provenance: provenance.nullable() })), next }), "Book", "Facts of one kind; `next` is what to ask for `after` the last of them, null at the end."),
  fact: named(factIn, "FactRead", "A fact with where it comes from."),
  revisions: named(z.strictObject({
    kind: factKind, id: text,
    revisions: z.array(z.strictObject({ revision: whole, changeNo: whole, name: text, validFrom: day, recordedAt: moment, by: text, why: text, replaces: whole.nullable(), replacedBy: whole.nullable(), fact: anyFact.nullable() })),
  }), "Revisions", "Every recorded state of a fact, newest first; without a fact where it was taken off the book."),
  costs: named(z.strictObject({ ...bookRead, kind: nodeKind, costs: z.array(z.strictObject({ id: text, name: text, cost: costTold })), next }), "Costs", "What everything of a kind costs."),
  cost: named(z.strictObject({ ...bookRead, kind: nodeKind, id: text, name: text, cost: costTold }), "CostRead", "What one thing costs."),
  history: named(z.strictObject({ kind: nodeKind, id: text, points: z.array(z.strictObject({ changeNo: whole, at: moment, amount: figure.nullable(), per: cost.per, atLeast: z.boolean(), missing: z.array(missing), borrowed })) }), "CostHistory", "A cost after each change that moved it, oldest first; without an amount where the thing was taken off the book."),
  dishes: named(z.strictObject({ ...bookRead, dishes: z.array(dish) }), "Menu", "Every dish, in the order of the menu."),
  record: named(z.strictObject({ changes: z.array(z.strictObject(entry)), next: whole.nullable() }), "Record", "Changes, newest first, with the first facts of each; `next` is what to ask for `before`."),
  change: named(z.strictObject({ ...entry, facts: z.array(z.strictObject({ ...changedFact.shape, before: anyFact.nullable(), after: anyFact.nullable() })), ripple }), "ChangeRead", "A change with each fact (up to a thousand) as it was and became, and the ripple that it was recorded with."),
  recorded: named(z.strictObject({ changeNo: whole, at: moment, by: text, facts: z.array(changedFact), ripple }), "Recorded", "A change that was recorded."),
  tried: named(z.strictObject({ tried: z.literal(true), ripple }), "Tried", "What a change would do. Nothing was recorded."),
};

/** A whole number in an address, which is text until it is read. */
const number = (most: number) => asInteger(z.string().regex(/^(?:0|[1-9]\d{0,8})$/, { error: "Give a whole number." }).transform(Number).refine((n) => n <= most, { error: `At most ${most}.` }), most);
const asInteger = <S extends z.ZodType>(schema: S, most: number): S => {
  TOLD.add(schema, { type: "integer", minimum: 0, maximum: most, pattern: undefined });
  return schema;
};
const isDay = (one: string): boolean => !Number.isNaN(Date.parse(`${one}T00:00:00Z`)) && new Date(`${one}T00:00:00Z`).toISOString().startsWith(one);
const askedDay = z.string().regex(/^(?:19|20|21)\d\d-\d{2}-\d{2}$/, { error: "Give a calendar day, such as 2026-11-24." }).refine(isDay, { error: "There is no such day." });
const askedMoment = z.string().regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(?::\d{2}(?:\.\d{1,3})?)?Z$/, { error: "Give a moment in UTC, such as 2026-11-25T09:30:00Z." }).refine((one) => !Number.isNaN(Date.parse(one)) && one >= "1900" && one < "2200", { error: "There is no such moment." });

export const asOf = { on: askedDay.optional(), knownAt: askedMoment.optional(), afterChange: number(999_999_999).optional() };
export const asked = {
  page: (most: number) => ({ after: z.string().min(1).max(120).optional(), limit: number(most).optional() }),
  before: { before: number(999_999_999).optional(), limit: number(100).optional() },
  factKind: z.enum(FACT_KINDS), nodeKind: z.enum(NODE_KINDS), id: z.string().min(1).max(120),
  changeNo: number(999_999_999),
};

/**
 * A fact as a program sends it: as it is told, or with what a person would type in the place of an amount. It is judged by
 * the schema that every form passes, where the kitchen's habits are known.
 */
const sentFact = named(z.record(z.string().max(60), z.unknown()), "SentFact", "A fact, told whole, as `Fact` shows it. A quantity, an amount of money or a rate may also be what a kitchen types (\"18 lb 6 oz\", \"7.10\", \"7.10 / lb\"), with a full stop for decimals, and a share may be a percentage (\"32 %\"). What may be empty may be left out.");

export const sentChange = named(z.strictObject({
  why: z.string().max(2_000).default(""),
  try: z.boolean().default(false),
  entries: z.array(z.strictObject({
    kind: factKind, id: z.string().min(1).max(120).optional(), fact: sentFact.nullable(),
    validFrom: askedDay.optional(), replaces: z.int().min(1).optional(),
  })).min(1).max(2_000),
  basedOn: z.record(z.string().max(300), z.int().min(1).nullable()).default({}),
}), "SentChange", "Several facts, recorded together or not at all. `fact` null takes one off the book; `validFrom` is the day it applies from (today, unless said); `replaces` names the revision that is corrected. `basedOn` says for each fact (\"quote:abc\") which revision the program has seen, null for one it knows not to be there; for a fact that is not named, whatever stands now. With `try` the ripple is told and nothing recorded.");

export type SentChange = z.infer<typeof sentChange>;
export type { FactKind };
