/**
 * A standard recipe asked for at another size, and its lines as a kitchen measures them then. What is asked is written as
 * a kitchen writes: "10 qt", "100 portions", "75 portions of 5 oz", "×2", "1/2x". Arithmetic is exact; only what is
 * printed is rounded, to what a scale or a spoon shows, and said to be.
 */
import {
  type Checked, type Exact, type Habits, type Kind, type Quantity, type Ratio, type Unit, bad, baseFactor, good, inBaseExactly, kindOf, parseNumber, parseQuantity, quantityKind, quantityText, ratio,
} from "@/lib/measure";
import { conversionFactor, totalYield } from "./batch";

export interface Make {
  /** New yield over old yield. */
  readonly factor: Exact;
  /** As it was asked for. */
  readonly asked: string;
}

const ANY: readonly Kind[] = ["mass", "volume", "count"];
const LONGEST = 60;
/** Above this a factor is a slip of the hand, not a batch. */
const MOST: Ratio = ratio.of(10_000n);
const WORDS: Readonly<Record<Kind, string>> = { mass: "weight", volume: "volume", count: "portions" };

/** What "make" asks of a recipe with these measured yields. Codes: missing, not-a-batch, other-kind, too-much, and those of the readers. */
export function readMake(text: string, yields: readonly Quantity[], habits: Habits): Checked<Make> {
  const tidy = text.trim();
  if (tidy === "") return bad("make", "missing", "Say how much to make: a quantity, a number of portions, or ×2.");
  if (tidy.length > LONGEST) return bad("make", "not-a-batch", "That is too long to be a quantity: write it as 10 qt, 100 portions or ×2.");
  const times = /^[×x*]\s*(.+)$/i.exec(tidy)?.[1] ?? /^(.+?)\s*(?:[×x*]|times)$/i.exec(tidy)?.[1];
  if (times !== undefined) {
    const read = parseNumber(times, habits);
    if (!read.ok) return bad("make", "not-a-batch", `“${tidy}” is not a number of batches: write ×2 or ×1/2.`);
    return within(read.value, tidy);
  }
  const sized = /^(.+?)\s*(?:portions?|servings?)?\s*(?:of|×|x|at)\s+(.+)$/i.exec(tidy);
  const whole = sized === null ? parseQuantity(tidy, habits, { kinds: ANY, bare: "portion" }) : portionsOf(sized[1] ?? "", sized[2] ?? "", habits);
  if (!whole.ok) return { ok: false, problems: whole.problems.map((problem) => ({ ...problem, path: "make" })) };
  const old = yields.find((one) => quantityKind(one) === quantityKind(whole.value));
  if (old === undefined) {
    return bad("make", "other-kind", `A batch of it is measured as ${yields.map((one) => quantityText(one, habits)).join(", or ")}, not by ${WORDS[quantityKind(whole.value)]}: ask in one of these, or for ×2.`);
  }
  const factor = conversionFactor(old, whole.value);
  return factor === null ? bad("make", "not-a-batch", "A batch is more than nothing.") : within(factor, tidy);
}

function portionsOf(count: string, size: string, habits: Habits): Checked<Quantity> {
  const portions = parseNumber(count, habits);
  if (!portions.ok) return portions;
  const each = parseQuantity(size, habits, { kinds: ["mass", "volume"] });
  return each.ok ? good(totalYield(portions.value, each.value)) : each;
}

function within(factor: Exact, asked: string): Checked<Make> {
  const value = ratio.fromExact(factor);
  if (ratio.sign(value) <= 0) return bad("make", "not-a-batch", "A batch is more than nothing: ask for an amount above zero.");
  if (ratio.compare(value, MOST) > 0) return bad("make", "too-much", "That is more than ten thousand batches: check the amount and its unit.");
  return good({ factor, asked });
}

/** Units that a kitchen steps through, smallest first, the least amount from which each is used, and what it is read to. */
interface Rung { readonly unit: Unit; readonly from: Ratio; readonly step: Ratio }
const rung = (unit: Unit, from: readonly [bigint, bigint], step: readonly [bigint, bigint]): Rung => ({ unit, from: ratio.of(from[0], from[1]), step: ratio.of(step[0], step[1]) });
const LADDERS: readonly (readonly Rung[])[] = [
  [rung("oz", [0n, 1n], [1n, 16n]), rung("oz", [2n, 1n], [1n, 8n]), rung("lb", [1n, 1n], [1n, 64n]), rung("lb", [10n, 1n], [1n, 16n])],
  [rung("tsp", [0n, 1n], [1n, 8n]), rung("tbsp", [1n, 1n], [1n, 2n]), rung("cup", [1n, 4n], [1n, 8n]), rung("qt", [1n, 1n], [1n, 16n]), rung("gal", [4n, 1n], [1n, 16n])],
  [rung("fl oz", [0n, 1n], [1n, 8n])],
  [rung("g", [0n, 1n], [1n, 10n]), rung("g", [10n, 1n], [1n, 1n]), rung("kg", [1n, 1n], [1n, 200n])],
  [rung("mL", [0n, 1n], [1n, 2n]), rung("mL", [20n, 1n], [5n, 1n]), rung("L", [1n, 1n], [1n, 100n])],
];
/** Rounding may move an amount by at most one part in so many before a smaller unit is taken. */
const CLOSE = 100n;

export interface Measured {
  readonly quantity: Quantity;
  /** False where it was rounded to what can be measured. */
  readonly exact: boolean;
}

/** An amount in the unit, and to the step, in which a kitchen would measure it. Counts, and units outside the ladders, stay as they are. */
export function asMeasured(quantity: Quantity): Measured {
  const ladder = LADDERS.find((rungs) => rungs.some(({ unit }) => unit === quantity.unit));
  if (ladder === undefined) return { quantity, exact: true };
  const base = ratio.fromExact(inBaseExactly(quantity));
  let finest: Measured | null = null;
  for (const { unit, from, step } of ladder.toReversed()) {
    const amount = ratio.div(base, ratio.fromExact(baseFactor(unit)));
    if (ratio.compare(amount, from) < 0) continue;
    const rounded = ratio.mul(ratio.of(ratio.floor(ratio.add(ratio.div(amount, step), ratio.of(1n, 2n)))), step);
    const off = ratio.sub(rounded, amount);
    const apart = ratio.sign(off) < 0 ? ratio.neg(off) : off;
    const measured: Measured = { quantity: { amount: ratio.toExact(rounded), unit }, exact: ratio.sign(off) === 0 };
    if (ratio.sign(rounded) > 0) finest = measured;
    if (ratio.compare(ratio.mul(apart, ratio.of(CLOSE)), amount) <= 0) return measured;
  }
  // Less than any spoon shows: told as it is.
  return finest ?? { quantity, exact: true };
}

/** Whole things, eggs and cans, that come out broken: the whole numbers on either side. null: not counted, or whole. */
export function brokenCount(quantity: Quantity): { readonly below: string; readonly above: string } | null {
  if (kindOf(quantity.unit) !== "count") return null;
  const amount = ratio.fromExact(inBaseExactly(quantity));
  const below = ratio.floor(amount);
  return amount.d === 1n ? null : { below: String(below), above: String(below + 1n) };
}
