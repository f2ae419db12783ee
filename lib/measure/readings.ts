/**
 * The readings of one part: it often takes several goes on the scale, each in a tub. A reading is what the scale showed
 * (gross) and what the empty tub weighs (tare), or null where the scale was tared under it. The part's weight is the
 * sum of what is left: Σ (gross − tare). A tub that weighs more than tub and meat together is refused, by its go.
 */
import { type Habits } from "./habits";
import { quantityText } from "./print-quantity";
import { type Checked, type Problem, at, bad, good } from "./problem";
import { type Quantity, inBaseExactly } from "./quantity";
import { type Ratio, compare, div, fromExact, sign, sub, sum, toExact } from "./ratio";
import { type ScaleReading, readAtScale } from "./scale-reading";
import { baseFactor, kindOf } from "./units";

export interface Reading {
  readonly gross: Quantity;
  /** What the empty tub weighs; null where the scale was tared under it. */
  readonly tare: Quantity | null;
}

/** What is in the tub, in base units: gross − tare. Problems: tare-exceeds-gross; nothing-in-the-tub; wrong-kind. */
export function netOfReading(reading: Reading, habits: Habits): Checked<Ratio> {
  const { gross, tare } = reading;
  const whole = fromExact(inBaseExactly(gross));
  if (tare === null) return good(whole);
  if (kindOf(tare.unit) !== kindOf(gross.unit)) {
    return bad("tare", "wrong-kind", `The tub is told in ${tare.unit} and the reading in ${gross.unit}: give both as weights.`);
  }
  const net = sub(whole, fromExact(inBaseExactly(tare)));
  const say = (weight: Quantity): string => quantityText(weight, habits);
  if (sign(net) < 0) {
    return bad("tare", "tare-exceeds-gross", `The tub weighs ${say(tare)}, more than the ${say(gross)} read with it on the scale: was the scale tared already, or is this another tub?`);
  }
  if (sign(net) === 0) {
    return bad("gross", "nothing-in-the-tub", `The reading of ${say(gross)} is the weight of the tub alone: weigh it with what belongs in it.`);
  }
  return good(net);
}

/** Σ (gross − tare), told in the unit of the first reading. Problems: those of each reading, at "readings.<n>"; no-readings. */
export function netWeight(readings: readonly Reading[], habits: Habits): Checked<Quantity> {
  const [first] = readings;
  if (first === undefined) return bad("readings", "no-readings", "Nothing has been weighed yet: read the scale.");
  const problems: Problem[] = [];
  const nets: Ratio[] = [];
  readings.forEach((reading, index) => {
    if (kindOf(reading.gross.unit) !== kindOf(first.gross.unit)) {
      problems.push({ path: `readings.${index}.gross`, code: "wrong-kind", sentence: `One reading is in ${reading.gross.unit} and another in ${first.gross.unit}: weigh all of a part in one kind of unit.` });
      return;
    }
    const net = netOfReading(reading, habits);
    if (net.ok) nets.push(net.value);
    else problems.push(...at(`readings.${index}`, net.problems));
  });
  if (problems.length > 0) return { ok: false, problems };
  const { unit } = first.gross;
  const amount = toExact(div(sum(nets), fromExact(baseFactor(unit))));
  const [only] = readings;
  if (only !== undefined && readings.length === 1 && only.tare === null) return good(only.gross);
  const typed = sumText(readings, habits);
  return good(typed === null ? { amount, unit } : { amount, unit, typed });
}

/** How often the scale was read for a part: each go once, and once more for a tub that was weighed. For the scale's tolerance. */
export function weighingsOf(readings: readonly Reading[]): number {
  return readings.reduce((count, reading) => count + (reading.tare === null ? 1 : 2), 0);
}

const MOST_READINGS = 40;

/**
 * Reads several goes as one writes them: "1 lb 2 oz + 3 lb", "4 lb 2 oz less 10 oz + 3 lb", where "less" takes off
 * the tub. Problems: those of `readAtScale`, at "readings.<n>.gross" or ".tare"; too-many-readings.
 */
export function parseReadings(text: string, scale: ScaleReading | null, habits: Habits): Checked<readonly Reading[]> {
  const goes = text.split(/\s*(?:\+|;|\n)\s*/).filter((go) => go.trim() !== "");
  if (goes.length > MOST_READINGS) return bad("readings", "too-many-readings", `These are ${goes.length} readings; at most ${MOST_READINGS} make one part. Add some of them together.`);
  if (goes.length === 0) return bad("readings", "no-readings", "Nothing has been weighed yet: read the scale.");
  const problems: Problem[] = [];
  const readings: Reading[] = [];
  goes.forEach((go, index) => {
    const [whole = "", tub, ...more] = go.split(/\s+(?:less|minus)\s+/i);
    if (more.length > 0) {
      problems.push({ path: `readings.${index}.tare`, code: "two-tubs", sentence: "One go on the scale has one tub: write the weight of both tubs together behind “less”." });
      return;
    }
    const gross = readAtScale(whole, scale, habits);
    const tare = tub === undefined ? null : readAtScale(tub, scale, habits);
    if (!gross.ok) problems.push(...at(`readings.${index}.gross`, gross.problems));
    if (tare !== null && !tare.ok) problems.push(...at(`readings.${index}.tare`, tare.problems));
    if (gross.ok && (tare === null || tare.ok)) readings.push({ gross: gross.value, tare: tare === null ? null : tare.value });
  });
  return problems.length > 0 ? { ok: false, problems } : good(readings);
}

/** "1 lb 2 oz + 3 lb less 10 oz", as it is read back; null where it is longer than what is kept beside a figure. */
function sumText(readings: readonly Reading[], habits: Habits): string | null {
  const say = (weight: Quantity): string => weight.typed ?? quantityText(weight, habits);
  const text = readings.map(({ gross, tare }) => (tare === null ? say(gross) : `${say(gross)} less ${say(tare)}`)).join(" + ");
  return text.length <= 60 ? text : null;
}

/** True when the two weigh the same, whatever unit each is told in. */
export function sameWeight(one: Quantity, other: Quantity): boolean {
  return kindOf(one.unit) === kindOf(other.unit) && compare(fromExact(inBaseExactly(one)), fromExact(inBaseExactly(other))) === 0;
}
