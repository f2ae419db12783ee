/**
 * A by-product that is worth "what it earns" in something which rests on its own cost: the trim of a loin is worth what
 * the grind costs, and the grind takes ends of that loin. Nothing then costs anything until the way round is cut, which
 * is done at the by-products, with one transfer price each in place of what they earn. Three prices can be told: what a
 * market pays; what the thing costs today, before the loop; and the one at which the by-product is worth exactly what it
 * earns (the reciprocal method, loop-solve.ts).
 *
 * Every cost is linear in every price. So with the loop cut, what the by-products earn is x ↦ A·x + b, and n + 1 costings
 * tell it exactly: one with every price at 0, and one more for each at 1.
 */
import { type Book, type Change, type FactKind, type Item, type TestPart, type YieldTest, factKey, factName, kitchenOf, referencesIn, withChanges } from "@/lib/book";
import { type Cascade, type Missing, type NodeRef, compile, costAsRate, costOf } from "@/lib/cascade";
import { type Exact, type Kind, type Rate, type Ratio, type Unit, customaryUnit, exact, kindOf, ratio } from "@/lib/measure";
import { type Matrix, solveTogether } from "./loop-solve";

/** One worth that the loop runs through: what these parts earn. */
export interface LoopWorth {
  /** What the parts are valued at: a recipe (an item's worth cannot rest on a cut). */
  readonly of: NodeRef;
  readonly ofName: string;
  readonly kind: Kind;
  /** What its price is told for. */
  readonly unit: Unit;
  /** "Lean trim". */
  readonly name: string;
  readonly parts: readonly { readonly testId: string; readonly key: string }[];
  /** The item that it would be as a by-product of the house. */
  readonly itemId: string;
}

export interface Loop {
  /** The way round by the names people gave, the first told again at the end: "Grind → Strip → Grind". */
  readonly way: readonly string[];
  readonly worths: readonly LoopWorth[];
}

/** Why no price of the third kind can be told. */
export type Unsolved =
  | { readonly ok: false; readonly why: "does-not-settle" }
  /** Some price comes out at nothing or below. */
  | { readonly ok: false; readonly why: "below-nothing" }
  | { readonly ok: false; readonly why: "missing"; readonly missing: readonly Missing[] }
  /** The way round does not only run through by-products. */
  | { readonly ok: false; readonly why: "another-loop" };

export type Solved = {
  readonly ok: true;
  /** x, in the order of the loop's worths, money for one of their unit. */
  readonly x: readonly Ratio[];
  readonly A: Matrix;
  readonly b: readonly Ratio[];
} | Unsolved;

type Fact = { readonly kind: FactKind; readonly id: string };

/**
 * The loop that facts of a book stand in, where it can be cut at by-products; null where there is none. The book need not
 * compile. The first such loop among those that the given facts stand in or lead to.
 */
export function loopOf(book: Book, starts: readonly Fact[]): Loop | null {
  for (const members of knotsFrom(book, starts)) {
    const worths = worthsIn(book, members);
    if (worths.length > 0) return { way: wayOf(book, members, worths), worths };
  }
  return null;
}

/** With one by-product of the house for each worth, at these prices: the loop is cut. */
export function cutLoop(book: Book, loop: Loop, price: (worth: LoopWorth, at: number) => { readonly kind: "market" | "fixed"; readonly rate: Rate; readonly source: string }): readonly Change[] {
  const items = loop.worths.map((worth, at): Change => {
    const known = book.shelves.item.get(worth.itemId);
    const item: Item = {
      ...(known ?? { id: worth.itemId, name: freeName(book, worth), section: "By-products", specification: "", kind: worth.kind, dealerId: null, density: null, eachWeight: null, allergens: null }),
      transfer: { price: price(worth, at), on: book.on, destination: known?.transfer?.destination ?? "", use: known?.transfer?.use ?? null },
    };
    return { kind: "item", id: item.id, after: item };
  });
  const tests = new Map<string, YieldTest>();
  for (const { parts, itemId } of loop.worths) {
    for (const { testId, key } of parts) {
      const test = tests.get(testId) ?? book.shelves.test.get(testId);
      if (test === undefined) continue;
      tests.set(testId, { ...test, parts: test.parts.map((part): TestPart => (part.key === key && part.role === "by-product" ? { ...part, value: { kind: "item", id: itemId } } : part)) });
    }
  }
  return [...items, ...[...tests.values()].map((test): Change => ({ kind: "test", id: test.id, after: test }))];
}

/** The prices at which every by-product of the loop is worth exactly what it earns; `book` is the one with the loop in it. */
export function solveLoop(book: Book, loop: Loop): Solved {
  const n = loop.worths.length;
  const earned = (x: readonly Exact[]): readonly Ratio[] | Unsolved => {
    const cut = compile(withChanges(book, cutLoop(book, loop, ({ unit }, at) => ({ kind: "fixed", rate: { amount: x[at] ?? ZERO, per: unit }, source: "tried" }))));
    return cut.ok ? earnings(cut.value, loop) : { ok: false, why: "another-loop" };
  };
  const b = earned(loop.worths.map(() => ZERO));
  if (!isTold(b)) return b;
  const columns: Ratio[][] = [];
  for (let k = 0; k < n; k += 1) {
    const column = earned(loop.worths.map((_, at) => (at === k ? ONE : ZERO)));
    if (!isTold(column)) return column;
    columns.push(column.map((value, at) => ratio.sub(value, b[at] ?? ratio.ZERO)));
  }
  const A = b.map((_, i) => columns.map((column) => column[i] ?? ratio.ZERO));
  const solved = solveTogether(A, b);
  if (!solved.ok) return solved;
  return solved.x.some((value) => ratio.sign(value) <= 0) ? { ok: false, why: "below-nothing" } : { ok: true, x: solved.x, A, b };
}

/** What the things that the parts are valued at cost in a cascade without the loop, money for one of their unit; null where not known. */
export function lastWorths(cascade: Cascade, loop: Loop): readonly (Rate | null)[] {
  return loop.worths.map(({ of, unit }) => costAsRate(cascade, of, unit));
}

const ZERO = exact("0");
const ONE = exact("1");

function isTold(found: readonly Ratio[] | Unsolved): found is readonly Ratio[] {
  return Array.isArray(found);
}

function earnings(cascade: Cascade, loop: Loop): readonly Ratio[] | Unsolved {
  const rates = lastWorths(cascade, loop);
  const unknown = rates.findIndex((rate) => rate === null);
  if (unknown >= 0) {
    const worth = loop.worths[unknown];
    return { ok: false, why: "missing", missing: worth === undefined ? [] : costOf(cascade, worth.of)?.missing ?? [] };
  }
  return rates.flatMap((rate) => (rate === null ? [] : [ratio.fromExact(rate.amount)]));
}

/** The name of its part, told apart where an item has it already. */
function freeName(book: Book, { name, ofName }: LoopWorth): string {
  const taken = new Set([...book.shelves.item.values()].map((item) => item.name.toLowerCase()));
  return taken.has(name.toLowerCase()) ? `${name} for ${ofName}` : name;
}

/** The parts of tests in a knot that are valued at something in it, by what that is and the kind of quantity. */
function worthsIn(book: Book, members: ReadonlySet<string>): readonly LoopWorth[] {
  const worths = new Map<string, LoopWorth & { parts: { testId: string; key: string }[] }>();
  for (const test of book.shelves.test.values()) {
    if (!members.has(factKey("test", test.id))) continue;
    for (const part of test.parts) {
      const { value } = part;
      if (part.role !== "by-product" || value === null || value.kind === "typed" || !members.has(factKey(value.kind, value.id))) continue;
      const kind = kindOf(part.weight.unit);
      const key = `${value.kind}-${value.id}-${kind}`;
      const known = worths.get(key);
      if (known !== undefined) {
        known.parts.push({ testId: test.id, key: part.key });
        continue;
      }
      worths.set(key, {
        of: { kind: value.kind, id: value.id }, ofName: factName(book, value.kind, value.id), kind, unit: customaryUnit(kind, kitchenOf(book)), name: part.name,
        parts: [{ testId: test.id, key: part.key }], itemId: `by-product-${key}`,
      });
    }
  }
  return [...worths.values()];
}

/** A way round through the first worth: from what it is valued at down to the test and back. Tests are passed over. */
function wayOf(book: Book, members: ReadonlySet<string>, [worth]: readonly LoopWorth[]): readonly string[] {
  const [part] = worth?.parts ?? [];
  if (worth === undefined || part === undefined) return [];
  const from = new Map<string, Fact | null>([[factKey(worth.of.kind, worth.of.id), null]]);
  const waiting: Fact[] = [worth.of];
  for (let fact = waiting.shift(); fact !== undefined && !(fact.kind === "test" && fact.id === part.testId); fact = waiting.shift()) {
    for (const next of referencesIn(book, fact.kind, fact.id)) {
      const key = factKey(next.kind, next.id);
      if (!next.madeOf || !members.has(key) || from.has(key)) continue;
      from.set(key, fact);
      waiting.push({ kind: next.kind, id: next.id });
    }
  }
  const way: string[] = [];
  for (let at: Fact | null = { kind: "test", id: part.testId }; at !== null; at = from.get(factKey(at.kind, at.id)) ?? null) {
    if (at.kind !== "test") way.unshift(factName(book, at.kind, at.id));
  }
  return [...way, ...way.slice(0, 1)];
}

interface Open extends Fact {
  readonly key: string;
  readonly next: readonly Fact[];
  at: number;
}

/** The strongly connected parts of more than one fact that can be reached (Tarjan 1972, with its own stack), each as its keys. */
function knotsFrom(book: Book, starts: readonly Fact[]): readonly ReadonlySet<string>[] {
  const knots: ReadonlySet<string>[] = [];
  const place = new Map<string, number>();
  const lowest = new Map<string, number>();
  const waiting: string[] = [];
  const inside = new Set<string>();
  const stack: Open[] = [];
  const enter = (fact: Fact): void => {
    const key = factKey(fact.kind, fact.id);
    place.set(key, place.size);
    lowest.set(key, place.size - 1);
    waiting.push(key);
    inside.add(key);
    stack.push({ ...fact, key, next: referencesIn(book, fact.kind, fact.id).filter((reference) => reference.madeOf), at: 0 });
  };
  const lower = (key: string, to: number): void => {
    if (to < (lowest.get(key) ?? to)) lowest.set(key, to);
  };
  for (const start of starts) {
    if (place.has(factKey(start.kind, start.id))) continue;
    enter(start);
    for (let top = stack.at(-1); top !== undefined; top = stack.at(-1)) {
      const next = top.next[top.at];
      top.at += 1;
      if (next !== undefined) {
        const key = factKey(next.kind, next.id);
        if (!place.has(key)) enter(next);
        else if (inside.has(key)) lower(top.key, place.get(key) ?? 0);
        continue;
      }
      stack.pop();
      const below = stack.at(-1);
      if (below !== undefined) lower(below.key, lowest.get(top.key) ?? 0);
      if (lowest.get(top.key) !== place.get(top.key)) continue;
      const knot = new Set(waiting.splice(waiting.indexOf(top.key)));
      for (const key of knot) inside.delete(key);
      if (knot.size > 1) knots.push(knot);
    }
  }
  return knots;
}
