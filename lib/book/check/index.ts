/**
 * Checks across facts, made before a change is tried or recorded. They look only at what a change touches and at what
 * rests on it, so that one change in a large book costs little. A fact that is merely not known yet (a price, a yield,
 * a density) is no problem here: the cost says what is missing.
 */
import type { Problem } from "@/lib/measure";
import { type Book, type Change, FACT_KINDS, type FactKind, factKey, withChanges } from "../book";
import { quoteKindMatches } from "../costing-quote";
import { kindOf } from "@/lib/measure";
import { cutProblems, specProblems, testProblems } from "./block";
import { cycleThrough, wayRound } from "./cycle";
import { type FactProblem, factName, nounOf } from "./problem";
import { referencesIn } from "./references";

export type { FactProblem } from "./problem";
export { factName } from "./problem";
export { type Reference, referencesIn, referencesOf } from "./references";

/** What is wrong with the book once the changes are laid over it; [] when all is well. */
export function checkChanges(book: Book, changes: readonly Change[]): readonly FactProblem[] {
  const after = withChanges(book, changes);
  const touched = new Map<string, { readonly kind: FactKind; readonly id: string }>();
  const touch = (kind: FactKind, id: string): void => { touched.set(factKey(kind, id), { kind, id }); };
  for (const { kind, id } of changes) touch(kind, id);
  touchWhatRestsOn(after, changes, touch);
  const problems: FactProblem[] = [];
  for (const { kind, id } of touched.values()) problems.push(...factProblems(after, kind, id));
  problems.push(...stillUsed(book, after, changes));
  return problems;
}

/** What is wrong with any fact of the book. */
export function checkBook(book: Book): readonly FactProblem[] {
  return FACT_KINDS.flatMap((kind) => [...book.shelves[kind].keys()].flatMap((id) => factProblems(book, kind, id)));
}

/** A changed item can spoil the tests of it, a changed test the cuts that adopt it, a changed cut its portions. */
function touchWhatRestsOn(after: Book, changes: readonly Change[], touch: (kind: FactKind, id: string) => void): void {
  const of = (kind: FactKind) => new Set(changes.filter((change) => change.kind === kind && change.after !== null).map((change) => change.id));
  const items = of("item");
  const tests = of("test");
  const cuts = of("cut");
  if (items.size > 0) {
    for (const test of after.shelves.test.values()) if (test.of.kind === "item" && items.has(test.of.id)) touch("test", test.id);
    for (const quote of after.shelves.quote.values()) if (items.has(quote.itemId)) touch("quote", quote.id);
  }
  if (tests.size > 0) {
    for (const cut of after.shelves.cut.values()) {
      if (!cut.testIds.some((id) => tests.has(id))) continue;
      touch("cut", cut.id);
      cuts.add(cut.id);
    }
  }
  if (cuts.size > 0) for (const spec of after.shelves.spec.values()) if (cuts.has(spec.cutId)) touch("spec", spec.id);
}

function factProblems(book: Book, kind: FactKind, id: string): readonly FactProblem[] {
  if (!book.shelves[kind].has(id)) return [];
  const of = { kind, id };
  const problems: Problem[] = [];
  for (const reference of referencesIn(book, kind, id)) {
    if (book.shelves[reference.kind].has(reference.id)) continue;
    problems.push({ path: reference.path, code: "not-in-the-book", sentence: `There is no such ${nounOf(reference.kind)} in the book any more: choose another.` });
  }
  if (problems.length > 0) return problems.map((problem) => ({ ...problem, of }));
  const way = cycleThrough(book, kind, id);
  if (way !== null) {
    const path = referencesIn(book, kind, id).find((reference) => reference.madeOf && reference.kind === way[1]?.kind && reference.id === way[1]?.id)?.path ?? "";
    problems.push({ path, code: "cycle", sentence: `${factName(book, kind, id)} would be made of itself: ${wayRound(book, way)}. Take one of these lines out, or put a bought item in its place.` });
  } else problems.push(...ownProblems(book, kind, id));
  return problems.map((problem) => ({ ...problem, of }));
}

function ownProblems(book: Book, kind: FactKind, id: string): readonly Problem[] {
  const { shelves } = book;
  switch (kind) {
    case "quote": {
      const quote = shelves.quote.get(id);
      const item = quote && shelves.item.get(quote.itemId);
      if (!quote || !item || quoteKindMatches(item, quote)) return [];
      const by = { mass: "weight", volume: "volume", count: "count" }[item.kind];
      return [{ path: quote.per === "pack" ? "pack" : "per", code: "wrong-kind", sentence: `${item.name} is costed by ${by}, but this price is told in ${quote.per === "pack" ? quote.pack.size.unit : quote.per}: say what the pack holds by ${by}.` }];
    }
    case "test": {
      const test = shelves.test.get(id);
      return test === undefined ? [] : testProblems(book, test);
    }
    case "cut": {
      const cut = shelves.cut.get(id);
      return cut === undefined ? [] : cutProblems(book, cut);
    }
    case "spec": {
      const spec = shelves.spec.get(id);
      return spec === undefined ? [] : specProblems(book, spec);
    }
    case "recipe": return shelves.recipe.get(id)?.yields.length === 0 ? [{ path: "yields", code: "no-yield", sentence: "Say how much the batch yields: a recipe that yields nothing has no cost." }] : lineProblems(book, "recipe", id);
    case "dish": return lineProblems(book, "dish", id);
    default: return [];
  }
}

/** A line of a portion is a number of portions, or an amount in the kind its size is told in; nothing else makes sense of it. */
function lineProblems(book: Book, kind: "recipe" | "dish", id: string): readonly Problem[] {
  const lines = book.shelves[kind].get(id)?.lines ?? [];
  return lines.flatMap((line, index): readonly Problem[] => {
    if (line.of.kind !== "spec") return [];
    const spec = book.shelves.spec.get(line.of.id);
    const own = kindOf(line.quantity.unit);
    if (spec === undefined || own === "count" || own === kindOf(spec.size.unit)) return [];
    return [{ path: `lines.${index}.quantity`, code: "wrong-kind", sentence: `${spec.name} is counted in portions: write, for example, 1 portion.` }];
  });
}

/** A fact that is taken off while others still need it: told by what needs it. */
function stillUsed(book: Book, after: Book, changes: readonly Change[]): readonly FactProblem[] {
  const gone = new Map(changes.filter((change) => change.after === null && !after.shelves[change.kind].has(change.id)).map((change) => [factKey(change.kind, change.id), change]));
  if (gone.size === 0) return [];
  const users = new Map<string, string[]>();
  for (const kind of FACT_KINDS) {
    for (const id of after.shelves[kind].keys()) {
      for (const reference of referencesIn(after, kind, id)) {
        const key = factKey(reference.kind, reference.id);
        if (gone.has(key)) users.set(key, [...(users.get(key) ?? []), `${nounOf(kind)} ${factName(after, kind, id)}`]);
      }
    }
  }
  return [...users].flatMap(([key, by]): readonly FactProblem[] => {
    const change = gone.get(key);
    if (change === undefined) return [];
    const told = by.length > 3 ? `${by.slice(0, 3).join(", ")} and ${by.length - 3} more` : by.join(", ");
    return [{ path: "", code: "still-used", of: { kind: change.kind, id: change.id }, sentence: `${factName(book, change.kind, change.id)} cannot be taken off the book while it is used by: ${told}. Change those first.` }];
  });
}
