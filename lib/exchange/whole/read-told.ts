/**
 * A fact as a program or a file gives it, read by the schema that every form passes. Figures are exact there, and a share
 * is a share of one: "1" is the whole, which a person who types 1 into a field would be asked about.
 */
import { type FactKind, type FactOf, readFact } from "@/lib/book";
import { type Checked, type Habits, fileHabits } from "@/lib/measure";

/** Where the shares of a fact stand; "*" is every one of a list. */
const SHARES: Readonly<Partial<Record<FactKind, readonly string[]>>> = {
  kitchen: ["taxRate", "target", "near", "sectionTargets.*.target", "budget.primeCostShare"],
  quote: ["landed.*.of.share"],
  recipe: ["allowances.*.share"],
  dish: ["allowances.*.share"],
  menuPrice: ["taxRate", "target"],
};

export function readTold<K extends FactKind>(kind: K, input: unknown, habits: Habits): Checked<FactOf[K]> {
  const shares = SHARES[kind] ?? [];
  return readFact(kind, shares.reduce((value, path) => wholeAt(value, path.split(".")), input), fileHabits(habits));
}

/** The same value with a share of "1" there written as one cannot misread it. */
function wholeAt(value: unknown, [step, ...rest]: readonly string[]): unknown {
  if (step === undefined) return typeof value === "string" && /^1(?:\.0+)?$/.test(value) ? "100 %" : value;
  if (typeof value !== "object" || value === null) return value;
  if (step === "*") return Array.isArray(value) ? value.map((one) => wholeAt(one, rest)) : value;
  const there = value as Readonly<Record<string, unknown>>;
  if (!Object.hasOwn(there, step)) return value;
  const before = there[step];
  const after = wholeAt(before, rest);
  return after === before ? value : { ...there, [step]: after };
}
