/**
 * How far a portion may be off its size, as the trade buys portion cuts. The tables below are those of the
 * Institutional Meat Purchase Specifications (USDA AMS, section 3.5.1), set down FROM MEMORY: the section was known to us
 * by its heading only. They agree with the restaurant association's guideline that a 10 oz steak weighs at least
 * 9 1/2 oz before cooking. So they are offered as the usual ones and never filled in by themselves; what a house holds
 * itself to is its own decision, and what a label or a law of weights says comes first.
 *
 *   under 6 oz ± 1/4 oz · 6 to under 12 oz ± 1/2 oz · 12 to under 18 oz ± 3/4 oz · 18 oz and over ± 1 oz
 *   thickness up to 1 in ± 3/16 in · over 1 in ± 1/4 in
 *
 * A metric kitchen is offered the same, converted to whole grams and millimetres.
 */
import { type Checked, type Exact, type Habits, type Quantity, type Ratio, baseFactor, exact, good, kindOf, bad, parseNumber, ratio } from "@/lib/measure";
import { quantityInBase } from "./sheet";

interface Band {
  /** Sizes below this, in ounces; null: everything above the last. */
  readonly below: bigint | null;
  readonly ounces: Exact;
  readonly grams: Exact;
}

const BANDS: readonly Band[] = [
  { below: 6n, ounces: exact("0.25"), grams: exact("7") },
  { below: 12n, ounces: exact("0.5"), grams: exact("14") },
  { below: 18n, ounces: exact("0.75"), grams: exact("21") },
  { below: null, ounces: exact("1"), grams: exact("28") },
];

const OUNCE = ratio.fromExact(baseFactor("oz"));

/** The usual tolerance of a portion of this weight, in ounces or in grams; null for what is not weighed. */
export function usualTolerance(size: Quantity, measures: Habits["measures"]): Quantity | null {
  if (kindOf(size.unit) !== "mass") return null;
  const ounces = ratio.div(quantityInBase(size), OUNCE);
  if (ratio.sign(ounces) <= 0) return null;
  const band = BANDS.find(({ below }) => below === null || ratio.compare(ounces, ratio.of(below)) < 0);
  if (band === undefined) return null;
  return measures === "us" ? { amount: band.ounces, unit: "oz" } : { amount: band.grams, unit: "g" };
}

/** Lengths that a kitchen says a thickness in, as inches. */
const INCHES: readonly (readonly [RegExp, Ratio])[] = [
  [/(?:in|inch|inches|["″])\.?$/i, ratio.ONE],
  [/cm\.?$/i, ratio.of(50n, 127n)],
  [/mm\.?$/i, ratio.of(5n, 127n)],
];

/** "1 1/8 in", "28 mm" as inches. Problem: not-a-thickness, for words. */
export function thicknessInInches(text: string, habits: Pick<Habits, "locale">): Checked<Ratio> {
  const tidy = text.trim();
  for (const [ending, inches] of INCHES) {
    if (!ending.test(tidy)) continue;
    const number = parseNumber(tidy.replace(ending, "").trim(), habits);
    if (number.ok) return good(ratio.mul(ratio.fromExact(number.value), inches));
  }
  return bad("thickness", "not-a-thickness", "A thickness is told in inches, centimetres or millimetres, such as 1 1/8 in.");
}

/** What a thickness may usually be off by, as text: "3/16 in", or in a metric kitchen "5 mm"; null where the thickness is told in words. */
export function usualThicknessTolerance(thickness: string, habits: Pick<Habits, "locale" | "measures">): string | null {
  const inches = thicknessInInches(thickness, habits);
  if (!inches.ok || ratio.sign(inches.value) <= 0) return null;
  const thin = ratio.compare(inches.value, ratio.ONE) <= 0;
  if (habits.measures === "us") return thin ? "3/16 in" : "1/4 in";
  return thin ? "5 mm" : "6 mm";
}

/** The least and the most a portion may weigh. */
export interface Limits {
  readonly least: Ratio;
  readonly most: Ratio;
}

/** size − tolerance and size + tolerance, in base units (g, mL, each). */
export function limitsOf(size: Quantity, tolerance: Quantity): Limits {
  const middle = quantityInBase(size);
  const off = quantityInBase(tolerance);
  return { least: ratio.sub(middle, off), most: ratio.add(middle, off) };
}
