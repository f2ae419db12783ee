/**
 * Reading a yield as it is printed in a table or told at the block: 76, 76 % and 0.76 are the same. Unlike other shares a
 * yield may be more than the whole, since rice and pulses take up water: 291 % of what went into the pot. A number between
 * 1 and 4 without a sign could be meant either way, and is asked about.
 */
import type { Exact } from "./decimal";
import type { Habits } from "./habits";
import { parseNumber, quoted, readable } from "./parse-number";
import { type Checked, bad, good } from "./problem";
import { compare, div, fromExact, of, sign, toExact } from "./ratio";

/** Nothing a kitchen cooks weighs more than four times what went in. */
const MOST_TIMES = 4n;

/** Usable (or cooked) over as purchased, a ratio above 0 and at most 4. */
export function parseYield(text: string, habits: Pick<Habits, "locale">): Checked<Exact> {
  const tidied = readable(text, "76 or 76 %");
  if (!tidied.ok) return tidied;
  const percent = /^(.*?) ?(?:%|per ?cent|pct\.?)$/i.exec(tidied.value);
  const number = parseNumber(percent?.[1] ?? tidied.value, habits);
  if (!number.ok) return bad("", number.problems[0]?.code ?? "not-a-number", `${quoted(text)} is not a yield: write how much of a hundred is usable, such as 76 or 76 %.`);
  const value = fromExact(number.value);
  if (sign(value) <= 0) return bad("", "not-above-zero", `A yield of ${quoted(text)} would leave nothing usable: write a number above zero, such as 76.`);
  const bare = percent === null;
  if (bare && compare(value, of(1n)) < 0) return good(number.value);
  if (bare && compare(value, of(MOST_TIMES)) <= 0) return bad("", "two-readings", `${quoted(text)} could be a per cent or so many times the whole: write it with the per cent sign.`);
  if (compare(value, of(MOST_TIMES * 100n)) > 0) {
    return bad("", "yield-too-large", `${quoted(text)} is more than four times the whole: nothing a kitchen cooks yields that much. Write how much of a hundred is usable, such as 76.`);
  }
  return good(toExact(div(value, of(100n))));
}
