/**
 * A test while it is being weighed, as the entries it is made of: what is being worked, the parts to weigh, every reading
 * of the scale. Entries are only ever added, each with an id of its own made where it was typed; an entry is taken back
 * by a further one. So any number of devices can write into one sheet, with or without a connection: whatever order
 * entries arrive in, and however often, the sheet is the same (sheet.ts). Nobody's reading is written over.
 */
import { z } from "zod";
import { type Checked, type Quantity, SCALE_READINGS, type ScaleReading, UNITS, type Unit, isExact, ratio } from "@/lib/measure";
import { problemsOf } from "../schema/fields";
import { isDay, slug } from "../schema";
import type { PartRole, TestKind } from "../yield-test";

/** What is weighed that is no part: the whole as billed, and for a cooking test what went in to the heat and came out. */
export const WHOLES = ["@billed", "@trimmed", "@cooked"] as const;
export type Whole = (typeof WHOLES)[number];

export type BlockBody =
  | {
    readonly kind: "about";
    /** "item:…" or "cut:…". */
    readonly of: string;
    readonly test: TestKind;
    readonly dealerId: string | null;
    /** Calendar day of the test. */
    readonly on: string;
    readonly cutter: string;
    /** How many pieces are worked together. */
    readonly pieces: number;
    /** How the scale reads; null until somebody has said. */
    readonly scale: ScaleReading | null;
    /** The smallest step of the scale; null when not said. */
    readonly step: Quantity | null;
  }
  /** A part to weigh, new or renamed; `place` orders them. */
  | { readonly kind: "part"; readonly key: string; readonly name: string; readonly role: PartRole; readonly place: number }
  /** The part is not on the sheet any more. */
  | { readonly kind: "no-part"; readonly key: string }
  /** What the scale showed for a part or a whole, and the tub that is to be taken off. One of several goes, or one piece. */
  | { readonly kind: "reading"; readonly key: string; readonly gross: Quantity; readonly tare: Quantity | null; readonly piece: boolean }
  /** There is none of this part today. */
  | { readonly kind: "none"; readonly key: string }
  /** Takes an entry back. */
  | { readonly kind: "back"; readonly entry: string }
  | { readonly kind: "note"; readonly text: string };

export interface BlockEntry {
  /** Made where it was typed; the same entry sent twice is one. */
  readonly id: string;
  /** When it was typed, by the device's clock: "2026-11-25T09:30:00.000Z". */
  readonly at: string;
  readonly body: BlockBody;
}

const id = z.string().regex(/^[\w-]{8,60}$/, { error: "An entry's id is 8 to 60 letters, digits and hyphens." });
const key = z.union([z.enum(WHOLES), z.string().regex(/^[\p{L}\p{N}][\p{L}\p{N}-]{0,119}$/u, { error: "A part's key is letters, digits and hyphens." })]);
const text = (limit: number) => z.string().max(limit).transform((typed) => typed.replace(/[\p{Cc}\p{Cs}\u202A-\u202E\u2066-\u2069]/gu, " ").trim());
/** Above zero, as the page read it with the kitchen's own habits; more than any block carries is a slip of another kind. */
const weight: z.ZodType<Quantity> = z.object({
  amount: z.string().max(60).refine(isExact, { error: "An amount is a number written out, such as 18.375, or a fraction." }),
  unit: z.string().refine((name): name is Unit => Object.hasOwn(UNITS, name), { error: "That is not a unit known here." }),
  typed: text(60).optional(),
}).transform(({ amount, unit, typed }): Quantity => (typed === undefined || typed === "" ? { amount, unit } : { amount, unit, typed }))
  .refine((quantity) => ratio.sign(ratio.fromExact(quantity.amount)) > 0, { error: "A reading is above zero." });

const BODY: z.ZodType<BlockBody> = z.discriminatedUnion("kind", [
  z.object({
    kind: z.literal("about"), of: z.string().regex(/^(?:item|cut):.{1,120}$/, { error: "Choose what is worked." }),
    test: z.enum(["butcher", "trim", "cooking", "drained", "hydration"]), dealerId: z.string().min(1).max(120).nullable(),
    on: z.string().refine(isDay, { error: "Give the day of the test as a calendar day." }), cutter: text(120),
    pieces: z.number().int().min(1, { error: "At least one piece is worked." }).max(1000, { error: "At most 1,000 pieces are worked together." }),
    scale: z.enum(SCALE_READINGS).nullable(), step: weight.nullable(),
  }),
  z.object({
    kind: z.literal("part"), key, name: text(120).pipe(z.string().min(1, { error: "Give the part a name." })), role: z.enum(["main", "by-product", "discard", "purge"]),
    place: z.number().int().min(0).max(10_000),
  }),
  z.object({ kind: z.literal("no-part"), key }),
  z.object({ kind: z.literal("reading"), key, gross: weight, tare: weight.nullable(), piece: z.boolean() }),
  z.object({ kind: z.literal("none"), key }),
  z.object({ kind: z.literal("back"), entry: id }),
  z.object({ kind: z.literal("note"), text: text(2000) }),
]);

/** More than the longest morning at the block writes. */
export const MOST_ENTRIES = 2000;

const ENTRY: z.ZodType<BlockEntry> = z.object({ id, at: z.iso.datetime({ error: "An entry says when it was typed." }), body: BODY });
const ENTRIES = z.array(ENTRY).max(300, { error: "At most 300 entries are sent at once." });

/** Reads entries as a device sends them. */
export function readBlockEntries(input: unknown): Checked<readonly BlockEntry[]> {
  const read = ENTRIES.safeParse(input);
  return read.success ? { ok: true, value: read.data } : { ok: false, problems: problemsOf(read.error.issues) };
}

/** The key of a part that somebody adds by its name. */
export function partKeyFor(name: string, taken: ReadonlySet<string>): string {
  const base = slug(name) || "part";
  for (let n = 1; ; n += 1) {
    const tried = n === 1 ? base : `${base}-${n}`;
    if (!taken.has(tried)) return tried;
  }
}
