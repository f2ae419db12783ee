/**
 * A whole kitchen as one JSON document: everything its record holds, change by change, each with who, when and why and
 * every fact as it became. Whoever has the file has the book of any day as it was known on any other, and needs nothing of
 * ours to read it: the shape is written down as a JSON Schema (docs/kitchen-file.schema.json), made of what stands here.
 * Left out are people with their passwords and keys, photos, and what is under way (sheets at the block, price lists that
 * nobody has recorded yet). One change stands on one line, so that two files can be compared by any tool.
 */
import { z } from "zod";
import { FACT_KINDS, type FactKind } from "@/lib/book";
import { type Checked, type Problem, bad, good } from "@/lib/measure";
import { TOLD, TOLD_FACTS, told } from "./told-facts";

export const KITCHEN_FORMAT = "trimledger kitchen";
/** Counts up when a reader of an older file would misread a newer one. */
export const KITCHEN_VERSION = 1;
/** In a file the kitchen’s own settings have this id; the kitchen that is opened from it gives them its own. */
export const KITCHEN_IN_FILE = "kitchen";
/** Bytes. */
export const LARGEST_KITCHEN_FILE = 64 * 1024 * 1024;

export const LEFT_OUT = ["people, their passwords and the keys of programs", "photos", "sheets at the block that are under way", "price lists that nobody has recorded"] as const;

const { day, moment } = told;
const whole = z.int().min(1);

/** What every revision says beside its fact. */
const head = { revision: whole, id: z.string(), name: z.string(), validFrom: day, replaces: whole.nullable() };

/** A revision as the document describes it: the fact by its kind, null where it took the fact off the book. */
const revisionTold = z.discriminatedUnion("kind", FACT_KINDS.map((kind) => z.strictObject({ ...head, kind: z.literal(kind), fact: (TOLD_FACTS[kind] as z.ZodType).nullable() })) as unknown as readonly [z.ZodObject, ...z.ZodObject[]]);

const changeHead = { no: whole, at: moment, by: z.string(), why: z.string() };

const tryout = {
  id: z.string().min(1).max(120), name: z.string(), createdAt: moment, createdBy: z.string(), changedAt: moment, changedBy: z.string(), version: whole,
  madeChange: whole.nullable(), dropped: z.strictObject({ by: z.string(), at: moment }).nullable(),
};
/** How a dealer writes price lists, and what is planned to be ordered: as the rooms that keep them write them. */
const layout = { dealerId: z.string().min(1).max(120), changedAt: moment, changedBy: z.string(), layout: z.unknown() };
const orderPlan = {
  id: z.string().min(1).max(120), name: z.string(), forDay: day.nullable(), createdAt: moment, createdBy: z.string(), changedAt: moment, changedBy: z.string(), version: whole,
  dropped: z.strictObject({ by: z.string(), at: moment }).nullable(), body: z.unknown(),
};

const start = {
  format: z.literal(KITCHEN_FORMAT), version: z.literal(KITCHEN_VERSION), exportedAt: moment,
  kitchen: z.strictObject({ id: z.string(), name: z.string() }), leftOut: z.array(z.string()),
};

/** The document as its JSON Schema describes it. */
export const kitchenFileTold = z.strictObject({
  ...start,
  changes: z.array(z.strictObject({ ...changeHead, revisions: z.array(revisionTold) })),
  tryouts: z.array(z.strictObject({ ...tryout, moves: z.array(z.unknown()) })),
  layouts: z.array(z.strictObject(layout)), orderPlans: z.array(z.strictObject(orderPlan)),
});

/** The JSON Schema (2020-12) of the document. */
export function kitchenFileJsonSchema(): Readonly<Record<string, unknown>> {
  return { title: "A whole kitchen", description: "Everything that the record of a kitchen holds, change by change.", ...z.toJSONSchema(kitchenFileTold, { metadata: TOLD as never, target: "draft-2020-12" }) };
}

/** A revision as it was read: its fact is judged where the kitchen’s habits are known. */
export interface FileRevision {
  readonly revision: number;
  readonly kind: FactKind;
  readonly id: string;
  readonly validFrom: string;
  readonly replaces: number | null;
  readonly fact: unknown;
}
export interface FileChange {
  readonly no: number;
  readonly at: string;
  readonly by: string;
  readonly why: string;
  readonly revisions: readonly FileRevision[];
}
export type FileTryout = z.infer<z.ZodObject<typeof tryout>> & { readonly moves: readonly unknown[] };
export type FileLayout = z.infer<z.ZodObject<typeof layout>>;
export type FileOrderPlan = z.infer<z.ZodObject<typeof orderPlan>>;

export interface KitchenFile {
  readonly exportedAt: string;
  readonly kitchen: { readonly id: string; readonly name: string };
  readonly changes: readonly FileChange[];
  readonly tryouts: readonly FileTryout[];
  readonly layouts: readonly FileLayout[];
  readonly orderPlans: readonly FileOrderPlan[];
}

const sentenceFor: z.core.$ZodErrorMap = (issue) => {
  switch (issue.code) {
    case "invalid_type": return issue.input === undefined ? "This is missing." : `This is not ${issue.expected === "int" ? "a whole number" : issue.expected === "object" ? "told field by field" : `${issue.expected === "array" ? "a list" : "text"}`}, as it has to be.`;
    case "unrecognized_keys": return `There is more here than a file of this version has: ${issue.keys.slice(0, 3).map((key) => `“${key.slice(0, 40)}”`).join(", ")}.`;
    case "invalid_value": return `This is one of: ${issue.values.map(String).join(", ")}.`;
    case "invalid_format": return "This is not written as a day (2026-11-24) or a moment (2026-11-25T09:30:00.000Z) is.";
    case "too_small": return "This is less than it can be.";
    default: return "This cannot be read.";
  }
};

const revisionRead = z.strictObject({ ...head, name: z.string().optional(), kind: z.enum(FACT_KINDS), fact: z.unknown() });
const readParts = {
  change: z.strictObject({ ...changeHead, revisions: z.array(revisionRead) }),
  tryout: z.strictObject({ ...tryout, moves: z.array(z.unknown()) }),
  layout: z.strictObject(layout), orderPlan: z.strictObject(orderPlan),
};
const MOST_PROBLEMS = 20;

/**
 * The document in a file’s text. Problems name where: "changes.12.revisions.3.validFrom". Never throws on a bad file.
 */
export function readKitchenFile(text: string): Checked<KitchenFile> {
  let read: unknown;
  try {
    read = JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch {
    const cut = /^\s*\{/.test(text) && !/\}\s*$/.test(text);
    return bad("", "not-json", cut ? "The file was cut off: it ends in the middle. Take the kitchen away once more and open the whole file." : "This is not a kitchen’s file: it is no JSON. Choose the file that “The whole kitchen” gave (its name ends in .json).");
  }
  if (typeof read !== "object" || read === null || Array.isArray(read) || (read as { format?: unknown }).format !== KITCHEN_FORMAT) {
    return bad("format", "not-a-kitchen", "This is not a kitchen’s file: it does not say that it is one. Choose the file that “The whole kitchen” gave.");
  }
  const file = read as Readonly<Record<string, unknown>>;
  if (file["version"] !== KITCHEN_VERSION) {
    const version = typeof file["version"] === "number" ? ` (version ${file["version"]})` : "";
    return bad("version", "other-version", `The file is of another version${version} than this app reads (version ${KITCHEN_VERSION}). Open it with the app that made it, or one that is newer.`);
  }
  const problems: Problem[] = [];
  const part = <T>(schema: z.ZodType<T>, value: unknown, path: string): readonly T[] => {
    const found = schema.safeParse(value, { error: sentenceFor });
    if (found.success) return [found.data];
    for (const issue of found.error.issues) if (problems.length < MOST_PROBLEMS) problems.push({ path: [path, ...issue.path.map(String)].filter((one) => one !== "").join("."), code: issue.code, sentence: issue.message });
    return [];
  };
  const list = <T>(name: string, schema: z.ZodType<T>): readonly T[] => {
    const value = file[name];
    if (!Array.isArray(value)) {
      problems.push({ path: name, code: "missing", sentence: `The list of ${name} is missing.` });
      return [];
    }
    return value.flatMap((one, at) => (problems.length < MOST_PROBLEMS ? part(schema, one, `${name}.${at}`) : []));
  };
  const known = new Set([...Object.keys(start), "changes", "tryouts", "layouts", "orderPlans"]);
  for (const name of Object.keys(file)) if (!known.has(name) && problems.length < MOST_PROBLEMS) problems.push({ path: name.slice(0, 60), code: "unknown", sentence: "A file of this version has no such part." });
  const [begun] = part(z.object(start), file, "");
  const changes = list("changes", readParts.change);
  const tryouts = list("tryouts", readParts.tryout);
  const layouts = list("layouts", readParts.layout);
  const orderPlans = list("orderPlans", readParts.orderPlan);
  if (problems.length > 0 || begun === undefined) return { ok: false, problems };
  if (changes.length === 0) return bad("changes", "nothing", "The file holds no change: a kitchen begins with one, which says what it is called.");
  return good({ exportedAt: begun.exportedAt, kitchen: begun.kitchen, changes, tryouts, layouts, orderPlans });
}

/** What a kitchen’s file begins with, before its first change. */
export function fileBegins({ exportedAt, kitchen }: Pick<KitchenFile, "exportedAt" | "kitchen">): string {
  const told = { format: KITCHEN_FORMAT, version: KITCHEN_VERSION, exportedAt, kitchen, leftOut: LEFT_OUT };
  return `${JSON.stringify(told).slice(0, -1)},\n"changes":[`;
}

/** A list of the document, piece by piece: each on a line, with a comma before all but the first. */
export function fileLines(values: readonly unknown[], first: boolean): string {
  return values.map((value, at) => `${first && at === 0 ? "" : ","}\n${JSON.stringify(value)}`).join("");
}

/** What comes after the last change. */
export function fileEnds(rest: Pick<KitchenFile, "tryouts" | "layouts" | "orderPlans">): string {
  const lists = (["tryouts", "layouts", "orderPlans"] as const).map((name) => `"${name}":[${fileLines(rest[name], true)}${rest[name].length === 0 ? "" : "\n"}]`);
  return `\n],\n${lists.join(",\n")}}\n`;
}
