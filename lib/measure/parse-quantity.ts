/**
 * Reading a quantity as a kitchen writes it: 18 lb 6 oz, 18-6, 18# 6, 3 3/8 lb, .75 lb, 6.9 kg, 2 dozen, 1/3 cup, and
 * several goes on the scale with the tub taken off (1 lb 2 oz + 4 lb less 10 oz). A quantity told in two units is kept
 * in the larger, exactly, with what was typed beside it. Where a text has two
 * readings that differ (a range or pounds-ounces, a pack or a fraction) it is refused with both; "2.12" in a pound
 * field is read as it stands, and `otherReadings` names what else it could have meant, so that a screen can ask.
 */
import { type Exact, isExact } from "./decimal";
import { type Habits, isImperial } from "./habits";
import { numberAtStart, quoted, readable, tidy, typedText } from "./parse-number";
import { type Checked, bad, good } from "./problem";
import type { Quantity } from "./quantity";
import { type Ratio, compare, div, floor, fromExact, mul, of, sub, sum, toExact } from "./ratio";
import { type Kind, UNITS, UNIT_NAMES, type Unit, baseFactor, kindOf, unitFromSpelling } from "./units";

export interface QuantityOptions {
  readonly kinds: readonly Kind[];
  /** The unit of a number without one; without it, such a number is refused. */
  readonly bare?: Unit | undefined;
}

interface Term {
  readonly value: Exact;
  readonly unit: Unit;
}

export function parseQuantity(text: string, habits: Habits, options: QuantityOptions): Checked<Quantity> {
  const tidied = readable(text, exampleOf(options.kinds, habits));
  if (!tidied.ok) return tidied;
  const goes = goesOf(tidied.value);
  const whole = goes === null ? termOf(tidied.value, habits, options) : added(goes, tidied.value, habits, options);
  if (!whole.ok) return whole;
  const { value, unit } = whole.value;
  if (!options.kinds.includes(kindOf(unit))) return wrongKind(tidied.value, unit, habits, options.kinds);
  if (!isExact(value)) return bad("", "too-many-digits", `${quoted(text)} has more digits than can be kept: give fewer decimals.`);
  const typed = typedText(text);
  return good(typed === `${value} ${unit}` ? { amount: value, unit } : { amount: value, unit, typed });
}

/** One quantity, of one or more units. */
function termOf(tidied: string, habits: Habits, options: QuantityOptions): Checked<Term> {
  const terms = termsOf(tidied, habits, options);
  return terms.ok ? joined(terms.value) : terms;
}

/** One of several goes on the scale: added, or, behind "less", the tub that is taken off. */
interface Go {
  readonly text: string;
  readonly less: boolean;
}

/** "1 lb 2 oz + 3 lb less 10 oz" taken apart; null where it is one quantity. */
function goesOf(tidied: string): readonly Go[] | null {
  if (/^[\d.,]+e[+-]?\d/i.test(tidied)) return null;
  const pieces = tidied.split(/ ?(\+| less | minus ) ?/i);
  if (pieces.length < 3 || pieces.some((piece) => piece.trim() === "")) return null;
  return pieces.flatMap((text, place) => (place % 2 === 1 ? [] : [{ text, less: place > 0 && pieces[place - 1] !== "+" }]));
}

/** The goes together, in the unit of the first. Each is written with its unit, since 18 lb + 6 could mean ounces or pounds. */
function added(goes: readonly Go[], tidied: string, habits: Habits, options: QuantityOptions): Checked<Term> {
  let total: Ratio | undefined;
  let unit: Unit | undefined;
  for (const { text, less } of goes) {
    const alone = /^[\d .,/-]+$/.test(text);
    if (alone && goes.some((go) => !/^[\d .,/-]+$/.test(go.text))) {
      return bad("", "unit-missing", `${quoted(text)} in ${quoted(tidied)} has no unit: write each weight with its own, such as 1 lb 2 oz + 3 lb.`);
    }
    const term = termOf(text, habits, options);
    if (!term.ok) return term;
    unit ??= term.value.unit;
    if (kindOf(term.value.unit) !== kindOf(unit)) {
      return bad("", "units-do-not-join", `“${unit}” and “${term.value.unit}” do not belong together in one quantity: write every part of it in one kind of unit.`);
    }
    const amount = inUnits(term.value, unit);
    total = total === undefined ? amount : less ? sub(total, amount) : sum([total, amount]);
    if (compare(total, of(0n)) < 0) {
      return bad("", "tare-exceeds-gross", `${quoted(text)} in ${quoted(tidied)} is more than what it is taken from: was the scale tared already?`);
    }
  }
  if (total === undefined || unit === undefined) throw new Error("expected at least one go");
  return good({ value: toExact(total), unit });
}

/** A leading word that stands for a number. */
const WORDS: readonly (readonly [RegExp, string])[] = [
  [/^(?:a )?half (?:an? )?(?=\p{L})/iu, "1/2 "],
  [/^(?:a )?quarter (?:of )?(?:an? )?(?=\p{L})/iu, "1/4 "],
  [/^(?:an?|one) (?=\p{L})/iu, "1 "],
  [/^(?=dozen$|doz\.?$)/iu, "1 "],
];

/** The text taken apart into numbers and their units. */
function termsOf(tidied: string, habits: Habits, options: QuantityOptions): Checked<readonly Term[]> {
  let rest = tidied;
  for (const [word, figure] of WORDS) {
    if (word.test(rest)) {
      rest = rest.replace(word, figure);
      break;
    }
  }
  if (rest.startsWith("-")) return bad("", "negative", `${quoted(tidied)} is below zero: a quantity here is above it.`);
  if (/^# ?\d/.test(rest)) return bad("", "can-size", `${quoted(tidied)} is a can size: write what the can holds, such as 102 oz; for pounds write ${rest.slice(1).trim()} lb.`);
  if (/^[\d.,]+e[+-]?\d+/i.test(rest)) return bad("", "not-a-number", `${quoted(tidied)} is written with an exponent: write the number out in full, such as 18.375.`);
  const hyphened = /^(\d+) ?- ?(?!\d+ ?\/)/.exec(rest);
  if (hyphened) {
    const ounces = rest.slice(hyphened[0].length);
    if (options.bare !== "lb" || !/^[\d /.]+$/.test(ounces)) {
      return bad("", "two-readings", `${quoted(tidied)} could be pounds and ounces, or a range: write 18 lb 6 oz, or one number with its unit.`);
    }
    rest = `${hyphened[1] ?? ""} lb ${ounces}`;
  }
  if (/^\d+ \d{1,2}(?:\.\d+)?$/.test(rest) && options.bare === "lb") {
    const [pounds = "", ounces = ""] = rest.split(" ");
    return bad("", "two-readings", `${quoted(tidied)} could be ${pounds} lb ${ounces} oz or a slip of the thumb: write ${pounds} lb ${ounces} oz, or one number.`);
  }
  const terms: Term[] = [];
  while (rest !== "") {
    if (terms.length === 3) {
      const together = joined(terms);
      return together.ok ? notUnderstood(tidied, habits, options.kinds) : together;
    }
    const number = numberAtStart(rest, habits);
    if (!number.ok) return number.problems[0]?.code === "not-a-number" ? notUnderstood(tidied, habits, options.kinds) : number;
    const figure = rest.slice(0, number.value.length);
    rest = rest.slice(number.value.length).trimStart();
    const found = unitAtStart(rest, habits);
    if (found) {
      rest = rest.slice(found.length).replace(/^ ?(?:,|and\b|&|\+|-)?\s*/i, "");
      terms.push({ value: number.value.value, unit: found.unit });
      continue;
    }
    const unit = rest === "" ? impliedUnit(terms, figure, options.bare) : undefined;
    if (unit === undefined) return rest === "" ? unitMissing(tidied, habits, options.kinds) : unknownUnit(tidied, rest, habits, options.kinds);
    if (terms.length > 0 && /^\d+ ?\/ ?\d+$/.test(figure)) {
      return bad("", "two-readings", `${quoted(tidied)} could end in a part of an ${unit} or of a ${terms.at(-1)?.unit ?? unit}: write the unit behind the fraction too.`);
    }
    if (terms.length === 0 && number.value.improper) {
      return bad("", "two-readings", `${quoted(tidied)} could be a pack or a fraction: write the unit behind it, or the number as a decimal.`);
    }
    terms.push({ value: number.value.value, unit });
  }
  return good(terms);
}

/** The unit of a number without one: the field's own for the first, the next smaller behind pounds, dozens and kilos. */
function impliedUnit(before: readonly Term[], figure: string, bare: Unit | undefined): Unit | undefined {
  const last = before.at(-1)?.unit;
  if (last === undefined) return bare;
  if (last === "lb") return "oz";
  if (last === "dozen") return "each";
  if (last === "kg" && /^\d{3}$/.test(figure)) return "g";
  return undefined;
}

/** US measures that share their bare name with an imperial one, where imperial is what the bare name means. */
const IMPERIAL_OF: Readonly<Partial<Record<Unit, Unit>>> = { "fl oz": "imp fl oz", pt: "imp pt", gal: "imp gal" };
const WORD = /^(?:#|\p{L}+\.?)/u;

/** The longest run of words at the start that names a unit. */
function unitAtStart(text: string, habits: Habits): { readonly unit: Unit; readonly length: number } | undefined {
  let length = 0;
  let best: { unit: Unit; length: number } | undefined;
  for (let words = 0; words < 3; words += 1) {
    const next = WORD.exec(text.slice(length + (text[length] === " " ? 1 : 0)));
    if (!next) break;
    length += next[0].length + (text[length] === " " ? 1 : 0);
    const unit = unitNamed(text.slice(0, length), habits);
    if (unit) best = { unit, length };
    if (next[0] === "#") break;
  }
  return best;
}

/** The unit a kitchen means by a spelling: a bare pint is imperial in Britain and Ireland, and "US pt" says otherwise. */
export function unitNamed(spelling: string, habits: Pick<Habits, "locale">): Unit | undefined {
  const american = /^(?:us|u\.s\.|american) (.+)$/i.exec(spelling.trim());
  const unit = unitFromSpelling(american?.[1] ?? spelling);
  if (unit === undefined) return undefined;
  if (american) return IMPERIAL_OF[unit] || kindOf(unit) === "volume" ? unit : undefined;
  return isImperial(habits) ? (IMPERIAL_OF[unit] ?? unit) : unit;
}

function inUnits(term: Term, unit: Unit): Ratio {
  return div(mul(fromExact(term.value), fromExact(baseFactor(term.unit))), fromExact(baseFactor(unit)));
}

/** Several terms as one amount of the first, largest unit. */
function joined(terms: readonly Term[]): Checked<Term> {
  const [first, ...others] = terms;
  if (!first) throw new Error("expected at least one term");
  if (others.length === 0) return good(first);
  let larger = first;
  for (const term of others) {
    const ratio = kindOf(term.unit) === kindOf(larger.unit) ? div(fromExact(baseFactor(larger.unit)), fromExact(baseFactor(term.unit))) : of(0n);
    if (ratio.d !== 1n || ratio.n < 2n) {
      const clash = term.unit === larger.unit ? `“${term.unit}” stands twice in one quantity` : `“${larger.unit}” and “${term.unit}” do not belong together in one quantity`;
      return bad("", "units-do-not-join", `${clash}: write one unit, or pairs such as 18 lb 6 oz.`);
    }
    if (fromExact(larger.value).d !== 1n) {
      return bad("", "part-told-twice", `${larger.value} ${larger.unit} already holds a part of a ${larger.unit}: write whole ${larger.unit} before the ${term.unit}, or only one of them.`);
    }
    const amount = fromExact(term.value);
    if (compare(amount, ratio) >= 0) {
      const carried = floor(div(amount, ratio));
      const left = toExact(sub(amount, mul(of(carried), ratio)));
      const leftText = left === "0" ? "" : ` ${left} ${term.unit}`;
      const meant = `${(BigInt(toExact(fromExact(larger.value))) + carried).toString()} ${larger.unit}${leftText}`;
      return bad("", "over-one-unit", `${term.value} ${term.unit} is ${carried} ${larger.unit}${leftText}: did you mean ${meant}?`);
    }
    larger = term;
  }
  const value = toExact(sum(terms.map((term) => inUnits(term, first.unit))));
  return good({ value, unit: first.unit });
}

const KIND_WORDS: Readonly<Record<Kind, string>> = { mass: "a weight", volume: "a volume", count: "a count" };

function exampleOf(kinds: readonly Kind[], habits: Pick<Habits, "measures">): string {
  const us = habits.measures === "us";
  const examples: Record<Kind, string> = { mass: us ? "18 lb 6 oz" : "6.9 kg", volume: us ? "4 qt" : "3.5 L", count: "2 dozen" };
  return listed(kinds.map((kind) => examples[kind]));
}

/** "a, b or c". */
function listed(words: readonly string[]): string {
  return words.length < 2 ? (words[0] ?? "") : `${words.slice(0, -1).join(", ")} or ${words.at(-1) ?? ""}`;
}

function wanted(kinds: readonly Kind[]): string {
  return listed(kinds.map((kind) => KIND_WORDS[kind]));
}

/** Says that a unit is of another kind than asked for. An ounce of weight and a fluid ounce are told apart by name. */
function wrongKind(text: string, unit: Unit, habits: Pick<Habits, "measures">, kinds: readonly Kind[]): ReturnType<typeof bad> {
  const hint = unit === "oz" && kinds.includes("volume") ? " For fluid ounces write fl oz." : "";
  return bad("", "wrong-kind", `${quoted(text)} is ${KIND_WORDS[kindOf(unit)]} (${UNITS[unit].one}); ${wanted(kinds)} is needed here, such as ${exampleOf(kinds, habits)}.${hint}`);
}

function notUnderstood(text: string, habits: Habits, kinds: readonly Kind[]): ReturnType<typeof bad> {
  return bad("", "not-a-quantity", `${quoted(text)} is not ${wanted(kinds)} that can be read: write something such as ${exampleOf(kinds, habits)}.`);
}

function unitMissing(text: string, habits: Habits, kinds: readonly Kind[]): ReturnType<typeof bad> {
  return bad("", "unit-missing", `${quoted(text)} has no unit: write it with one, such as ${exampleOf(kinds, habits)}.`);
}

function unknownUnit(text: string, rest: string, habits: Habits, kinds: readonly Kind[]): ReturnType<typeof bad> {
  const word = /^\p{L}+/u.exec(rest)?.[0];
  if (word === undefined) return notUnderstood(text, habits, kinds);
  const known = UNIT_NAMES.filter((unit) => kinds.includes(kindOf(unit))).join(", ");
  return bad("", "unknown-unit", `${quoted(word)} in ${quoted(text)} is not a unit known here: write one of ${known}.`);
}

/**
 * What else the text could have meant, for a screen to ask about; empty when it can be read in one way only. Two cases
 * are known: ounces typed behind a decimal point in a pound field ("2.12": 2 lb 12 oz is 30 % more), and a mark that
 * stands for thousands in this kitchen's locale and for decimals in another's ("1,234").
 */
export function otherReadings(text: string, habits: Habits, options: QuantityOptions): readonly Quantity[] {
  const understood = parseQuantity(text, habits, options);
  if (!understood.ok) return [];
  const others: Quantity[] = [];
  const tidied = tidy(text);
  const decimalPounds = /^(\d+)[.,](0[1-9]|1[0-5])(?: ?(?:lbs?\.?|#))?$/i.exec(tidied);
  if (understood.value.unit === "lb" && decimalPounds) {
    const reading = parseQuantity(`${decimalPounds[1] ?? ""} lb ${Number(decimalPounds[2] ?? "0")} oz`, habits, options);
    if (reading.ok) others.push(reading.value);
  }
  if (/^[1-9]\d{0,2}[.,]\d{3}(?!\d|[.,]\d)/.test(tidied)) {
    const swapped = tidied.replace(/[.,]/, (mark) => (mark === "." ? "," : "."));
    const asWritten = fromExact(understood.value.amount);
    const reading = parseQuantity(swapped, habits, options);
    if (reading.ok && compare(fromExact(reading.value.amount), asWritten) !== 0) others.push(reading.value);
  }
  return others;
}
