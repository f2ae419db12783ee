/**
 * Reading a share (a food-cost target, a tax rate): 32, 32 % and 0.32 are the same. Kept as a share of one, "0.32".
 * A number below one without a sign is a share already; "1" alone could be one per cent or the whole, and is asked
 * about. More than the whole is refused: a target of 320 % is a slip.
 */
import type { Exact } from "./decimal";
import type { Habits } from "./habits";
import { parseNumber, quoted, readable } from "./parse-number";
import { type Checked, bad, good } from "./problem";
import { compare, div, fromExact, of, toExact } from "./ratio";

export function parseShare(text: string, habits: Pick<Habits, "locale">): Checked<Exact> {
  const tidied = readable(text, "32 or 32 %");
  if (!tidied.ok) return tidied;
  const percent = /^(.*?) ?(?:%|per ?cent|pct\.?)$/i.exec(tidied.value);
  const number = parseNumber(percent?.[1] ?? tidied.value, habits);
  if (!number.ok) {
    return bad("", number.problems[0]?.code ?? "not-a-number", `${quoted(text)} is not a percentage: write a number from 0 to 100, such as 32 or 32 %.`);
  }
  const value = fromExact(number.value);
  if (value.n < 0n) return bad("", "negative", `${quoted(text)} is below zero: write a number from 0 to 100, such as 32.`);
  if (!percent && value.n === 1n && value.d === 1n) {
    return bad("", "two-readings", `${quoted(text)} could be 1 % or 100 %: write it with the per cent sign.`);
  }
  if (!percent && compare(value, of(1n)) < 0) return good(number.value);
  if (compare(value, of(100n)) > 0) {
    return bad("", "share-over-whole", `${quoted(text)} is more than the whole: write a number from 0 to 100, such as 32.`);
  }
  return good(toExact(div(value, of(100n))));
}
