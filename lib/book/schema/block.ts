/** Schemas of what happens at the block: yield tests, cuts, portion specs. */
import { z } from "zod";
import { type Habits, type Kind, UNITS, type Unit, kindOf, parseQuantity } from "@/lib/measure";
import type { BorrowedYield, Cut, PortionSpec } from "../cut";
import type { Origin, PartValue, TestPart, YieldTest } from "../yield-test";
import { bareUnit, chosen, day, id, key, keyed, name, note, number, orNull, quantity, rate, readWithin, word, yieldShare } from "./fields";

const MOST_PARTS = 60;
const MOST_PIECES = 100;
const ANY: readonly Kind[] = ["mass", "volume", "count"];

/** { kind, id }, or "item:…" and "cut:…" as a select field sends it. */
const origin: z.ZodType<Origin> = z.union([
  z.object({ kind: z.enum(["item", "cut"]), id }),
  z.string().regex(/^(?:item|cut):.+/).transform((text): Origin => {
    const kind = text.startsWith("item:") ? "item" : "cut";
    return { kind, id: text.slice(kind.length + 1) };
  }),
], { error: "Choose the item or the cut it is made from." });

function partValue(habits: Habits, bare: Unit): z.ZodType<PartValue> {
  return z.union([
    z.object({ kind: z.literal("typed"), rate: rate(habits, { what: "What the by-product is worth", bare, zero: true }) }),
    z.object({ kind: z.enum(["item", "recipe"]), id: chosen("what the by-product takes the place of") }),
  ], { error: "Say what the by-product is worth a pound or a kilo, or what it takes the place of." });
}

function part(habits: Habits, bare: Unit): z.ZodType<Omit<TestPart, "key"> & { readonly key?: string | undefined }> {
  return z
    .object({
      key, name: name("the part"),
      role: word(["main", "by-product", "discard", "purge"], "What a part is"),
      weight: quantity(habits, ANY, { what: "The weight", bare }),
      value: orNull(partValue(habits, bare)).default(null),
      marketValue: orNull(rate(habits, { what: "What it would cost ready trimmed", bare })).default(null),
      furtherCost: orNull(rate(habits, { what: "The further cost", bare, zero: true })).default(null),
      pieces: z.array(quantity(habits, ANY, { what: "The weight of a piece", bare })).max(MOST_PIECES, { error: `At most ${MOST_PIECES} pieces of one part.` }).default([]),
    })
    .superRefine((one, context) => {
      if (one.role === "by-product" && one.value === null) {
        context.addIssue({ code: "custom", path: ["value"], params: { code: "no-value" }, message: `Say what ${one.name} is worth to this house, or call it a discard: it is still weighed, and worth nothing.` });
      }
    })
    .transform((one) => ({
      ...one,
      value: one.role === "by-product" ? one.value : null,
      marketValue: one.role === "main" ? one.marketValue : null,
      furtherCost: one.role === "main" ? one.furtherCost : null,
      pieces: one.role === "main" ? one.pieces : [],
    }));
}

/** The kind the billed quantity is told in, which is the kind of every bare number beside it; weight where it cannot be read. */
function kindOfBilled(input: unknown, habits: Habits): Kind {
  const billed: unknown = typeof input === "object" && input !== null && "billed" in input ? input.billed : undefined;
  if (typeof billed === "string") {
    const read = parseQuantity(billed, habits, { kinds: ANY, bare: bareUnit("mass", habits) });
    return read.ok ? kindOf(read.value.unit) : "mass";
  }
  const unit: unknown = typeof billed === "object" && billed !== null && "unit" in billed ? billed.unit : undefined;
  return typeof unit === "string" && Object.hasOwn(UNITS, unit) ? kindOf(unit as Unit) : "mass";
}

export function testSchema(habits: Habits): z.ZodType<YieldTest> {
  const byKind = new Map(ANY.map((kind) => [kind, sheetSchema(habits, bareUnit(kind, habits))]));
  return z.unknown().transform((input, context) => {
    const schema = byKind.get(kindOfBilled(input, habits));
    if (schema === undefined) throw new Error("expected a schema for every kind");
    return readWithin(schema, input, [], context);
  });
}

/** A test's sheet, in which a bare number is an amount of `bare`. */
function sheetSchema(habits: Habits, bare: Unit): z.ZodType<YieldTest> {
  return z
    .object({
      id, kind: word(["butcher", "trim", "cooking", "drained", "hydration"], "The kind of test"), of: origin,
      dealerId: orNull(chosen("a dealer")).default(null),
      on: day("The day of the test"), cutter: note("Who cut", 120),
      pieces: number(habits, { what: "How many pieces were worked", whole: true }),
      billed: quantity(habits, ANY, { what: "The billed weight", bare }),
      price: orNull(rate(habits, { what: "The price", bare })).default(null),
      parts: z.array(part(habits, bare), { error: "Weigh at least one part." })
        .min(1, { error: "Weigh at least one part: what it was worked for." })
        .max(MOST_PARTS, { error: `A test has at most ${MOST_PARTS} parts.` })
        .transform((parts) => keyed(parts, (one) => one.name)),
      cooking: orNull(z.object({
        method: note("The method", 120), temperature: note("The temperature", 120), endPoint: note("The end point", 120), time: note("The time", 120),
        trimmed: quantity(habits, ANY, { what: "The trimmed weight, as it went in to the heat", bare }),
        cooked: quantity(habits, ANY, { what: "The cooked weight", bare }),
      })).default(null),
      scaleStep: orNull(quantity(habits, ANY, { what: "The step of the scale", bare })).default(null),
      followsTestId: orNull(chosen("a test")).default(null),
      note: note("The note"),
    })
    .superRefine((test, context) => {
      if (test.kind === "cooking" && test.cooking === null) {
        context.addIssue({ code: "custom", path: ["cooking", "cooked"], params: { code: "missing" }, message: "A cooking-loss test needs the weight that went in to the heat and the weight that came out." });
      }
      if (!test.parts.some((one) => one.role === "main")) {
        context.addIssue({ code: "custom", path: ["parts"], params: { code: "no-main" }, message: "Say which part it was worked for: one part has to be the main one." });
      }
    })
    .transform((test) => ({
      ...test,
      cooking: test.kind === "cooking" ? test.cooking : null,
      // What is made from a cut carries that cut's net cost in; a dealer's price has no place on the sheet.
      price: test.of.kind === "cut" ? null : test.price,
      dealerId: test.of.kind === "cut" ? null : test.dealerId,
    }));
}

/** Why a test is left out: words, for dots and dashes are none. */
function reason(): z.ZodType<string> {
  return note("Why a test is left out", 300).superRefine((text, context) => {
    if (!/[\p{L}\p{N}]/u.test(text)) context.addIssue({ code: "custom", params: { code: "reason-missing" }, message: "Say why this test is left out, in a few words: the next reader will ask." });
  });
}

/** Words that somebody has to give. */
function words(what: string, limit: number, missing: string): z.ZodType<string> {
  return note(what, limit).superRefine((text, context) => {
    if (text === "") context.addIssue({ code: "custom", params: { code: "missing" }, message: missing });
  });
}

function borrowedYield(habits: Habits): z.ZodType<BorrowedYield> {
  return z.object({
    share: yieldShare(habits, "The borrowed yield"),
    what: words("What the yield is of", 300, "Say what the yield is of, as its source calls it."),
    source: words("Where the yield is from", 400, "Say where the yield is from: a document and its year, or who told it. Whoever reads the cost will ask."),
    on: day("The day the yield was taken up"),
  }, { error: "Give the yield, what it is of and where it is from." });
}

export function cutSchema(habits: Habits): z.ZodType<Cut> {
  return z.object({
    id, name: name("the cut"), of: origin, partKey: key.pipe(z.string({ error: "Choose which part of the test this cut is." })),
    testIds: z.array(id).max(60, { error: "At most 60 tests are pooled for one cut." }).default([]).transform((ids) => [...new Set(ids)]),
    leftOut: z.array(z.object({ testId: id, reason: reason() }), { error: "Say which tests are left out, and why." }).max(60, { error: "At most 60 tests are left out of one cut." }).default([]),
    borrowed: orNull(borrowedYield(habits)).default(null),
    repricing: orNull(word(["by-factor", "by-products-at-own-price"], "How a new price reaches the cut")).default(null),
    joint: word(["sales-value", "net-realizable", "weight"], "How joint cost is shared").default("sales-value"),
    specification: note("The cutting specification"),
  });
}

export function specSchema(habits: Habits): z.ZodType<PortionSpec> {
  const bare = habits.measures === "us" ? "oz" : "g";
  return z
    .object({
      id, cutId: chosen("the cut"), name: name("the portion"),
      size: quantity(habits, ANY, { what: "The size of a portion", bare }),
      tolerance: orNull(quantity(habits, ANY, { what: "The tolerance", bare })).default(null),
      thickness: note("The thickness", 60), trim: note("The trim", 200),
      costing: word(["by-weight", "whole"], "How a portion is costed").default("by-weight"),
      endValue: orNull(rate(habits, { what: "What the end is worth", bare: bareUnit("mass", habits), zero: true })).default(null),
      pieces: orNull(number(habits, { what: "The pieces to a portion", whole: true })).default(null),
      meanCut: orNull(z.object({
        weight: quantity(habits, ANY, { what: "The mean weight of a portion as cut", bare }),
        count: orNull(number(habits, { what: "How many portions were weighed", whole: true })).default(null),
        on: day("The day of the weighing"),
      }, { error: "Give the mean weight and the day it was weighed." })).default(null),
    })
    .superRefine((spec, context) => {
      if (spec.tolerance !== null && kindOf(spec.tolerance.unit) !== kindOf(spec.size.unit)) {
        context.addIssue({ code: "custom", path: ["tolerance"], params: { code: "wrong-kind" }, message: `The portion is told in ${spec.size.unit}: give the tolerance in the same kind of unit.` });
      }
      if (spec.meanCut !== null && kindOf(spec.meanCut.weight.unit) !== kindOf(spec.size.unit)) {
        context.addIssue({ code: "custom", path: ["meanCut", "weight"], params: { code: "wrong-kind" }, message: `The portion is told in ${spec.size.unit}: give the mean weight in the same kind of unit.` });
      }
    });
}
