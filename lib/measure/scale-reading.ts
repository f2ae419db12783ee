/**
 * How the scale reads, and a weight read off it. Asked once, it settles what a bare number means: on a scale of pounds
 * and ounces "18 6" is 18 lb 6 oz, on one of decimal pounds "18.6" is 18.6 lb. Where the figure does not look like
 * what such a scale shows ("18.6" on pounds and ounces, "18-6" on decimal pounds), or its mark could stand for
 * thousands or for decimals, it is asked about: a problem with the readings as choices, never a silent guess. A weight
 * written with its unit is taken as written. What was understood is echoed at once: "18 lb 6 oz = 18.375 lb".
 */
import { toDecimal } from "./decimal";
import { type Habits, customaryUnit } from "./habits";
import { marksOf, quoted, readable, tidy } from "./parse-number";
import { parseQuantity } from "./parse-quantity";
import { printNumber } from "./print-number";
import { quantityText } from "./print-quantity";
import { type Problem, bad } from "./problem";
import { type Quantity, amountIn } from "./quantity";
import type { Unit } from "./units";

export const SCALE_READINGS = ["lb and oz", "decimal lb", "oz", "kg", "g"] as const;
export type ScaleReading = (typeof SCALE_READINGS)[number];

const UNIT_OF_SCALE: Readonly<Record<ScaleReading, Unit>> = { "lb and oz": "lb", "decimal lb": "lb", oz: "oz", kg: "kg", g: "g" };

/** The unit of a bare number on such a scale; where nobody has said how it reads, the kitchen's own pounds or kilos. */
export function unitOfScale(scale: ScaleReading | null, habits: Pick<Habits, "measures">): Unit {
  return scale === null ? customaryUnit("mass", habits) : UNIT_OF_SCALE[scale];
}

/** One of the readings that a figure has: `text` is what stands in the field when it is chosen, and is read in one way only. */
export interface ScaleChoice {
  readonly text: string;
  readonly quantity: Quantity;
}

/** A weight with its echo, or what is wrong; where it has two readings, these as choices, the likelier first. Fits `Checked<Quantity>`. */
export type ReadAtScale =
  | { readonly ok: true; readonly value: Quantity; readonly echo: string }
  | { readonly ok: false; readonly problems: readonly Problem[]; readonly choices: readonly ScaleChoice[] };

/** 18-6 and 18 6, with nothing to say what the second number counts. */
const TWO_NUMBERS = /^(\d+)(?: ?- ?| )(\d{1,2}(?:[.,]\d{1,2})?)$/;
/** One number with a mark in it. */
const MARKED = /^(\d*)([.,])(\d+)$/;

/**
 * Reads a weight off a scale; `scale` is null where nobody has said how it reads. Problems: two-readings (with its
 * choices), and those of `parseQuantity`.
 */
export function readAtScale(text: string, scale: ScaleReading | null, habits: Habits): ReadAtScale {
  const tidied = readable(text, exampleOf(scale, habits));
  if (!tidied.ok) return { ...tidied, choices: [] };
  const bare = unitOfScale(scale, habits);
  const figure = tidied.value;

  const pair = TWO_NUMBERS.exec(figure);
  if (pair) return pairAtScale(figure, pair[1] ?? "", pair[2] ?? "", scale, habits);
  const asked = marksAsked(figure, scale, bare, habits) ?? ouncesAsked(figure, scale, bare, habits);
  if (asked !== null) return asked;
  return understood(figure, bare, habits);
}

/** A bare number is kept with the scale's unit behind it, so that it is read the same where nobody knows the scale. */
function understood(figure: string, bare: Unit, habits: Habits): ReadAtScale {
  const asked = parseQuantity(figure, habits, { kinds: ["mass"], bare });
  const read = asked.ok && /^[\d .,/]+$/.test(figure) ? parseQuantity(`${figure} ${bare}`, habits, { kinds: ["mass"] }) : asked;
  return read.ok ? { ...read, echo: weightEcho(read.value, habits) } : { ...read, choices: [] };
}

/** Two bare numbers: pounds and ounces where the scale shows them; elsewhere the hyphen or the gap may be a point. */
function pairAtScale(figure: string, first: string, second: string, scale: ScaleReading | null, habits: Habits): ReadAtScale {
  const bare = unitOfScale(scale, habits);
  const inPounds = `${first} lb ${second} oz`;
  const hyphened = figure.includes("-");
  if (scale === "lb and oz" || (scale === null && bare === "lb" && hyphened)) {
    const read = parseQuantity(inPounds, habits, { kinds: ["mass"] });
    if (!read.ok) return { ...read, choices: [] };
    return { ...read, echo: weightEcho(read.value, habits) };
  }
  // 1 234 g: a gap between thousands is no gap between two numbers.
  if (!/^\d{1,2}$/.test(second)) return understood(figure, bare, habits);
  const { decimal } = marksOf(habits.locale);
  const asDecimal = `${first}${decimal}${second} ${bare}`;
  const texts = scale === null ? [inPounds, asDecimal] : [asDecimal, inPounds];
  return ask(figure, texts, habits, "the gap could be between pounds and ounces, or a decimal mark");
}

/** "1.234" where the mark stands between thousands in this kitchen: a scale of kilos that shows 1.234 is likelier than 1234 of them. */
function marksAsked(figure: string, scale: ScaleReading | null, bare: Unit, habits: Habits): ReadAtScale | null {
  const withUnit = /^(.*?) ?(kg|g|lb|oz)?$/i.exec(figure);
  const marked = MARKED.exec(withUnit?.[1] ?? figure);
  if (!marked) return null;
  const [, head = "", mark, tail = ""] = marked;
  if (!/^[1-9]\d{0,2}$/.test(head) || tail.length !== 3) return null;
  const unit = withUnit?.[2]?.toLowerCase() ?? bare;
  const { decimal, group } = marksOf(habits.locale);
  // Grams have no thousandth part on a kitchen scale, so there the mark between thousands is what it seems.
  const doubtful = unit === "g" ? mark === decimal && scale === "g" : mark === group && mark !== decimal;
  if (!doubtful) return null;
  const asDecimal = `${head}${decimal}${tail} ${unit}`;
  const asThousands = `${head}${tail} ${unit}`;
  // A decimal of three places with its unit, in the kitchen's own mark, is taken as written.
  if (mark === decimal && withUnit?.[2] !== undefined) return null;
  return ask(figure, unit === "g" ? [asThousands, asDecimal] : [asDecimal, asThousands], habits, "its mark could stand for decimals or for thousands");
}

/**
 * "2.12" where the scale may show ounces. Two digits from 01 to 15 have two readings, 30 % apart; one digit has them on
 * a scale of pounds and ounces, and elsewhere is a decimal; 16 to 99 can only be a decimal.
 */
function ouncesAsked(figure: string, scale: ScaleReading | null, bare: Unit, habits: Habits): ReadAtScale | null {
  if (bare !== "lb" || scale === "decimal lb") return null;
  const marked = MARKED.exec(figure);
  if (!marked) return null;
  const [, head = "", , tail = ""] = marked;
  const ounces = Number(tail);
  const couldBe = tail.length === 1 ? scale === "lb and oz" && ounces > 0 : tail.length === 2 && ounces >= 1 && ounces <= 15;
  if (!couldBe || head === "") return null;
  const { decimal } = marksOf(habits.locale);
  const asDecimal = `${head}${decimal}${tail} lb`;
  const asOunces = /^0+$/.test(head) ? `${ounces} oz` : `${head} lb ${ounces} oz`;
  return ask(figure, scale === "lb and oz" ? [asOunces, asDecimal] : [asDecimal, asOunces], habits, "what follows the mark could be ounces or a part of a pound");
}

function ask(figure: string, texts: readonly string[], habits: Habits, why: string): ReadAtScale {
  const choices = texts.flatMap((text): readonly ScaleChoice[] => {
    const read = parseQuantity(text, habits, { kinds: ["mass"] });
    return read.ok ? [{ text, quantity: read.value }] : [];
  });
  // Where one reading is impossible (18 lb 17 oz) the other is still only likely.
  if (choices.length < 2) return { ...bad("", "unclear", `${quoted(figure)} is no weight as it stands: did you mean ${choices[0]?.text ?? "another figure"}?`), choices };
  return { ...bad("", "two-readings", `${quoted(figure)} has two readings, since ${why}: ${choices.map((choice) => choice.text).join(", or ")}?`), choices };
}

function exampleOf(scale: ScaleReading | null, habits: Habits): string {
  const { decimal } = marksOf(habits.locale);
  switch (scale) {
    case "lb and oz": return "18 lb 6 oz";
    case "decimal lb": return `18${decimal}38`;
    case "oz": return `34${decimal}5`;
    case "g": return "850";
    case "kg": return `6${decimal}9`;
    case null: return habits.measures === "us" ? "18 lb 6 oz" : `6${decimal}9 kg`;
  }
}

/**
 * What was understood, told both ways where a second one helps: "18 lb 6 oz = 18.375 lb", "18.6 lb = 18 lb 9.6 oz",
 * "34 oz = 2 lb 2 oz", "1850 g = 1.85 kg". Rounded to hundredths of an ounce, told by "≈".
 */
export function weightEcho(weight: Quantity, habits: Habits): string {
  const { unit } = weight;
  const decimals = `${printNumber(toDecimal(weight.amount), habits, { places: Math.min(toDecimal(weight.amount).decimalPlaces(), 4) })} ${unit}`;
  if (unit === "lb" || unit === "oz") {
    const ounces = amountIn(weight, "oz");
    const rounded = ounces.toDecimalPlaces(2);
    const pounds = rounded.divToInt(16);
    const rest = rounded.minus(pounds.mul(16));
    const whole = `${printNumber(pounds, habits)} lb`;
    const pair = pounds.isZero() ? `${printNumber(rest, habits)} oz` : rest.isZero() ? whole : `${whole} ${printNumber(rest, habits)} oz`;
    if (pair === decimals || (unit === "oz" && pounds.isZero())) return decimals;
    const sign = ounces.eq(rounded) ? "=" : "≈";
    return isDecimalText(weight) ? `${decimals} ${sign} ${pair}` : `${pair} ${sign} ${decimals}`;
  }
  if (unit === "g" && toDecimal(weight.amount).gte(1000)) return `${decimals} = ${printNumber(amountIn(weight, "kg"), habits)} kg`;
  return quantityText({ amount: weight.amount, unit }, habits);
}

/** True where a weight was written as one plain number, which its echo then begins with. */
function isDecimalText(weight: Quantity): boolean {
  return weight.typed === undefined || /^[\d.,]+ ?(?:lbs?\.?|#|oz\.?|pounds?|ounces?)?$/i.test(tidy(weight.typed));
}
