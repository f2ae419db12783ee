/**
 * Moves as they are handed in and as they are kept: one schema for both, made of the fields that facts are made of, so
 * that a move can be typed ("+8 %", "8 oz") or exact already.
 */
import { z } from "zod";
import { type Checked, type Exact, type Habits, UNIT_NAMES, bad, good, isExact, parseShare, quoted, ratio } from "@/lib/measure";
import { type Change, FACT_KINDS, type FactKind } from "../book";
import { factSchema } from "../schema";
import { chosen, day, id, money, name, note, ofAnotherShape, orNull, problemsOf, quantity, share, word } from "../schema/fields";
import { MOST_MOVES, type Move, type MoveBody } from "./move";

const ANY = ["mass", "volume", "count"] as const;
const LINE_KINDS = ["item", "cut", "spec", "recipe"] as const;

/** How far a price may be pretended up, as a share: tenfold. */
const MOST_SHARE = ratio.of(9n);

/** A change of prices as people say it: "+8 %", "8", "-5 %", "8 % less". As a share of one, below zero for cheaper. */
export function parseMove(text: string, habits: Pick<Habits, "locale">): Checked<Exact> {
  const said = text.trim().replace(/\s+/g, " ");
  const less = /^(?:[-−–]|down |minus )|(?: less| down| cheaper)$/i.test(said);
  const bare = said.replace(/^(?:[-−–+]|up |down |plus |minus )\s*/i, "").replace(/ (?:less|down|cheaper|more|up|dearer)$/i, "").trim();
  const read = parseShare(bare, habits);
  if (!read.ok) {
    // More than the whole is no slip of a rise: a price may double.
    const percent = /^(\d{3,4})\s*%?$/.exec(bare);
    if (percent === null || less) return bad("", read.problems[0]?.code ?? "not-a-number", `${quoted(text)} does not say by how much: write, for example, +8 % or −5 %.`);
    return good(ratio.toExact(ratio.of(BigInt(percent[1] ?? "0"), 100n)));
  }
  return good(less ? ratio.toExact(ratio.neg(ratio.fromExact(read.value))) : read.value);
}

/** `kept`: an exact share of one ("2" is twice as much on top), where a person who types 2 means 2 %. */
function signedShare(habits: Habits, kept: boolean): z.ZodType<Exact> {
  return z.string({ error: "Say by how much: +8 %, for example." }).transform((text, context): Exact => {
    const read = isExact(text) && (kept || /[./]/.test(text)) ? good(text) : parseMove(text, habits);
    const problem = !read.ok ? read.problems[0]?.sentence
      : ratio.sign(ratio.fromExact(read.value)) === 0 ? "By nothing is no move: write, for example, +8 % or −5 %."
      : ratio.compare(ratio.fromExact(read.value), ratio.of(-1n)) <= 0 ? "That would leave no price at all: take off less than the whole."
      : ratio.compare(ratio.fromExact(read.value), MOST_SHARE) > 0 ? "That is more than ten times the price: give the new price itself instead." : undefined;
    if (problem === undefined && read.ok) return read.value;
    context.addIssue({ code: "custom", params: { code: "not-a-move" }, message: problem ?? "" });
    return z.NEVER;
  });
}

/** A target as it is kept: 1 is the whole, of which a person who types 1 would be asked. */
const keptTarget: z.ZodType<Exact> = z.string().refine((text): text is Exact => isExact(text) && ratio.sign(ratio.fromExact(text)) > 0 && ratio.compare(ratio.fromExact(text), ratio.ONE) <= 0);

function bodySchema(habits: Habits, kept: boolean): z.ZodType<MoveBody> {
  const at = z.object({ kind: z.enum(LINE_KINDS), id });
  const amount = quantity(habits, ANY, { what: "The quantity" });
  return z.discriminatedUnion("kind", [
    z.object({ kind: z.literal("share"), of: z.union([z.object({ kind: z.enum(["item", "dealer"]), id }), z.object({ kind: z.literal("section"), name: name("the section") })]), share: signedShare(habits, kept) }),
    z.object({ kind: z.literal("price"), itemId: chosen("an item"), quoteId: orNull(id), price: money(habits, { what: "The price" }), per: z.enum(["pack", ...UNIT_NAMES]) }),
    z.object({ kind: z.literal("dealer"), itemId: chosen("an item"), dealerId: orNull(id) }),
    z.object({ kind: z.literal("tests"), cutId: chosen("a cut"), testIds: z.array(id).max(200) }),
    z.object({ kind: z.literal("size"), specId: chosen("a portion"), size: quantity(habits, ["mass", "volume"], { what: "The size" }) }),
    z.object({
      kind: z.literal("line"), in: z.object({ kind: z.enum(["recipe", "dish"]), id }), lineKey: id,
      to: z.discriminatedUnion("kind", [
        z.object({ kind: z.literal("quantity"), quantity: amount }),
        z.object({ kind: z.literal("replaced"), of: at, quantity: amount }),
        z.object({
          kind: z.literal("added"), of: at, quantity: amount, note: note("The note on a line", 200),
          role: orNull(word(["main", "side", "garnish", "cover", "packaging"], "What it is on the plate")), channel: orNull(word(["any", "table", "away"], "When it goes with the plate")),
        }),
        z.object({ kind: z.literal("removed") }),
      ]),
    }),
    z.object({ kind: z.literal("menu price"), dishId: chosen("a dish"), gross: money(habits, { what: "The menu price" }) }),
    z.object({
      kind: z.literal("target"), target: orNull(kept ? keptTarget : share(habits, "The target")),
      of: z.union([z.object({ kind: z.literal("dish"), id }), z.object({ kind: z.literal("section"), name: name("the section") }), z.object({ kind: z.literal("kitchen") })]),
    }),
    z.object({ kind: z.literal("replace"), itemId: chosen("an item"), byId: chosen("what it is replaced by"), from: orNull(day("The first day")), until: orNull(day("The first day without it")) })
      .superRefine(({ itemId, byId, from, until }, context) => {
        if (itemId === byId) context.addIssue({ code: "custom", path: ["byId"], params: { code: "itself" }, message: "That is the same item: choose another to put in its place." });
        if (from !== null && until !== null && until <= from) context.addIssue({ code: "custom", path: ["until"], params: { code: "ends-before" }, message: "It would end before it begins: give a later day, or leave the end empty." });
      }),
    z.object({ kind: z.literal("fact"), change: changeSchema(habits) }),
  ], { error: "Say what is tried." });
}

function changeSchema(habits: Habits): z.ZodType<Change> {
  return z.object({ kind: z.enum(FACT_KINDS as readonly [FactKind, ...FactKind[]]), id, after: z.unknown() }).transform(({ kind, id: of, after }, context): Change => {
    if (after === null || after === undefined) return { kind, id: of, after: null } as Change;
    const read = factSchema(kind, habits).safeParse(after, { error: ofAnotherShape });
    if (read.success) return { kind, id: of, after: read.data } as Change;
    for (const { path, code, sentence } of problemsOf(read.error.issues)) context.addIssue({ code: "custom", path: ["after", ...(path === "" ? [] : path.split("."))], params: { code }, message: sentence });
    return z.NEVER;
  });
}

function moveSchema(habits: Habits): z.ZodType<Move> {
  return z.object({
    key: id, about: note("What it is about", 300), body: bodySchema(habits, true),
    basis: z.object({ upTo: z.number().int().min(0), facts: z.record(z.string().max(300), z.number().int().nullable()) }),
    added: z.object({ by: z.string().max(200), at: z.string().max(40) }).nullable(),
  });
}

const made = new Map<string, { readonly body: z.ZodType<MoveBody>; readonly moves: z.ZodType<Move> }>();

function schemas(habits: Habits): { readonly body: z.ZodType<MoveBody>; readonly moves: z.ZodType<Move> } {
  const known = `${habits.locale} ${habits.measures} ${habits.currency}`;
  let schema = made.get(known);
  if (schema === undefined) made.set(known, (schema = { body: bodySchema(habits, false), moves: moveSchema(habits) }));
  return schema;
}

/** What a move does, as typed or as exact already. */
export function readMoveBody(input: unknown, habits: Habits): Checked<MoveBody> {
  const read = schemas(habits).body.safeParse(input, { error: ofAnotherShape });
  return read.success ? good(read.data) : { ok: false, problems: problemsOf(read.error.issues) };
}

/** A kept list of moves. A move that cannot be read any more is left out and counted. */
export function readMoves(input: unknown, habits: Habits): { readonly moves: readonly Move[]; readonly lost: number } {
  const list = Array.isArray(input) ? input.slice(0, MOST_MOVES) : [];
  const moves = list.flatMap((one): readonly Move[] => {
    const read = schemas(habits).moves.safeParse(one, { error: ofAnotherShape });
    return read.success ? [read.data] : [];
  });
  return { moves, lost: list.length - moves.length };
}
