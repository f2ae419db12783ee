/**
 * Books for tests, written the way a kitchen talks: items with a quote, tests as sheets, cuts, specs, recipes, dishes. And a
 * generator of random small books, with gaps (no price, no density, no test) and every kind of node, for properties.
 */
import fc from "fast-check";
import {
  type Book, type Change, type Cut, type Dish, type FactOf, type Item, type Line, type LineKind, type MenuPrice, type PartValue, type PortionSpec, type Quote,
  type Recipe, type TestPart, type Transfer, type YieldTest, emptyBook, factKey, withChanges,
} from "@/lib/book";
import { type Exact, type Kind, type Quantity, type Rate, type Unit, exact } from "@/lib/measure";

export const TODAY = "2026-11-25";

export const kitchen: FactOf["kitchen"] = {
  id: "kitchen", name: "Test kitchen", place: "Anywhere", currency: "USD", locale: "en-US", timeZone: "America/New_York",
  measures: "us", taxRate: exact("0"), target: exact("0.3"), near: exact("0.01"),
  sectionTargets: [], endings: [], budget: null, exchangeRates: [],
};

/** "13.5 lb" as a quantity. */
export function q(text: string): Quantity {
  const space = text.indexOf(" ");
  return { amount: exact(text.slice(0, space)), unit: text.slice(space + 1) as Unit };
}

/** "7.10 a lb" as a rate. */
export function rate(text: string): Rate {
  const [amount = "", unit = ""] = text.split(" a ");
  return { amount: exact(amount), per: unit as Unit };
}

export function item(id: string, kind: Kind = "mass", more: Partial<Item> = {}): Change {
  return {
    kind: "item", id,
    after: { id, name: id, section: "", specification: "", kind, dealerId: null, density: null, eachWeight: null, allergens: null, transfer: null, ...more },
  };
}

/** A by-product of the house: "2.60 a lb" fixed, or in the place of an item ("chuck less 0.60 a lb", "chuck"). */
export function byProduct(id: string, price: string, more: Partial<Transfer> = {}, kind: Kind = "mass"): Change {
  const [itemId = "", less] = price.split(" less ");
  const found: Transfer["price"] = / a /.test(itemId) ? { kind: "fixed", rate: rate(itemId), source: "decided by the chef" } : { kind: "item", itemId, less: less === undefined ? null : rate(less) };
  return item(id, kind, { transfer: { price: found, on: "2026-11-01", destination: "", use: null, ...more } });
}

export function density(gramsPerMl: string): Item["density"] {
  return { gramsPerMl: exact(gramsPerMl), source: "own cup, weighed", on: "2026-09-01" };
}

export function eachWeight(weight: string): Item["eachWeight"] {
  return { weight: q(weight), source: "ten weighed", on: "2026-09-01" };
}

/** A price for one of a unit ("7.10 a lb"), from the dealer "dealer". */
export function quote(itemId: string, asked: string, more: Partial<Quote> = {}): Change {
  const { amount, per } = rate(asked);
  return {
    kind: "quote", id: `quote-${itemId}`,
    after: {
      id: `quote-${itemId}`, itemId, dealerId: "dealer", pack: { levels: [], size: { amount: exact("1"), unit: per }, catchWeight: true },
      price: { amount }, per, currency: null, basis: "invoice", code: "", until: null, gtin: "", landed: [], ...more,
    },
  };
}

/** An invoice of the dealer "dealer" over one line, "54.2 lb at 7.10 a lb". */
export function delivery(id: string, itemId: string, billed: string, asked: string): Change {
  const { amount, per } = rate(asked);
  return {
    kind: "delivery", id,
    after: {
      id, dealerId: "dealer", number: id, kind: "invoice", on: "2026-11-20", note: "",
      lines: [{ key: itemId, itemId, packs: null, billed: q(billed), price: { amount }, per, amount: null, received: null, lot: "", useBy: null, note: "" }],
    },
  };
}

export const dealer: Change = { kind: "dealer", id: "dealer", after: { id: "dealer", name: "Harbour Provisioners", note: "", minimumOrder: null, ordering: "" } };

export function part(role: TestPart["role"], key: string, weight: string, more: Partial<TestPart> = {}): TestPart {
  return { key, name: key, role, weight: q(weight), value: null, marketValue: null, furtherCost: null, pieces: [], ...more };
}

export const typed = (text: string): PartValue => ({ kind: "typed", rate: rate(text) });

export function butcherTest(id: string, ofItem: string, billed: string, price: string | null, parts: readonly TestPart[], more: Partial<YieldTest> = {}): Change {
  return {
    kind: "test", id,
    after: {
      id, kind: "butcher", of: { kind: "item", id: ofItem }, dealerId: "dealer", on: "2026-11-21", cutter: "M. Ortega", pieces: exact("1"),
      billed: q(billed), price: price === null ? null : rate(price), parts, cooking: null, scaleStep: q("0.25 oz"), followsTestId: null, note: "", ...more,
    },
  };
}

export function cut(id: string, of: Cut["of"], testIds: readonly string[], more: Partial<Cut> = {}): Change {
  return { kind: "cut", id, after: { id, name: id, of, partKey: "steak", testIds, leftOut: [], borrowed: null, repricing: null, joint: "weight", specification: "", ...more } };
}

export function spec(id: string, cutId: string, size: string, more: Partial<PortionSpec> = {}): Change {
  return {
    kind: "spec", id,
    after: { id, cutId, name: id, size: q(size), tolerance: null, thickness: "", trim: "", costing: "by-weight", endValue: null, pieces: null, meanCut: null, ...more },
  };
}

/** "item chuck 1 lb": what kind of thing, its id, how much of it. */
export function line(text: string, index: number): Line {
  const [kind = "", id = "", ...amount] = text.split(" ");
  return { key: `line-${index}`, of: { kind: kind as LineKind, id }, quantity: q(amount.join(" ")), note: "" };
}

export function recipe(id: string, yields: readonly string[], lines: readonly string[], more: Partial<Recipe> = {}): Change {
  return { kind: "recipe", id, after: { id, name: id, section: "", yields: yields.map(q), lines: lines.map(line), allowances: [], method: "", steps: [], ...more } };
}

export function dish(id: string, lines: readonly string[], more: Partial<Dish> = {}): Change {
  return {
    kind: "dish", id,
    after: { id, name: id, section: "Mains", lines: lines.map((text, index) => ({ ...line(text, index), role: "main", channel: "any" })), allowances: [], note: "", ...more },
  };
}

export function menuPrice(id: string, gross: string, more: Partial<MenuPrice> = {}): Change {
  return { kind: "menuPrice", id, after: { id, gross: { amount: exact(gross) }, taxRate: null, target: null, ...more } };
}

export function week(monday: string, sold: Readonly<Record<string, string>>): Change {
  return { kind: "sales", id: monday, after: { id: monday, sold: Object.entries(sold).map(([dishId, count]) => ({ dishId, count: exact(count) })) } };
}

/** A book of these facts for today, each recorded by the chef on the first of November. */
export function bookOf(facts: readonly Change[], settings: Partial<FactOf["kitchen"]> = {}): Book {
  const book = withChanges(emptyBook({ ...kitchen, ...settings }, TODAY), facts);
  const provenance = new Map(facts.map((fact, index) => [
    factKey(fact.kind, fact.id),
    { revision: index + 1, validFrom: "2026-11-01", recordedAt: "2026-11-01T09:00:00Z", by: "Chef", why: "first entry" },
  ]));
  return { ...book, provenance };
}

/** The striploin of the drawings: 13 lb 8 oz at 7.10, lean trim to the grind at 3.20, end pieces worth 5.10. */
export const striploin: readonly Change[] = [
  dealer,
  item("striploin"), quote("striploin", "7.10 a lb"),
  item("chuck"), quote("chuck", "3.20 a lb"),
  recipe("burger-grind", ["10 lb"], ["item chuck 10 lb"]),
  butcherTest("test-1", "striploin", "13.5 lb", "6.80 a lb", [
    part("main", "steak", "8.6875 lb"),
    part("by-product", "lean-trim", "1.625 lb", { value: { kind: "recipe", id: "burger-grind" } }),
    part("by-product", "end-pieces", "14 oz", { value: typed("5.10 a lb") }),
    part("discard", "fat-cap", "2.125 lb"),
  ]),
  cut("strip", { kind: "item", id: "striploin" }, ["test-1"]),
  spec("steak-10oz", "strip", "10 oz"),
];

/** Draws one value from an arbitrary, within a property: fc.gen(). */
export type Draw = fc.GeneratorValue;

const UNITS: Readonly<Record<Kind, readonly Unit[]>> = { mass: ["lb", "oz", "kg", "g"], volume: ["qt", "cup", "L", "fl oz"], count: ["each", "dozen"] };

/** A random book of a few of everything. Sources come before what is made of them, so nothing is made of itself. */
export function randomBook(g: Draw): Book {
  const int = (min: number, max: number): number => g(fc.integer, { min, max });
  const pick = <T>(from: readonly T[]): T => {
    const found = from[int(0, from.length - 1)];
    if (found === undefined) throw new Error("expected something to pick from");
    return found;
  };
  const chance = (outOf: number): boolean => int(1, outOf) === 1;
  const decimal = (min: number, max: number): Exact => exact((int(min, max) / 100).toFixed(2));
  const facts: Change[] = [dealer];
  const kinds = ["mass", "mass", "volume", "count"] as const;
  /** A by-product of the house, in the place of an item before it if of any. */
  const randomTransfer = (index: number, kind: Kind): Transfer => {
    const of = (least: number): Rate => ({ amount: decimal(least, 900), per: pick(UNITS[kind]) });
    const price: Transfer["price"] = chance(2)
      ? { kind: "item", itemId: `item-${int(0, index - 1)}`, less: chance(2) ? null : of(0) }
      : { kind: pick(["market", "fixed"] as const), rate: of(1), source: "drawn" };
    const unit = pick(UNITS[kind]);
    const use: Transfer["use"] = chance(2) ? null : { produced: { amount: decimal(100, 900), unit }, used: { amount: decimal(0, 900), unit: pick(UNITS[kind]) }, over: "" };
    return { price, on: "2026-11-01", destination: "", use };
  };
  const items = Array.from({ length: int(2, 5) }, (_, index) => {
    const id = `item-${index}`;
    const kind = index === 0 ? "mass" : pick(kinds);
    const transfer = index > 0 && chance(4) ? randomTransfer(index, kind) : null;
    facts.push(item(id, kind, { density: chance(3) ? null : density(decimal(30, 140)), eachWeight: chance(3) ? null : eachWeight(`${decimal(100, 900)} oz`), transfer }));
    if (transfer === null && !chance(6)) {
      const unit = pick(UNITS[kind]);
      const pack = { levels: [{ count: exact(`${int(1, 9)}`), container: "case" }, { count: exact(`${int(1, 6)}`), container: "bag" }], size: { amount: decimal(50, 900), unit }, catchWeight: false };
      facts.push(quote(id, `${decimal(10, 5000)} a ${unit}`, chance(2) ? { pack, per: "pack" } : {}));
    }
    return { id, kind };
  });

  const sources: { kind: LineKind; id: string; units: readonly Unit[] }[] = items.map(({ id }) => ({ kind: "item", id, units: [...UNITS.mass, ...UNITS.volume, ...UNITS.count] }));
  const valued = (): PartValue | null => (chance(8) ? null : chance(2) ? typed(`${decimal(1, 60)} a ${pick(UNITS.mass)}`) : { kind: "item", id: pick(items).id });
  const cuts: string[] = [];
  const [cutCount, recipeCount, dishCount] = [int(1, 4), int(1, 4), int(1, 4)];
  for (let index = 0; index < cutCount; index += 1) {
    const of = cuts.length > 0 && chance(3) ? { kind: "cut" as const, id: pick(cuts) } : { kind: "item" as const, id: pick(items).id };
    const joint = chance(3);
    const tests = Array.from({ length: int(0, 3) }, (_, at) => {
      const id = `test-${index}-${at}`;
      const pieces = int(1, 3);
      const each = Array.from({ length: pieces }, () => `${decimal(1000, 1800)} oz`);
      const usable = each.map((text) => Number(text.slice(0, -3))).reduce((a, b) => a + b, 0);
      const billed = usable * 2 + int(0, 3000) / 100;
      const share = (top: number): string => `${(usable * int(1, top) / 100).toFixed(2)} oz`;
      facts.push(butcherTest(id, of.id, `${billed.toFixed(2)} oz`, of.kind === "item" && !chance(5) ? `${decimal(100, 3000)} a lb` : null, [
        part("main", "steak", `${usable.toFixed(2)} oz`, { pieces: chance(3) ? [] : each.map(q), marketValue: rate(`${decimal(500, 3000)} a lb`) }),
        ...(joint ? [part("main", "tail", share(20), { marketValue: rate(`${decimal(500, 3000)} a lb`), furtherCost: chance(2) ? rate("0.40 a lb") : null })] : []),
        ...(chance(3) ? [] : [part("by-product", "trim", share(15), { value: valued() })]),
        ...(chance(2) ? [] : [part("by-product", "bone", share(15), { value: valued() })]),
        ...(chance(2) ? [] : [part("discard", "fat", share(15))]),
        ...(chance(2) ? [] : [part("purge", "purge", share(5))]),
      ], { of, pieces: exact(`${pieces}`), on: `2026-0${int(1, 9)}-0${int(1, 9)}`, scaleStep: chance(2) ? null : q("0.25 oz") }));
      return id;
    });
    const id = `cut-${index}`;
    facts.push(cut(id, of, tests, {
      borrowed: chance(2) ? { share: pick([exact("0.44"), exact("100/189"), exact("2.91"), exact("1")]), what: "as a table has it", source: "a table", on: "2026-09-01" } : null,
      repricing: pick([null, "by-factor", "by-products-at-own-price"] as const), joint: pick(["weight", "sales-value", "net-realizable"] as const),
    }));
    cuts.push(id);
    sources.push({ kind: "cut", id, units: [...UNITS.mass, ...(chance(3) ? UNITS.volume : [])] });
    const specId = `spec-${index}`;
    facts.push(spec(specId, id, `${decimal(100, 1200)} oz`, { costing: pick(["by-weight", "whole"] as const), endValue: chance(2) ? null : rate(`${decimal(1, 50)} a lb`) }));
    sources.push({ kind: "spec", id: specId, units: ["portion"] });
  }
  const lines = (): string[] => Array.from({ length: int(0, 5) }, () => {
    const source = pick(sources);
    return `${source.kind} ${source.id} ${decimal(1, 900)} ${pick(source.units)}`;
  });
  for (let index = 0; index < recipeCount; index += 1) {
    const yields = [`${decimal(100, 900)} ${pick(UNITS.volume)}`, ...(chance(2) ? [`${int(1, 40)} portion`] : [])];
    facts.push(recipe(`recipe-${index}`, yields, lines()));
    sources.push({ kind: "recipe", id: `recipe-${index}`, units: [...UNITS.volume, ...(yields.length > 1 ? ["portion" as const] : []), ...(chance(4) ? ["lb" as const] : [])] });
  }
  for (let index = 0; index < dishCount; index += 1) {
    facts.push(dish(`dish-${index}`, lines()));
    if (!chance(5)) facts.push(menuPrice(`dish-${index}`, decimal(500, 6000), chance(3) ? { taxRate: exact("0.2"), target: decimal(20, 40) } : {}));
  }
  return bookOf(facts, { measures: pick(["us", "metric"] as const) });
}
