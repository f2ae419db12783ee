/**
 * Units of mass, volume and count. Every unit is an exact multiple of its kind's base (gram, millilitre, each), by
 * definition: the international pound is 0.45359237 kg, the US gallon 231 cubic inches (3.785411784 L), the imperial
 * gallon 4.54609 L (NIST Handbook 44, appendix C; UK Weights and Measures Act 1985). An ounce of weight and a fluid
 * ounce are different things: nothing here converts between kinds; that takes a density or an each-weight of the item.
 */
import { type Exact, exact } from "./decimal";

export type Kind = "mass" | "volume" | "count";

interface UnitDefinition {
  readonly kind: Kind;
  /** How many base units (g, mL, each) one of this unit is. */
  readonly base: Exact;
  readonly one: string;
  readonly many: string;
  /** What people write for it, lower case, without full stops. */
  readonly alsoWritten: readonly string[];
}

const mass = (base: string, one: string, alsoWritten: readonly string[], many = one): UnitDefinition => ({
  kind: "mass", base: exact(base), one, many, alsoWritten,
});
const volume = (base: string, one: string, alsoWritten: readonly string[], many = one): UnitDefinition => ({
  kind: "volume", base: exact(base), one, many, alsoWritten,
});
const count = (base: string, one: string, many: string, alsoWritten: readonly string[]): UnitDefinition => ({
  kind: "count", base: exact(base), one, many, alsoWritten,
});

export const UNITS = {
  g: mass("1", "g", ["g", "gr", "gm", "gms", "gram", "grams", "gramme", "grammes"]),
  kg: mass("1000", "kg", ["kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"]),
  oz: mass("28.349523125", "oz", ["oz", "ozs", "ounce", "ounces"]),
  lb: mass("453.59237", "lb", ["lb", "lbs", "pound", "pounds", "#"]),
  mL: volume("1", "mL", ["ml", "mls", "millilitre", "millilitres", "milliliter", "milliliters", "cc"]),
  cL: volume("10", "cL", ["cl", "centilitre", "centilitres", "centiliter", "centiliters"]),
  L: volume("1000", "L", ["l", "lt", "ltr", "litre", "litres", "liter", "liters"]),
  tsp: volume("4.92892159375", "tsp", ["tsp", "tsps", "teaspoon", "teaspoons"]),
  tbsp: volume("14.78676478125", "tbsp", ["tbsp", "tbsps", "tbs", "tablespoon", "tablespoons"]),
  "fl oz": volume("29.5735295625", "fl oz", ["fl oz", "floz", "fluid ounce", "fluid ounces"]),
  cup: volume("236.5882365", "cup", ["cup", "cups", "c"], "cups"),
  pt: volume("473.176473", "pt", ["pt", "pts", "pint", "pints"]),
  qt: volume("946.352946", "qt", ["qt", "qts", "quart", "quarts"]),
  gal: volume("3785.411784", "gal", ["gal", "gals", "gallon", "gallons"]),
  "imp fl oz": volume("28.4130625", "imp fl oz", ["imp fl oz", "imperial fl oz", "imperial fluid ounce"]),
  "imp pt": volume("568.26125", "imp pt", ["imp pt", "imperial pt", "imperial pint", "imperial pints"]),
  "imp gal": volume("4546.09", "imp gal", ["imp gal", "imperial gal", "imperial gallon", "imperial gallons"]),
  each: count("1", "each", "each", ["each", "ea", "ct", "count", "pc", "pcs", "piece", "pieces"]),
  portion: count("1", "portion", "portions", ["portion", "portions", "serving", "servings"]),
  dozen: count("12", "dozen", "dozen", ["dozen", "doz", "dz"]),
} as const satisfies Record<string, UnitDefinition>;

export type Unit = keyof typeof UNITS;
export const UNIT_NAMES = Object.keys(UNITS) as readonly Unit[];
export const BASE_UNIT = { mass: "g", volume: "mL", count: "each" } as const satisfies Record<Kind, Unit>;

export function kindOf(unit: Unit): Kind {
  return UNITS[unit].kind;
}

/** How many base units (g, mL or each) one of `unit` is, exactly. */
export function baseFactor(unit: Unit): Exact {
  return UNITS[unit].base;
}

/** What a kitchen says for one of a unit: a pound, an ounce, a kilo. */
const SPOKEN: Readonly<Partial<Record<Unit, string>>> = {
  g: "gram", kg: "kilo", oz: "ounce", lb: "pound", mL: "millilitre", L: "litre", tsp: "teaspoon", tbsp: "tablespoon", "fl oz": "fluid ounce", pt: "pint", qt: "quart", gal: "gallon", each: "piece",
};

/** One of a unit as it is said: "a pound", "an ounce", "a cup". */
export function oneOf(unit: Unit): string {
  const word = SPOKEN[unit] ?? UNITS[unit].one;
  return `${/^[aeiou]/.test(word) ? "an" : "a"} ${word}`;
}

const BY_SPELLING: ReadonlyMap<string, Unit> = new Map(
  UNIT_NAMES.flatMap((unit) => UNITS[unit].alsoWritten.map((spelling): [string, Unit] => [spelling, unit])),
);

/** The unit that a kitchen's spelling means ("Lbs." → lb, "#" → lb), or undefined when it means none. */
export function unitFromSpelling(spelling: string): Unit | undefined {
  return BY_SPELLING.get(spelling.trim().toLowerCase().replaceAll(".", "").replace(/\s+/g, " "));
}
