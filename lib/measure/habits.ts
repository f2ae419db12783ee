/**
 * How a kitchen writes: which marks its numbers have, whether it weighs in pounds or kilos, what it pays in. Reading
 * and printing take these; a Kitchen of the book satisfies them.
 */
import { type Kind, type Unit } from "./units";

export interface Habits {
  /** BCP 47, "en-US". */
  readonly locale: string;
  readonly measures: "us" | "metric";
  /** ISO 4217, "USD". */
  readonly currency: string;
}

/** The unit in which a kitchen speaks of a kind when nobody said otherwise: what prices per unit are told in. */
export function customaryUnit(kind: Kind, habits: Pick<Habits, "measures">): Unit {
  if (kind === "count") return "each";
  if (kind === "mass") return habits.measures === "us" ? "lb" : "kg";
  return habits.measures === "us" ? "qt" : "L";
}

/** The smaller unit in which a kitchen tells portions: ounces or grams, fluid ounces or millilitres. */
export function portionUnit(kind: Kind, habits: Pick<Habits, "measures">): Unit {
  if (kind === "count") return "each";
  if (kind === "mass") return habits.measures === "us" ? "oz" : "g";
  return habits.measures === "us" ? "fl oz" : "mL";
}

/**
 * The same habits for text written by a machine or kept in a file: full stop for decimals. "1.034" in a file means
 * a little over one, whatever the kitchen's own marks are.
 */
export function fileHabits(habits: Habits): Habits {
  return { ...habits, locale: "en-US" };
}

/** Where a pint, a gallon or a fluid ounce without a word before it is the imperial one. */
export function isImperial(habits: Pick<Habits, "locale">): boolean {
  return /^(?:en|ga|gd|cy)(?:-[A-Za-z]{4})?-(?:GB|IE)\b/i.test(habits.locale);
}

/** True for a US measure whose bare name means the imperial one in this kitchen: it has to be called "US pt". */
export function needsUS(unit: Unit, habits: Pick<Habits, "locale">): boolean {
  return (unit === "pt" || unit === "gal" || unit === "fl oz") && isImperial(habits);
}
