/**
 * Printing quantities as a kitchen reads them: pounds with ounces and true fractions in a US kitchen ("18 lb 6 oz",
 * "8 11/16 oz", "1/3 cup"), decimals in a metric one. What a person stated is printed without loss; what was worked
 * out is rounded half-up to the scale's step, where one is given, and else to three decimals.
 */
import { type Exact, toDecimal } from "./decimal";
import { type Habits, needsUS } from "./habits";
import { type Printed, printNumber } from "./print-number";
import { type Quantity, inBaseExactly } from "./quantity";
import { type Ratio, add, div, floor, fromExact, mul, of, sub, toExact } from "./ratio";
import { type Unit, UNITS, baseFactor, kindOf } from "./units";

interface PrintOptions {
  /** Smallest step of the scale: the quantity is rounded to it, half-up. */
  readonly step?: Quantity | null | undefined;
}

/** Denominators that a kitchen reads as a fraction; sixteenths are what portion scales are marked in. */
const KITCHEN_FRACTIONS: readonly bigint[] = [2n, 3n, 4n, 8n, 16n];
/** Stated decimals are printed whole up to this many places. */
const MOST_PLACES = 6;
const PLACES_OF_RESULTS = 3;
const SIXTEENTH = of(1n, 16n);
const US_UNITS: ReadonlySet<Unit> = new Set<Unit>(["oz", "lb", "tsp", "tbsp", "fl oz", "cup", "pt", "qt", "gal", "imp fl oz", "imp pt", "imp gal", "each", "portion", "dozen"]);

/** The quantity as figure and unit, in one pair or (pounds and ounces) two. */
export function printQuantity(quantity: Quantity, habits: Habits, options: PrintOptions = {}): readonly Printed[] {
  const amount = stepped(quantity, options.step);
  if (amount.n < 0n) {
    const positive = printAmount({ n: -amount.n, d: amount.d }, quantity.unit, habits);
    return positive.map((pair, place) => (place === 0 ? { ...pair, figure: `-${pair.figure}` } : pair));
  }
  return printAmount(amount, quantity.unit, habits);
}

/** "18 lb 6 oz". */
export function quantityText(quantity: Quantity, habits: Habits, options: PrintOptions = {}): string {
  return printQuantity(quantity, habits, options).map((pair) => `${pair.figure} ${pair.unit}`).join(" ");
}

/** The amount in the quantity's own unit, rounded to the step where there is one of the same kind. */
function stepped(quantity: Quantity, step: Quantity | null | undefined): Ratio {
  const amount = fromExact(quantity.amount);
  if (!step || kindOf(step.unit) !== kindOf(quantity.unit)) return amount;
  const size = fromExact(inBaseExactly(step));
  if (size.n <= 0n) return amount;
  const steps = floor(add(div(fromExact(inBaseExactly(quantity)), size), of(1n, 2n)));
  return div(mul(of(steps), size), fromExact(baseFactor(quantity.unit)));
}

function printAmount(amount: Ratio, unit: Unit, habits: Habits): readonly Printed[] {
  if (unit === "lb" && habits.measures === "us") {
    const pounds = floor(amount);
    const ounces = mul(sub(amount, of(pounds)), of(16n));
    const onTheScale = div(ounces, SIXTEENTH).d === 1n || KITCHEN_FRACTIONS.includes(ounces.d);
    if (onTheScale) {
      const pairs: Printed[] = [];
      if (pounds > 0n || ounces.n === 0n) pairs.push(single(of(pounds), "lb", habits));
      if (ounces.n > 0n) pairs.push(single(ounces, "oz", habits));
      return pairs;
    }
  }
  return [single(amount, unit, habits)];
}

function single(amount: Ratio, unit: Unit, habits: Habits): Printed {
  return { figure: figureOf(amount, unit, habits), unit: unitLabel(unit, amount, habits) };
}

function figureOf(amount: Ratio, unit: Unit, habits: Habits): string {
  const text: Exact = toExact(amount);
  const isRatio = text.includes("/");
  const asFraction = isRatio
    ? amount.d <= 64n
    : habits.measures === "us" && US_UNITS.has(unit) && KITCHEN_FRACTIONS.includes(amount.d);
  if (asFraction) {
    const whole = floor(amount);
    const part = sub(amount, of(whole));
    const wholeText = whole === 0n ? "" : `${whole} `;
    return `${wholeText}${part.n}/${part.d}`;
  }
  const value = toDecimal(text);
  const places = isRatio || value.decimalPlaces() > MOST_PLACES ? PLACES_OF_RESULTS : value.decimalPlaces();
  return trimmed(printNumber(value, habits, { places }), places);
}

/** Without noughts that rounding left at the end. */
function trimmed(figure: string, places: number): string {
  return places === 0 ? figure : figure.replace(/([.,٫]\d*?)0+$/, "$1").replace(/[.,٫]$/, "");
}

/** The unit's word for this amount; where pints are imperial, a US one says so. */
function unitLabel(unit: Unit, amount: Ratio, habits: Habits): string {
  const word = amount.n > amount.d ? UNITS[unit].many : UNITS[unit].one;
  return needsUS(unit, habits) ? `US ${word}` : word;
}
