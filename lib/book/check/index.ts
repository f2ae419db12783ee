/**
 * Checks across facts, made before a change is tried or recorded. They look only at what a change touches and at what
 * rests on it, so that one change in a large book costs little. A fact that is merely not known yet (a price, a yield,
 * a density) is no problem here: the cost says what is missing.
 */
import { type Problem, kindOf, ratio } from "@/lib/measure";
import { type Book, type Change, FACT_KINDS, type FactKind, factKey, withChanges } from "../book";
import { doorRate, quoteKindMatches } from "../costing-quote";
import type { Allowance } from "../recipe";
import { cutProblems, specProblems, testProblems } from "./block";
import { type FactRef, cyclesFrom, wayRound } from "./cycle";
import { type FactProblem, factName, nounOf } from "./problem";
import { referencesIn } from "./references";
import { usersOf } from "./users";

export type { FactRef } from "./cycle";
export type { FactProblem } from "./problem";
export { factName, nounOf } from "./problem";
export { type Reference, referencesIn, referencesOf } from "./references";
export { usersOf } from "./users";

/** What is wrong with the book once the changes are laid over it; [] when all is well. */
export function checkChanges(book: Book, changes: readonly Change[]): readonly FactProblem[] {
  const after = withChanges(book, changes);
  const changed = new Map(changes.map(({ kind, id }) => [factKey(kind, id), { kind, id }]));
  const settings = [...settingsProblems(after, [...changed.values()]), ...currencyProblems(book, after, [...changed.values()]), ...markProblems(book, after, [...changed.values()])];
  if (settings.length > 0) return settings;
  return [...factProblems(after, [...changed.values()], restingOn(book, after, changed)), ...stillUsed(book, after, changed)];
}

/** A book is of one kitchen, whose settings everything in it is read and printed by: they may change, not go, and no others join them. */
function settingsProblems(after: Book, changed: readonly FactRef[]): readonly FactProblem[] {
  return changed.filter(({ kind }) => kind === "kitchen").flatMap((of): readonly FactProblem[] => {
    if (of.id !== after.kitchenId) return [{ of, path: "", code: "another-kitchen", sentence: "This book is of one kitchen, and these are another one's settings: change them in that kitchen." }];
    if (after.shelves.kitchen.has(of.id)) return [];
    return [{ of, path: "", code: "no-settings", sentence: "The kitchen's own settings cannot be taken off its book: change them instead, from a day on which they already apply." }];
  });
}

/** Prices are plain amounts of the kitchen's one currency: another currency would make other prices of them without a word. */
function currencyProblems(book: Book, after: Book, changed: readonly FactRef[]): readonly FactProblem[] {
  return changed.filter(({ kind, id }) => kind === "kitchen" && id === after.kitchenId).flatMap((of): readonly FactProblem[] => {
    const was = book.shelves.kitchen.get(of.id)?.currency;
    const is = after.shelves.kitchen.get(of.id)?.currency;
    if (was === undefined || is === undefined || was === is || !hasPrices(after)) return [];
    return [{ of, path: "currency", code: "prices-stand", sentence: `There are prices in ${was} in this book, and nobody has said what they are in ${is}: leave it at ${was}, or open another kitchen that pays in ${is}.` }];
  });
}

/** Forms are filled with figures as they were typed: with another decimal mark 12.345 would come back as twelve thousand. */
function markProblems(book: Book, after: Book, changed: readonly FactRef[]): readonly FactProblem[] {
  return changed.filter(({ kind, id }) => kind === "kitchen" && id === after.kitchenId).flatMap((of): readonly FactProblem[] => {
    const was = book.shelves.kitchen.get(of.id)?.locale;
    const is = after.shelves.kitchen.get(of.id)?.locale;
    const { shelves } = after;
    const hasFigures = hasPrices(after) || shelves.test.size > 0 || shelves.spec.size > 0 || shelves.recipe.size > 0 || shelves.dish.size > 0 || shelves.item.size > 0;
    if (was === undefined || is === undefined || half(was) === half(is) || !hasFigures) return [];
    return [{ of, path: "locale", code: "figures-stand", sentence: `Figures in this book were typed the way ${was} writes them (${half(was)}), and ${is} writes ${half(is)}: typed figures would read otherwise. Choose a way of writing with the same mark.` }];
  });
}

/** One and a half as a locale writes it: its decimal mark. */
function half(locale: string): string {
  return new Intl.NumberFormat(locale, { numberingSystem: "latn" }).format(1.5);
}

/** Whether any amount of money is written down but the budget, which stands in the same form as the currency. */
function hasPrices({ shelves }: Book): boolean {
  const someReckoned = (dishes: Iterable<{ readonly allowances: readonly Allowance[] }>): boolean => [...dishes].some(({ allowances }) => allowances.some(({ kind }) => kind === "money"));
  return shelves.quote.size > 0 || shelves.menuPrice.size > 0
    || [...shelves.test.values()].some((test) => test.price !== null || test.parts.some((part) => part.value?.kind === "typed" || part.marketValue !== null || part.furtherCost !== null))
    || [...shelves.spec.values()].some((spec) => spec.endValue !== null) || someReckoned(shelves.recipe.values()) || someReckoned(shelves.dish.values());
}

/** What is wrong with any fact of the book. */
export function checkBook(book: Book): readonly FactProblem[] {
  return factProblems(book, FACT_KINDS.flatMap((kind) => [...book.shelves[kind].keys()].map((id): FactRef => ({ kind, id }))), []);
}

/** What a change of a fact can spoil without touching it: an item its tests, quotes and cuts, a test the cuts that adopt it, a cut its portions. */
const SPOILS: Readonly<Partial<Record<FactKind, readonly FactKind[]>>> = { item: ["test", "quote", "cut"], test: ["cut"], cut: ["spec"] };

/** The facts that rest on the changed ones, themselves unchanged. Who refers to what is asked of the book before, whose answer is kept. */
function restingOn(book: Book, after: Book, changed: ReadonlyMap<string, FactRef>): readonly FactRef[] {
  const resting = new Map<string, FactRef>();
  const waiting = [...changed.values()];
  for (let fact = waiting.pop(); fact !== undefined; fact = waiting.pop()) {
    const spoils = SPOILS[fact.kind];
    if (spoils === undefined || !after.shelves[fact.kind].has(fact.id)) continue;
    for (const user of usersOf(book, fact.kind, fact.id, spoils)) {
      const key = factKey(user.kind, user.id);
      if (changed.has(key) || resting.has(key)) continue;
      resting.set(key, user);
      waiting.push(user);
    }
  }
  return [...resting.values()];
}

/** What is wrong with the facts that are new to the book, and with those that rest on them. */
function factProblems(book: Book, fresh: readonly FactRef[], resting: readonly FactRef[]): readonly FactProblem[] {
  const problems: FactProblem[] = [];
  const lost = new Set<string>();
  for (const of of fresh) {
    for (const reference of referencesIn(book, of.kind, of.id)) {
      if (book.shelves[reference.kind].has(reference.id)) continue;
      lost.add(factKey(of.kind, of.id));
      problems.push({ of, path: reference.path, code: "not-in-the-book", sentence: `There is no such ${nounOf(reference.kind)} in the book any more: choose another.` });
    }
  }
  for (const way of cyclesFrom(book, fresh)) {
    const [of, next] = way;
    if (of === undefined) continue;
    for (const step of way) lost.add(factKey(step.kind, step.id));
    const path = referencesIn(book, of.kind, of.id).find((reference) => reference.madeOf && reference.kind === next?.kind && reference.id === next.id)?.path ?? "";
    problems.push({ of, path, code: "cycle", sentence: `${factName(book, of.kind, of.id)} would be made of itself: ${wayRound(book, way)}. Take one of these lines out, or put a bought item in its place.` });
  }
  const own = (facts: readonly FactRef[], isFresh: boolean): void => {
    for (const of of facts) {
      if (lost.has(factKey(of.kind, of.id))) continue;
      for (const problem of ownProblems(book, of.kind, of.id, isFresh)) problems.push({ ...problem, of });
    }
  };
  own(fresh, true);
  own(resting, false);
  return problems;
}

function ownProblems(book: Book, kind: FactKind, id: string, isFresh: boolean): readonly Problem[] {
  const { shelves } = book;
  switch (kind) {
    case "quote": {
      const quote = shelves.quote.get(id);
      const item = quote && shelves.item.get(quote.itemId);
      if (!quote || !item) return [];
      if (item.transfer !== null) return [{ path: "itemId", code: "made-here", sentence: `${item.name} is a by-product of the house, with a transfer price: no dealer’s price is taken for it.` }];
      if (ratio.sign(doorRate(quote)) <= 0) return [{ path: "landed", code: "nothing-left", sentence: "The rebates come to the whole price or more: give the price as it is asked, and what is paid back of it." }];
      if (quoteKindMatches(item, quote)) return [];
      const by = { mass: "weight", volume: "volume", count: "count" }[item.kind];
      return [{ path: quote.per === "pack" ? "pack" : "per", code: "wrong-kind", sentence: `${item.name} is costed by ${by}, but this price is told in ${quote.per === "pack" ? quote.pack.size.unit : quote.per}: say what the pack holds by ${by}.` }];
    }
    case "test": {
      const test = shelves.test.get(id);
      return test === undefined ? [] : testProblems(book, test, isFresh);
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

/** Facts that tell of days gone by: what was sold in a week stays true when the dish has left the menu, and needs it no more. */
const TELLS_OF_THE_PAST: ReadonlySet<FactKind> = new Set(["sales"]);

/** A fact that is taken off while others still need it: told by what needs it. */
function stillUsed(book: Book, after: Book, changed: ReadonlyMap<string, FactRef>): readonly FactProblem[] {
  const problems: FactProblem[] = [];
  const gone = [...changed.values()].filter(({ kind, id }) => !after.shelves[kind].has(id));
  if (gone.length === 0) return [];
  const byChanged = new Map<string, FactRef[]>();
  for (const user of changed.values()) {
    for (const key of new Set(referencesIn(after, user.kind, user.id).map((reference) => factKey(reference.kind, reference.id)))) {
      const users = byChanged.get(key);
      if (users === undefined) byChanged.set(key, [user]);
      else users.push(user);
    }
  }
  for (const of of gone) {
    const untouched = usersOf(book, of.kind, of.id).filter((user) => !changed.has(factKey(user.kind, user.id)));
    const users = [...untouched, ...(byChanged.get(factKey(of.kind, of.id)) ?? [])].filter((user) => !TELLS_OF_THE_PAST.has(user.kind));
    if (users.length === 0) continue;
    const named = users.slice(0, 3).map((user) => `${nounOf(user.kind)} ${factName(after, user.kind, user.id)}`).join(", ");
    const told = users.length > 3 ? `${named} and ${users.length - 3} more` : named;
    problems.push({ path: "", code: "still-used", of, sentence: `${factName(book, of.kind, of.id)} cannot be taken off the book while it is used by: ${told}. Change those first.` });
  }
  return problems;
}
