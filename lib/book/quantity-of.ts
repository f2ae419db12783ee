/**
 * A line's quantity in its source's own base, as an exact ratio: grams, millilitres or each of an item or cut, portions
 * of a spec, the share of a recipe's batch. Kinds are crossed only where somebody recorded how: an item's density or
 * each-weight, a second measured yield of a recipe, the size of a portion. Otherwise what is lacking is named.
 */
import { type Kind, type Quantity, type Ratio, BASE_UNIT, kindOf, ratio } from "@/lib/measure";
import { quantityInBase } from "@/lib/yield";
import type { Book, Shelves } from "./book";
import type { Item } from "./item";
import type { Line, LineKind } from "./recipe";

export type LineBase = "g" | "mL" | "each" | "portion" | "batch";
export type LineInBase =
  | { readonly ok: true; readonly amount: Ratio; readonly of: LineBase }
  | { readonly ok: false; readonly missing: "density" | "each-weight" | "yield" | "fact"; readonly of: { readonly kind: LineKind; readonly id: string } };

export function lineInBase(book: Book, line: Line): LineInBase {
  const { of, quantity } = line;
  const kind = kindOf(quantity.unit);
  const amount = quantityInBase(quantity);
  const lacking = (missing: "density" | "each-weight" | "yield" | "fact"): LineInBase => ({ ok: false, missing, of });
  switch (of.kind) {
    case "item": {
      const item = book.shelves.item.get(of.id);
      if (item === undefined) return lacking("fact");
      const crossed = crossKinds(item, quantity, item.kind);
      return typeof crossed === "string" ? lacking(crossed) : { ok: true, amount: crossed, of: BASE_UNIT[item.kind] };
    }
    case "cut": {
      if (!book.shelves.cut.has(of.id)) return lacking("fact");
      const own = cutKind(book, of.id);
      if (own === null) return lacking("yield");
      if (own === kind) return { ok: true, amount, of: BASE_UNIT[own] };
      return lacking(own === "count" || kind === "count" ? "each-weight" : "density");
    }
    case "spec": {
      const spec = book.shelves.spec.get(of.id);
      if (spec === undefined) return lacking("fact");
      if (kind === "count") return { ok: true, amount, of: "portion" };
      if (kindOf(spec.size.unit) !== kind) return lacking("density");
      return { ok: true, amount: ratio.div(amount, quantityInBase(spec.size)), of: "portion" };
    }
    case "recipe": {
      const recipe = book.shelves.recipe.get(of.id);
      if (recipe === undefined) return lacking("fact");
      const batch = recipe.yields.find((measured) => kindOf(measured.unit) === kind);
      return batch === undefined ? lacking("yield") : { ok: true, amount: ratio.div(amount, quantityInBase(batch)), of: "batch" };
    }
  }
}

/** A quantity of an item in the base unit of another kind, through its density and each-weight; or what is lacking. */
export function crossKinds(item: Item, quantity: Quantity, to: Kind): Ratio | "density" | "each-weight" {
  const from = kindOf(quantity.unit);
  const amount = quantityInBase(quantity);
  if (from === to) return amount;
  const density = item.density === null ? null : ratio.fromExact(item.density.gramsPerMl);
  const each = item.eachWeight === null ? null : quantityInBase(item.eachWeight.weight);
  // Every crossing passes through grams.
  let grams = amount;
  if (from === "volume") {
    if (density === null) return "density";
    grams = ratio.mul(amount, density);
  } else if (from === "count") {
    if (each === null) return "each-weight";
    grams = ratio.mul(amount, each);
  }
  if (to === "mass") return grams;
  if (to === "volume") return density === null ? "density" : ratio.div(grams, density);
  return each === null ? "each-weight" : ratio.div(grams, each);
}

/** Kinds of cuts, worked out once for each state of the shelves. */
const kinds = new WeakMap<Shelves, Map<string, Kind | null>>();

/** The kind a cut is measured in: that of its adopted tests, else of its origin; null when it cannot be told. */
export function cutKind(book: Book, cutId: string): Kind | null {
  let known = kinds.get(book.shelves);
  if (known === undefined) kinds.set(book.shelves, (known = new Map()));
  const found = known.get(cutId);
  if (found !== undefined) return found;
  let kind: Kind | null = null;
  let id = cutId;
  const seen = new Set<string>();
  while (!seen.has(id)) {
    seen.add(id);
    const cut = book.shelves.cut.get(id);
    if (cut === undefined) break;
    const test = cut.testIds.map((testId) => book.shelves.test.get(testId)).find((one) => one !== undefined);
    if (test !== undefined) { kind = kindOf(test.billed.unit); break; }
    if (cut.of.kind === "item") { kind = book.shelves.item.get(cut.of.id)?.kind ?? null; break; }
    id = cut.of.id;
  }
  known.set(cutId, kind);
  return kind;
}
