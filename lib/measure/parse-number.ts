/**
 * Reading one number as a kitchen writes it: 7.10, 1,234.5, 1.234,5, 1 234,5, .75, 3/8, 18 3/8, 18-3/8, ¾. Which mark
 * is the decimal one follows the kitchen's locale wherever two readings are possible ("1,234"), and the number itself
 * wherever only one is ("1,5" can hold no group of thousands). Nothing here throws on what people type: every refusal
 * is a sentence.
 */
import { type Exact, exact, isExact } from "./decimal";
import type { Habits } from "./habits";
import { type Checked, bad, good } from "./problem";
import { add, fromExact, neg, of, toExact } from "./ratio";

/** Longer than anything a person writes in a number field; checked before anything else looks at the text. */
export const LONGEST_TYPED = 120;
const MOST_WHOLE_DIGITS = 12;
const MOST_DECIMALS = 20;

const VULGAR: Readonly<Record<string, string>> = {
  "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
  "⅙": "1/6", "⅚": "5/6", "⅐": "1/7", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅑": "1/9", "⅒": "1/10",
};

/**
 * The text with one spelling for each mark: plain digits, spaces, hyphens, apostrophes and fraction strokes; invisible
 * marks (direction, joiners) taken out. The caller has checked the length.
 */
export function tidy(text: string): string {
  return text
    .replace(/[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒]/g, (sign) => ` ${VULGAR[sign] ?? sign} `)
    // Raised digits before a stroke begin a fraction: 1³⁄₄ is one and three quarters, not thirteen quarters.
    .replace(/[⁰¹²³⁴-⁹]+\s*[⁄∕/]/g, (raised) => ` ${raised}`)
    .normalize("NFKC")
    .replace(/[\p{Cf}\p{Cc}]/gu, (mark) => (/\s/.test(mark) ? " " : ""))
    .replace(/[\u0660-\u0669\u06F0-\u06F9]/g, (digit) => String((digit.codePointAt(0) ?? 0) & 0xf))
    .replace(/[⁄∕]/g, "/")
    .replace(/[\u2010-\u2015\u2212]/g, "-")
    .replace(/[\u2018\u2019\u02BC`´]/g, "'")
    .replace(/٫/g, ".")
    .replace(/[٬،]/g, "'")
    .replace(/\s+/g, " ")
    .trim();
}

/** What was typed, short enough to stand in a sentence. */
export function quoted(text: string): string {
  const short = text.replace(/[\p{Cf}\p{Cc}]/gu, " ").replace(/\s+/g, " ").trim();
  return `“${short.length > 40 ? `${short.slice(0, 40)}…` : short}”`;
}

/** What was typed, as it is kept beside what was understood: invisible marks out, at most 60 characters. */
export function typedText(text: string): string {
  return text.replace(/\p{Cf}/gu, "").replace(/[\p{Cc}\s]+/gu, " ").trim().slice(0, 60);
}

interface Marks {
  readonly decimal: string;
  readonly group: string;
}
const marksByLocale = new Map<string, Marks>();

/** The decimal mark and the mark between thousands of a locale; those of English where the locale is not known. */
export function marksOf(locale: string): Marks {
  const known = marksByLocale.get(locale);
  if (known) return known;
  let marks: Marks = { decimal: ".", group: "," };
  try {
    const parts = new Intl.NumberFormat(locale, { numberingSystem: "latn", useGrouping: true }).formatToParts(1234567.5);
    marks = {
      decimal: parts.find((part) => part.type === "decimal")?.value ?? ".",
      group: parts.find((part) => part.type === "group")?.value ?? ",",
    };
  } catch {
    // Not a locale at all: the kitchen's own settings are checked where they are made.
  }
  marksByLocale.set(locale, marks);
  return marks;
}

/** A number found at the start of a text: its exact value and how many characters it took. */
export interface FoundNumber {
  readonly value: Exact;
  readonly length: number;
  /** A fraction of one or more wholes without a whole number before it: "12/5", which may be a pack. */
  readonly improper: boolean;
}

const MIXED = /^(\d+)(?: | ?- ?)(\d+) ?\/ ?(\d+)/;
const FRACTION = /^(\d+) ?\/ ?(\d+)/;
const SPACED = /^\d{1,3}(?:[ ']\d{3})+(?!\d)(?:[.,]\d+)?/;
const PLAIN = /^(?:\d+(?:[.,]\d+)*\.?|[.,]\d+)/;

/** Reads an unsigned number at the start of a tidied text. */
export function numberAtStart(text: string, habits: Pick<Habits, "locale">): Checked<FoundNumber> {
  const mixed = MIXED.exec(text);
  if (mixed) return fraction(mixed[0], mixed[1] ?? "0", mixed[2] ?? "", mixed[3] ?? "");
  const simple = FRACTION.exec(text);
  if (simple) return fraction(simple[0], null, simple[1] ?? "", simple[2] ?? "");
  const plain = SPACED.exec(text) ?? PLAIN.exec(text);
  if (!plain) return bad("", "not-a-number", `${quoted(text)} does not begin with a number: write one such as 18.375 or 3 3/8.`);
  const token = plain[0];
  const value = decimalOf(token, habits);
  return value.ok ? good({ value: value.value, length: token.length, improper: false }) : value;
}

function fraction(token: string, whole: string | null, over: string, under: string): Checked<FoundNumber> {
  if (over.length > 6 || under.length > 6 || (whole ?? "").length > MOST_WHOLE_DIGITS) {
    return bad("", "too-many-digits", `${quoted(token)} has more digits than a kitchen fraction: write it as a decimal, such as 18.375.`);
  }
  const denominator = BigInt(under);
  if (denominator === 0n) return bad("", "zero-denominator", `${quoted(token)} divides by zero: the number under the stroke has to be 1 or more.`);
  const numerator = BigInt(over);
  if (whole !== null && numerator >= denominator) {
    return bad("", "fraction-over-one", `The fraction in ${quoted(token)} is one or more: write it as a smaller fraction, such as 18 3/8.`);
  }
  const value = toExact(add(of(BigInt(whole ?? "0")), of(numerator, denominator)));
  return good({ value, length: token.length, improper: whole === null && numerator >= denominator });
}

/** Reads a token of digits and marks. */
function decimalOf(token: string, habits: Pick<Habits, "locale">): Checked<Exact> {
  const ungrouped = token.replace(/[ ']/g, "");
  const spaced = ungrouped.length !== token.length;
  const marks = [...ungrouped].filter((letter) => letter === "." || letter === ",");
  const last = marks.at(-1);
  if (last === undefined) return figure(ungrouped, "", token);
  const cut = ungrouped.lastIndexOf(last);
  const head = ungrouped.slice(0, cut);
  const tail = ungrouped.slice(cut + 1);
  if (marks.length === 1) {
    const locale = marksOf(habits.locale);
    const grouped = !spaced && last !== locale.decimal && last === locale.group && /^[1-9]\d{0,2}$/.test(head) && tail.length === 3;
    return grouped ? figure(head + tail, "", token) : figure(head, tail, token);
  }
  const other = last === "." ? "," : ".";
  const groupMark = marks.every((mark) => mark === last) ? last : other;
  const wholeText = groupMark === last ? ungrouped : head;
  const groups = wholeText.split(groupMark);
  const well =
    marks.filter((mark) => mark === last).length === (groupMark === last ? marks.length : 1) &&
    /^\d{1,3}$/.test(groups[0] ?? "") && groups.at(-1)?.length === 3 && groups.slice(1).every((group) => /^\d{2,3}$/.test(group));
  if (!well) {
    return bad("", "not-a-number", `${quoted(token)} has its marks where no number has them: write 1234.5, or 1,234.5.`);
  }
  return groupMark === last ? figure(groups.join(""), "", token) : figure(groups.join(""), tail, token);
}

function figure(whole: string, decimals: string, token: string): Checked<Exact> {
  const digits = whole.replace(/^0+(?=\d)/, "") || "0";
  if (digits.length > MOST_WHOLE_DIGITS) {
    return bad("", "too-large", `${quoted(token)} is larger than any kitchen figure: at most ${MOST_WHOLE_DIGITS} digits before the decimal mark.`);
  }
  if (decimals.length > MOST_DECIMALS) {
    return bad("", "too-many-digits", `${quoted(token)} has ${decimals.length} digits after the decimal mark: ${MOST_DECIMALS} are enough.`);
  }
  return good(exact(decimals === "" ? digits : `${digits}.${decimals}`));
}

/** Length and emptiness, told before anything else is tried. `example` finishes "write one such as …". */
export function readable(text: string, example: string): Checked<string> {
  if (text.length > LONGEST_TYPED) {
    const trimmed = text.trim();
    if (trimmed.length > LONGEST_TYPED) {
      return bad("", "too-long", `This is ${trimmed.length.toLocaleString("en-US")} characters long; write something such as ${example}.`);
    }
    text = trimmed;
  }
  const tidied = tidy(text);
  return tidied === "" ? bad("", "missing", `Nothing is written here: write something such as ${example}.`) : good(tidied);
}

const EXPONENT = /^[+-]?[\d.,]+e[+-]?\d+$/i;

/** A number that may have a sign. "1/3" is kept as a ratio; "7.10" keeps its last nought. */
export function parseNumber(text: string, habits: Pick<Habits, "locale">): Checked<Exact> {
  const tidied = readable(text, "18.375 or 3 3/8");
  if (!tidied.ok) return tidied;
  if (EXPONENT.test(tidied.value)) {
    return bad("", "not-a-number", `${quoted(text)} is written with an exponent: write the number out in full, such as 18.375.`);
  }
  const negative = tidied.value.startsWith("-");
  const unsigned = tidied.value.replace(/^[+-] ?/, "");
  const found = numberAtStart(unsigned, habits);
  if (!found.ok || found.value.length !== unsigned.length) {
    if (!found.ok && found.problems[0]?.code !== "not-a-number") return found;
    return bad("", "not-a-number", `${quoted(text)} is not a number: write one such as 18.375 or 3 3/8.`);
  }
  return good(negative ? negated(found.value.value) : found.value.value);
}

function negated(value: Exact): Exact {
  if (/^[0.]+$/.test(value)) return value;
  const text = `-${value}`;
  return isExact(text) ? text : toExact(neg(fromExact(value)));
}
