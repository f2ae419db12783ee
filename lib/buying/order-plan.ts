/**
 * An order as somebody plans it: for which dishes how many covers, what else is wanted, what is in the house already, and how
 * sure it must be that it suffices. It is no fact and changes nothing of the book: what has to be bought is reckoned anew
 * from the newest book whenever somebody looks.
 */
import { z } from "zod";
import type { Line, LineKind } from "@/lib/book";
import { type Checked, type Exact, type Quantity, type Ratio, UNIT_NAMES, type Unit, bad, good, isExact, ratio } from "@/lib/measure";

export interface PlannedDish {
  readonly key: string;
  readonly dishId: string;
  readonly covers: Exact;
}

export interface OrderPlan {
  readonly dishes: readonly PlannedDish[];
  /** What is wanted beside the dishes: items as purchased, cuts, portions, recipes. */
  readonly lines: readonly Line[];
  /** What is in the house already, as what it is: a case of cream, trimmed loin, portions cut, stock made. */
  readonly onHand: readonly Line[];
  /** How sure it must be that a cut suffices, a share of one above a half; null: the mean yield will do. */
  readonly sureness: Exact | null;
  /** Eaten here or taken away: packaging goes with what is taken away. */
  readonly way: "table" | "away";
  readonly note: string;
}

export const EMPTY_PLAN: OrderPlan = { dishes: [], lines: [], onHand: [], sureness: null, way: "table", note: "" };
/** So many rows of each sort fit one plan. */
export const MOST_ORDER_ROWS = 200;
export const ORDER_NAME_LIMIT = 120;
export const ORDER_NOTE_LIMIT = 2000;
/** Ways to be sure that a page offers. */
export const SURENESSES: readonly string[] = ["0.8", "0.9", "0.95", "0.99"];
/** More covers than this are a slip of the hand. */
const MOST_COVERS: Ratio = ratio.of(1_000_000n);

/** "sureness-out-of-range" where a level is not above a half and below one: a limit that holds half the time is the mean. */
export function readSureness(level: Exact): Checked<Exact> {
  const value = ratio.fromExact(level);
  if (ratio.compare(value, ratio.of(1n, 2n)) > 0 && ratio.compare(value, ratio.ONE) < 0) return good(level);
  return bad("sureness", "sureness-out-of-range", "How sure it must be lies above 50 % and below 100 %: 90 % is usual, and no test makes anybody quite sure.");
}

/** Covers above zero and within reason. */
export function readCovers(covers: Exact): Checked<Exact> {
  const value = ratio.fromExact(covers);
  if (ratio.sign(value) <= 0) return bad("covers", "not-above-zero", "How many are served must be above zero; leave the row blank where the dish is not served.");
  if (ratio.compare(value, MOST_COVERS) > 0) return bad("covers", "too-many", "That is more than a million covers: check the number.");
  return good(covers);
}

const exactText = z.string().refine(isExact).transform((text) => text as Exact);
const shortText = z.string().max(300);
const quantity = z.object({ amount: exactText, unit: z.string().refine((unit) => (UNIT_NAMES as readonly string[]).includes(unit)).transform((unit) => unit as Unit), typed: shortText.optional() });
const line = z.object({
  key: shortText, of: z.object({ kind: z.enum(["item", "cut", "spec", "recipe"] as const satisfies readonly LineKind[]), id: shortText }), quantity, note: shortText.default(""),
});
const plannedDish = z.object({ key: shortText, dishId: shortText, covers: exactText });

/**
 * A plan as it was kept. What cannot be read any more is left out and counted, so that a page can say so: half a plan that
 * passes for a whole one would be bought too little of.
 */
export function readOrderPlan(kept: unknown): { readonly plan: OrderPlan; readonly lost: number } {
  const body: Record<string, unknown> = typeof kept === "object" && kept !== null ? (kept as Record<string, unknown>) : {};
  let lost = 0;
  const rows = <T>(name: string, schema: z.ZodType<T>): readonly T[] => (Array.isArray(body[name]) ? (body[name] as unknown[]) : []).slice(0, MOST_ORDER_ROWS).flatMap((row) => {
    const read = schema.safeParse(row);
    if (!read.success) lost += 1;
    return read.success ? [read.data] : [];
  });
  const lines = (name: string): readonly Line[] => rows(name, line).map(({ quantity: { typed, ...exact }, ...rest }): Line => ({ ...rest, quantity: typed === undefined ? exact : ({ ...exact, typed } satisfies Quantity) }));
  const level = body["sureness"];
  const sure = typeof level === "string" && isExact(level) ? readSureness(level) : null;
  return {
    plan: {
      dishes: rows("dishes", plannedDish), lines: lines("lines"), onHand: lines("onHand"), sureness: sure?.ok === true ? sure.value : null,
      way: body["way"] === "away" ? "away" : "table", note: typeof body["note"] === "string" ? body["note"].slice(0, ORDER_NOTE_LIMIT) : "",
    },
    lost,
  };
}
