/**
 * The fields that facts are made of, as zod schemas. Each takes what a person typed ("18 lb 6 oz") or what is already
 * exact ({ amount: "18.375", unit: "lb" }), so that forms, files and programs pass through the same door. A problem is
 * one sentence that says what would be right.
 */
import { z } from "zod";
import {
  type Checked, type Exact, type Habits, type Kind, type Money, type Problem, type Quantity, type Rate, type Unit,
  UNITS, isExact, parseMoney, parseNumber, parseQuantity, parseRate, parseShare, parseYield, ratio,
} from "@/lib/measure";

// For speed zod would make code out of text, which the policy of our pages forbids.
z.config({ jitless: true });

export const NAME_LIMIT = 120;
export const NOTE_LIMIT = 2000;

const counted = (length: number): string => String(length).replace(/\B(?=(\d{3})+$)/g, ",");

/**
 * Marks that are no text: control characters and halves of a pair (a database
 * refuses some of them), and the marks that turn the direction of
 * what follows, which would let one name rearrange a whole page. Line breaks and tabs stay.
 */
const NO_TEXT = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\u007F-\u009F\u202A-\u202E\u2066-\u2069\p{Cs}]/gu;

/** Text of at most `limit` characters; "" where nothing was said. */
export function note(what: string, limit = NOTE_LIMIT): z.ZodType<string> {
  return z
    .string({ error: `${what} is text.` })
    .default("")
    .transform((text) => text.replace(NO_TEXT, "").trim())
    .superRefine((text, context) => {
      if (text.length > limit) {
        context.addIssue({ code: "custom", params: { code: "too-long" }, message: `${what} is ${counted(text.length)} characters long; at most ${counted(limit)} fit. Shorten it.` });
      }
    });
}

/** A name that has to be given. */
export function name(what: string): z.ZodType<string> {
  return z
    .string({ error: `Give ${what} a name.` })
    .transform((text) => text.replace(NO_TEXT, "").replace(/\s+/g, " ").trim())
    .superRefine((text, context) => {
      if (text === "") context.addIssue({ code: "custom", params: { code: "no-name" }, message: `Give ${what} a name.` });
      if (text.length > NAME_LIMIT) {
        context.addIssue({ code: "custom", params: { code: "too-long" }, message: `A name has at most ${NAME_LIMIT} characters; this one has ${counted(text.length)}.` });
      }
    });
}

/** Ids are made by programs, so one that is no plain text is refused, never mended. */
const plain = (text: string): boolean => text.search(NO_TEXT) < 0;

export const id = z
  .string({ error: "An id is missing." }).min(1, { error: "An id is missing." }).max(120, { error: "An id has at most 120 characters." })
  .refine(plain, { error: "An id is letters, digits and hyphens." });

/** The id of something chosen from a list. */
export function chosen(what: string): z.ZodType<string> {
  return z.string({ error: `Choose ${what}.` }).min(1, { error: `Choose ${what}.` }).max(120, { error: `Choose ${what}.` }).refine(plain, { error: `Choose ${what}.` });
}

/** One of a few words. */
export function word<const W extends readonly [string, ...string[]]>(words: W, what: string): z.ZodType<W[number]> {
  return z.enum(words, { error: `${what} is one of: ${words.join(", ")}.` });
}

/** A field that may be left empty. */
export function orNull<T>(field: z.ZodType<T>): z.ZodType<T | null> {
  return z.preprocess((value) => (value === undefined || value === null || (typeof value === "string" && value.trim() === "") ? null : value), field.nullable());
}

/** Runs one of the readers of lib/measure on typed text, telling its problems. */
function reader<T>(read: (text: string) => Checked<T>, missing: string) {
  return (text: string, context: z.core.$RefinementCtx): T => {
    if (text.trim() === "") {
      context.addIssue({ code: "custom", params: { code: "missing" }, message: missing });
      return z.NEVER;
    }
    const value = read(text);
    if (value.ok) return value.value;
    for (const problem of value.problems) context.addIssue({ code: "custom", params: { code: problem.code }, message: problem.sentence });
    return z.NEVER;
  };
}

const exactText = z.string().refine((text): text is Exact => isExact(text), { error: "An amount is a number written out, such as 18.375, or a fraction, such as 1/3." });
const unitName = z.string().refine((text): text is Unit => Object.hasOwn(UNITS, text), { error: "That is not a unit known here: give one such as lb, oz, kg, L or each." });
const asTyped = z.string().max(200).transform((text) => text.replace(NO_TEXT, "")).optional();

interface Bounds {
  readonly what: string;
  /** Zero is allowed too. */
  readonly zero?: boolean;
}

function aboveZero(amount: Exact, { what, zero = false }: Bounds, context: z.core.$RefinementCtx): void {
  const sign = ratio.sign(ratio.fromExact(amount));
  if (sign > 0 || (zero && sign === 0)) return;
  context.addIssue({ code: "custom", params: { code: zero ? "negative" : "not-above-zero" }, message: zero ? `${what} cannot be below zero.` : `${what} must be above zero.` });
}

/** A quantity above zero of one of the kinds; `bare` is the unit of a number without one. */
export function quantity(habits: Habits, kinds: readonly Kind[], bounds: Bounds & { readonly bare?: Unit | undefined }): z.ZodType<Quantity> {
  const { what, bare } = bounds;
  const read = (text: string) => parseQuantity(text, habits, { kinds, ...(bare === undefined ? {} : { bare }) });
  return z
    .union([
      z.string().transform(reader(read, `${what} is missing.`)),
      z.object({ amount: exactText, unit: unitName, typed: asTyped }).transform(({ amount, unit, typed }): Quantity => (typed === undefined ? { amount, unit } : { amount, unit, typed })),
    ], { error: `${what} is missing.` })
    .superRefine((value, context) => {
      aboveZero(value.amount, bounds, context);
      if (!kinds.includes(UNITS[value.unit].kind)) {
        context.addIssue({ code: "custom", params: { code: "wrong-kind" }, message: `${what} is told in ${value.unit}, which does not measure the same kind of thing: give it as ${kinds.join(" or ")}.` });
      }
    });
}

export function money(habits: Habits, bounds: Bounds): z.ZodType<Money> {
  return z
    .union([
      z.string().transform(reader((text) => parseMoney(text, habits), `${bounds.what} is missing.`)),
      z.object({ amount: exactText, typed: asTyped }).transform(({ amount, typed }): Money => (typed === undefined ? { amount } : { amount, typed })),
    ], { error: `${bounds.what} is missing.` })
    .superRefine((value, context) => aboveZero(value.amount, bounds, context));
}

/** Money per unit; `bare` is the unit where only an amount is typed. Whether the unit suits what it prices is asked of the whole sheet. */
export function rate(habits: Habits, bounds: Bounds & { readonly bare: Unit }): z.ZodType<Rate> {
  return z
    .union([
      z.string().transform(reader((text) => parseRate(text, habits, { bare: bounds.bare, kinds: ["mass", "volume", "count"] }), `${bounds.what} is missing.`)),
      z.object({ amount: exactText, per: unitName, typed: asTyped }).transform(({ amount, per, typed }): Rate => (typed === undefined ? { amount, per } : { amount, per, typed })),
    ], { error: `${bounds.what} is missing.` })
    .superRefine((value, context) => aboveZero(value.amount, bounds, context));
}

/** A plain number above zero (or zero where `zero`). */
export function number(habits: Habits, bounds: Bounds & { readonly whole?: boolean }): z.ZodType<Exact> {
  return z
    .string({ error: `${bounds.what} is missing.` })
    .transform(reader((text) => (isExact(text) ? { ok: true, value: text } : parseNumber(text, habits)), `${bounds.what} is missing.`))
    .superRefine((value, context) => {
      aboveZero(value, bounds, context);
      if (bounds.whole === true && !/^-?\d+$/.test(value)) {
        context.addIssue({ code: "custom", params: { code: "not-whole" }, message: `${bounds.what} is a whole number.` });
      }
    });
}

/** A share of one, from "32", "32 %" or "0.32". */
export function share(habits: Habits, what: string, options: { readonly zero?: boolean } = {}): z.ZodType<Exact> {
  return z
    .string({ error: `${what} is missing.` })
    .transform(reader((text) => (isExact(text) && isBelowOne(text) ? { ok: true, value: text } : parseShare(text, habits)), `${what} is missing.`))
    .superRefine((value, context) => aboveZero(value, { what, zero: options.zero ?? false }, context));
}

/** Exact already, whatever its digits: below one a number is a share in every reading. */
function isBelowOne(value: Exact): boolean {
  const share = ratio.fromExact(value);
  return ratio.sign(share) >= 0 && ratio.compare(share, ratio.ONE) < 0;
}

/** A yield as a ratio above 0 and at most 4: exact already ("0.76"), or as one types it ("76", "76 %", "291 %"). */
export function yieldShare(habits: Habits, what: string): z.ZodType<Exact> {
  return z
    .string({ error: `${what} is missing.` })
    .transform(reader((text) => (isExact(text) ? { ok: true, value: text } : parseYield(text, habits)), `${what} is missing.`))
    .superRefine((value, context) => {
      const share = ratio.fromExact(value);
      if (ratio.sign(share) <= 0) context.addIssue({ code: "custom", params: { code: "not-above-zero" }, message: `${what} must be above zero: with nothing usable there is nothing to cost.` });
      else if (ratio.compare(share, ratio.of(4n)) > 0) {
        context.addIssue({ code: "custom", params: { code: "yield-too-large" }, message: `${what} is more than four times what was bought: give it as a share of the whole, such as 0.76 or 76 %.` });
      }
    });
}

const MONTH_DAYS = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** True for a calendar day that exists: "2024-02-29" but not "2026-02-29". */
export function isDay(text: string): boolean {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (!match) return false;
  const [year, month, day] = match.slice(1).map(Number) as [number, number, number];
  if (year < 1900 || year > 2200 || month < 1 || month > 12 || day < 1 || day > (MONTH_DAYS[month - 1] ?? 0)) return false;
  return !(month === 2 && day === 29) || (year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0));
}

export function day(what: string): z.ZodType<string> {
  return z.string({ error: `${what} is missing.` }).refine(isDay, { error: `${what} is a calendar day, such as 2026-11-24.` });
}

/** A tick: a boolean, or what a checkbox sends. */
export const tick: z.ZodType<boolean> = z.preprocess(
  (value) => (typeof value === "string" ? ["on", "true", "yes", "1"].includes(value.trim().toLowerCase()) : value ?? false),
  z.boolean({ error: "Say yes or no." }),
);

/** Gives rows without a stable key one made from `of`, and makes repeated keys differ. */
export function keyed<R extends { readonly key?: string | undefined }>(rows: readonly R[], of: (row: R) => string): (R & { readonly key: string })[] {
  const taken = new Set(rows.map((row) => row.key).filter((key) => key !== undefined && key !== ""));
  return rows.map((row) => {
    if (row.key !== undefined && row.key !== "") return { ...row, key: row.key };
    const stem = slug(of(row));
    let key = stem;
    for (let times = 2; taken.has(key); times += 1) key = `${stem}-${times}`;
    taken.add(key);
    return { ...row, key };
  });
}

/** "Lean trim, ¼ in" → "lean-trim-1-4-in". */
export function slug(text: string): string {
  const plain = text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase();
  const made = plain.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "").slice(0, 60);
  return made === "" ? "part" : made;
}

export const key = z.string().max(120).refine(plain, { error: "A key is letters, digits and hyphens." }).optional();

/** The pounds or kilos, quarts or litres, that a bare number means in this kitchen. */
export function bareUnit(kind: Kind, habits: Habits): Unit {
  if (kind === "count") return "each";
  if (kind === "mass") return habits.measures === "us" ? "lb" : "kg";
  return habits.measures === "us" ? "qt" : "L";
}

/**
 * The issues of a schema as problems. Where one of several readings was allowed, the one that got furthest speaks: a
 * reader's own sentence, or a problem inside it; else the field's own sentence.
 */
export function problemsOf(issues: readonly z.core.$ZodIssue[], under: readonly PropertyKey[] = []): readonly Problem[] {
  return issues.flatMap((issue): readonly Problem[] => {
    const path = [...under, ...issue.path];
    const at = path.map(String).join(".");
    if (issue.code === "invalid_union") {
      const branches = issue.errors
        .filter((branch) => branch.every((one) => one.code === "custom" || one.code === "invalid_union" || one.path.length > 0))
        .map((branch) => problemsOf(branch, path));
      const furthest = branches.filter((branch) => branch.length > 0).sort((a, b) => a.length - b.length)[0];
      return furthest ?? [{ path: at, code: "missing", sentence: issue.message }];
    }
    const code: unknown = issue.code === "custom" ? issue.params?.["code"] : undefined;
    return [{ path: at, code: typeof code === "string" ? code : issue.code, sentence: issue.message }];
  });
}

/** What is said where a schema has no sentence of its own: only a program can have sent a value of the wrong shape. */
export const ofAnotherShape: z.core.$ZodErrorMap = (issue) => {
  switch (issue.code) {
    case "invalid_type": return issue.expected === "array" ? "A list is needed here." : issue.expected === "string" ? "Text is needed here." : "This is not told field by field, as it has to be.";
    case "too_big": return `This is more than is kept here: at most ${String(issue.maximum)}.`;
    default: return "This cannot be read: give it as its form does.";
  }
};

/** Reads a value by a schema that is only known once other fields are, telling its problems as one's own. */
export function readWithin<T>(schema: z.ZodType<T>, value: unknown, at: readonly PropertyKey[], context: z.core.$RefinementCtx): T {
  const read = schema.safeParse(value, { error: ofAnotherShape });
  if (read.success) return read.data;
  for (const { path, code, sentence } of problemsOf(read.error.issues)) {
    context.addIssue({ code: "custom", path: [...at, ...(path === "" ? [] : path.split("."))], params: { code }, message: sentence });
  }
  return z.NEVER;
}
