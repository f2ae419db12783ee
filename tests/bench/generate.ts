/**
 * Books for the benchmark, from a seed: house, group and chain sizes, the shape of a kitchen's book rather than noise.
 * Recipes have 4 to 20 lines and nest up to 6 deep; lines favour a few staples, as kitchens do, so that one price
 * reaches thousands of dishes while most reach a handful.
 */
import { type Book, type Change, type FactOf, emptyBook, withChanges } from "@/lib/book";
import { type Exact, exact } from "@/lib/measure";

export interface Size {
  readonly name: "house" | "group" | "chain";
  readonly items: number;
  readonly tests: number;
  readonly specs: number;
  readonly recipes: number;
  readonly dishes: number;
}

export const SIZES: readonly Size[] = [
  { name: "house", items: 600, tests: 60, specs: 90, recipes: 250, dishes: 80 },
  { name: "group", items: 10_000, tests: 800, specs: 1_500, recipes: 6_000, dishes: 3_000 },
  { name: "chain", items: 100_000, tests: 5_000, specs: 10_000, recipes: 60_000, dishes: 30_000 },
];

/** mulberry32: small, seeded, good enough to shape a book. Whole numbers from 0 up to `below`. */
export function dice(seed: number): (below: number) => number {
  let state = seed >>> 0;
  return (below) => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return Math.floor((((t ^ (t >>> 14)) >>> 0) / 4294967296) * below);
  };
}

const DEEPEST = 6;

export function generateBook(size: Size, seed = 2026): Book {
  const roll = dice(seed);
  const between = (low: number, high: number): number => low + roll(high - low + 1);
  const hundredths = (low: number, high: number): Exact => exact((between(low, high) / 100).toFixed(2));
  const kitchen: FactOf["kitchen"] = {
    id: "bench", name: "Bench", place: "", currency: "USD", locale: "en-US", timeZone: "UTC", measures: "us",
    taxRate: exact("0"), target: exact("0.3"), near: exact("0.01"), sectionTargets: [], endings: [], budget: null, exchangeRates: [],
  };
  const facts: Change[] = [{ kind: "dealer", id: "d", after: { id: "d", name: "Dealer", note: "", minimumOrder: null, ordering: "" } }];
  for (let at = 0; at < size.items; at += 1) {
    const id = `i${at}`;
    facts.push(
      { kind: "item", id, after: { id, name: id, section: "", specification: "", kind: "mass", dealerId: "d", density: null, eachWeight: null, allergens: null, transfer: null } },
      { kind: "quote", id: `q${at}`, after: {
        id: `q${at}`, itemId: id, dealerId: "d", price: { amount: hundredths(60, 6000) }, per: roll(2) === 0 ? "lb" : "pack", currency: null, basis: "quoted", code: "", until: null, gtin: "", landed: [],
        pack: { levels: [{ count: exact("1"), container: "case" }, { count: exact(String(between(1, 12))), container: "bag" }], size: { amount: hundredths(100, 1000), unit: "lb" }, catchWeight: false },
      } },
    );
  }
  // An item with a low number is a staple: squaring favours it.
  const someItem = (): string => `i${Math.floor((roll(1_000_000) / 1_000_000) ** 2.2 * size.items)}`;
  for (let at = 0; at < size.tests; at += 1) {
    const of = { kind: "item", id: `i${(at * 7) % size.items}` } as const;
    const usable = between(500, 1200);
    const trim = between(50, 200);
    const other = between(20, 120);
    facts.push(
      { kind: "test", id: `t${at}`, after: {
        id: `t${at}`, kind: "butcher", of, dealerId: "d", on: "2026-11-02", cutter: "cook", pieces: exact("1"),
        billed: { amount: exact(((usable + trim + other + 10) / 100).toFixed(2)), unit: "lb" }, price: { amount: hundredths(300, 2000), per: "lb" },
        parts: [
          { key: "main", name: "Main", role: "main", weight: { amount: exact((usable / 100).toFixed(2)), unit: "lb" }, value: null, marketValue: null, furtherCost: null, pieces: [] },
          { key: "trim", name: "Trim", role: "by-product", weight: { amount: exact((trim / 100).toFixed(2)), unit: "lb" }, value: { kind: "typed", rate: { amount: exact("0.30"), per: "lb" } }, marketValue: null, furtherCost: null, pieces: [] },
          { key: "fat", name: "Fat", role: "discard", weight: { amount: exact((other / 100).toFixed(2)), unit: "lb" }, value: null, marketValue: null, furtherCost: null, pieces: [] },
        ],
        cooking: null, scaleStep: null, followsTestId: null, note: "",
      } },
      { kind: "cut", id: `c${at}`, after: { id: `c${at}`, name: `c${at}`, of, partKey: "main", testIds: [`t${at}`], leftOut: [], borrowed: null, repricing: "by-products-at-own-price", joint: "weight", specification: "" } },
    );
  }
  for (let at = 0; at < size.specs; at += 1) {
    facts.push({ kind: "spec", id: `s${at}`, after: { id: `s${at}`, cutId: `c${at % size.tests}`, name: `s${at}`, size: { amount: exact(String(between(3, 16))), unit: "oz" }, tolerance: null, thickness: "", trim: "", costing: "by-weight", endValue: null, pieces: null, meanCut: null } });
  }
  // Recipe r lies at depth 1 + r mod 6 and uses recipes of the depths below.
  const lineOf = (key: string, depth: number): FactOf["recipe"]["lines"][number] => {
    const what = roll(10);
    if (what === 0) return { key, of: { kind: "spec", id: `s${roll(size.specs)}` }, quantity: { amount: exact("1"), unit: "portion" }, note: "" };
    if (what === 1) return { key, of: { kind: "cut", id: `c${roll(size.tests)}` }, quantity: { amount: hundredths(10, 300), unit: "lb" }, note: "" };
    if (what <= 3 && depth > 1) {
      const below = roll(depth - 1);
      const rows = Math.floor((size.recipes - 1 - below) / DEEPEST) + 1;
      return { key, of: { kind: "recipe", id: `r${below + DEEPEST * roll(Math.max(1, rows))}` }, quantity: { amount: hundredths(5, 100), unit: "qt" }, note: "" };
    }
    return { key, of: { kind: "item", id: someItem() }, quantity: { amount: hundredths(5, 800), unit: roll(3) === 0 ? "oz" : "lb" }, note: "" };
  };
  for (let at = 0; at < size.recipes; at += 1) {
    const depth = 1 + (at % DEEPEST);
    const lines = Array.from({ length: between(4, 20) }, (_, line) => lineOf(`l${line}`, depth));
    facts.push({ kind: "recipe", id: `r${at}`, after: { id: `r${at}`, name: `r${at}`, section: "", yields: [{ amount: hundredths(200, 1200), unit: "qt" }], lines, allowances: [], method: "", steps: [] } });
  }
  for (let at = 0; at < size.dishes; at += 1) {
    const id = `d${at}`;
    const lines = Array.from({ length: between(4, 9) }, (_, line) => ({ ...lineOf(`l${line}`, DEEPEST + 1), role: "main" as const, channel: "any" as const }));
    facts.push(
      { kind: "dish", id, after: { id, name: id, section: "", lines, allowances: [], note: "" } },
      { kind: "menuPrice", id, after: { id, gross: { amount: hundredths(900, 6000) }, taxRate: null, target: null } },
    );
  }
  return withChanges(emptyBook(kitchen, "2026-11-25"), facts);
}
