/**
 * Whatever is handed in as a fact is read or refused: within a second, without a throw, with a sentence and a place for
 * everything wrong with it. What is read holds nothing but what a fact holds, and reads the same again.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type FactKind, FACT_KINDS, readFact } from "@/lib/book";
import { readDemo } from "@/seed/read";
import { KITCHENS, us } from "../measure/habits";
import { anyInput, own, spoiled } from "./hostile";
import { PATIENCE, inGoodTime, runs, shown } from "./runs";

const demo = readDemo();
const FACTS = new Map<FactKind, unknown[]>(FACT_KINDS.map((kind) => [kind, demo.entries.filter(({ change }) => change.kind === kind && change.after !== null).map(({ change }): unknown => change.after)]));
FACTS.set("kitchen", [{ id: "demo", ...demo.kitchen }]);
const goodOf = (kind: FactKind): fc.Arbitrary<unknown> => fc.constantFrom(...(FACTS.get(kind) ?? []));

/** What a fact may hold, by kind: a list has the shape of its elements, and 0 is text, a tick or nothing. */
type Shape = 0 | readonly [Shape] | { readonly [key: string]: Shape };
const quantity = { amount: 0, unit: 0, typed: 0 } as const;
const rate = { amount: 0, per: 0, typed: 0 } as const;
const money = { amount: 0, typed: 0 } as const;
const thing = { kind: 0, id: 0 } as const;
const line = { key: 0, of: thing, quantity, note: 0 } as const;
const allowance = { key: 0, name: 0, kind: 0, share: 0, basis: 0, amount: money } as const;
const SHAPES: { readonly [K in FactKind]: Shape } = {
  kitchen: { id: 0, name: 0, place: 0, currency: 0, locale: 0, timeZone: 0, measures: 0, taxRate: 0, target: 0, near: 0,
    sectionTargets: [{ section: 0, target: 0 }], endings: [0], budget: { period: 0, guests: 0, foodCost: money, nonFoodCost: money, profit: money, labour: money, primeCostShare: 0 }, exchangeRates: [{ currency: 0, rate: 0, source: 0, on: 0 }] },
  dealer: { id: 0, name: 0, note: 0, minimumOrder: money, ordering: 0 },
  item: { id: 0, name: 0, section: 0, specification: 0, kind: 0, dealerId: 0, density: { gramsPerMl: 0, source: 0, on: 0 }, eachWeight: { weight: quantity, source: 0, on: 0 }, allergens: { contains: [0], mayContain: [0], source: 0, on: 0 },
    transfer: { price: { kind: 0, rate, source: 0, itemId: 0, less: rate }, on: 0, destination: 0, use: { produced: quantity, used: quantity, over: 0 } } },
  quote: { id: 0, itemId: 0, dealerId: 0, pack: { levels: [{ count: 0, container: 0 }], size: quantity, catchWeight: 0 }, price: money, per: 0, currency: 0, basis: 0, until: 0, code: 0, gtin: 0,
    landed: [{ key: 0, name: 0, way: 0, of: { kind: 0, amount: money, per: 0, share: 0 } }] },
  delivery: { id: 0, dealerId: 0, number: 0, kind: 0, on: 0, note: 0,
    lines: [{ key: 0, itemId: 0, packs: 0, billed: quantity, price: money, per: 0, amount: money, received: quantity, lot: 0, useBy: 0, note: 0 }] },
  test: {
    id: 0, kind: 0, of: thing, dealerId: 0, on: 0, cutter: 0, pieces: 0, billed: quantity, price: rate,
    parts: [{ key: 0, name: 0, role: 0, weight: quantity, value: { kind: 0, id: 0, rate }, marketValue: rate, furtherCost: rate, pieces: [quantity] }],
    cooking: { method: 0, temperature: 0, endPoint: 0, time: 0, trimmed: quantity, cooked: quantity }, scaleStep: quantity, followsTestId: 0, note: 0,
  },
  cut: { id: 0, name: 0, of: thing, partKey: 0, testIds: [0], leftOut: [{ testId: 0, reason: 0 }], borrowed: { share: 0, what: 0, source: 0, on: 0 }, repricing: 0, joint: 0, specification: 0 },
  spec: { id: 0, cutId: 0, name: 0, size: quantity, tolerance: quantity, thickness: 0, trim: 0, costing: 0, endValue: rate, pieces: 0, meanCut: { weight: quantity, count: 0, on: 0 } },
  recipe: { id: 0, name: 0, section: 0, yields: [quantity], lines: [line], allowances: [allowance], method: 0, steps: [{ text: 0, critical: { degrees: 0, scale: 0, held: 0 } }] },
  dish: { id: 0, name: 0, section: 0, lines: [{ ...line, role: 0, channel: 0 }], allowances: [allowance], note: 0 },
  menuPrice: { id: 0, gross: money, taxRate: 0, target: 0 },
  sales: { id: 0, sold: [{ dishId: 0, count: 0 }] },
};

/** Every key a fact of any kind may have. */
const KEYS = [...new Set(JSON.stringify(SHAPES).match(/[A-Za-z]+/g) ?? [])];

/** Whatever in the value has no place in the shape, by its path. */
function strangers(value: unknown, shape: Shape, path = ""): string[] {
  if (value === null || value === undefined) return [];
  if (typeof value !== "object") return typeof value === "string" || typeof value === "boolean" ? [] : [`${path} is a ${typeof value}`];
  if (shape === 0) return [`${path} is an object`];
  if (Array.isArray(shape)) {
    if (!Array.isArray(value)) return [`${path} is no list`];
    return value.flatMap((one, index) => strangers(one, shape[0] as Shape, `${path}.${index}`));
  }
  if (Array.isArray(value)) return [`${path} is a list`];
  if (Object.getPrototypeOf(value) !== Object.prototype) return [`${path} has a prototype of its own`];
  const known = shape as { readonly [key: string]: Shape };
  return Object.entries(value).flatMap(([key, one]) => {
    const inner = Object.hasOwn(known, key) ? known[key] : undefined;
    return inner === undefined ? [`${path}.${key} is unexpected`] : strangers(one, inner, `${path}.${key}`);
  });
}

/** Reads it as a fact of a kind and holds the answer to what every answer must be; true when it is one. */
function holdToIt(kind: FactKind, input: unknown, habits = us): boolean {
  const read = inGoodTime(() => readFact(kind, input, habits), () => `a ${kind} from ${shown(input)}`);
  if (!read.ok) {
    expect(read.problems.length).toBeGreaterThan(0);
    for (const { path, code, sentence } of read.problems) {
      expect(path).toMatch(/^[\w.]*$/);
      expect(code).toMatch(/^[a-z_-]+$/);
      expect(sentence).toMatch(/^[^a-z].{8,600}[.?]$/su);
      expect(sentence.replace(/“[^”]*”/g, ""), "the words of a program, not of a cook").not.toMatch(/Invalid (?:input|option|string)|Unrecognized|expected \w+, received|\[object/);
    }
    return false;
  }
  expect(strangers(read.value, SHAPES[kind])).toEqual([]);
  expect(readFact(kind, read.value, habits)).toEqual({ ok: true, value: read.value });
  expect(readFact(kind, JSON.parse(JSON.stringify(read.value)), habits)).toEqual({ ok: true, value: JSON.parse(JSON.stringify(read.value)) });
  return true;
}

describe.each(FACT_KINDS.map((kind) => [kind] as const))("a %s from outside", (kind) => {
  test("good facts are read, whatever else the object holds", () => {
    for (const fact of FACTS.get(kind) ?? []) {
      expect(holdToIt(kind, fact)).toBe(true);
      const more = own([...Object.entries(fact as object), ["__proto__", { polluted: "yes" }], ["constructor", "x"], ["extra", [1, 2]], ["toString", null]]);
      expect(readFact(kind, more, us)).toEqual(readFact(kind, fact, us));
    }
    expect(({} as Record<string, unknown>)["polluted"]).toBeUndefined();
  });

  test("anything at all", { timeout: PATIENCE }, () => {
    fc.assert(fc.property(anyInput(KEYS), fc.constantFrom(...KITCHENS), (input, habits) => { holdToIt(kind, input, habits); }), runs(150));
  });

  test("a good fact spoiled in one to three places", { timeout: PATIENCE }, () => {
    fc.assert(fc.property(spoiled(goodOf(kind), KEYS), fc.constantFrom(...KITCHENS), (input, habits) => { holdToIt(kind, input, habits); }), runs(400));
  });
});

describe("more than a request can hold", () => {
  const many = <T>(length: number, one: T): readonly T[] => Array.from({ length }, () => one);
  const line = { of: "item:butter", quantity: "1 lb", note: "" };
  const part = { name: "trim", role: "discard", weight: "1 lb", pieces: many(200, "1 lb") };
  test.each<[string, FactKind, Record<string, unknown>, string]>([
    ["100,000 lines of a recipe", "recipe", { id: "a", name: "a", yields: ["1 lb"], lines: many(100_000, line) }, "lines"],
    ["100,000 lines of a dish", "dish", { id: "a", name: "a", lines: many(100_000, line) }, "lines"],
    ["100,000 yields of a recipe", "recipe", { id: "a", name: "a", yields: many(100_000, "1 lb"), lines: [] }, "yields"],
    ["100,000 parts of a test", "test", { id: "a", kind: "trim", of: "item:a", on: "2026-11-25", pieces: "1", billed: "1 lb", parts: many(100_000, part) }, "parts"],
    ["100,000 pieces of a part", "test", { id: "a", kind: "trim", of: "item:a", on: "2026-11-25", pieces: "1", billed: "1 lb", parts: [{ ...part, role: "main", pieces: many(100_000, "1 lb") }] }, "parts.0.pieces"],
    ["100,000 levels of a pack", "quote", { id: "a", itemId: "a", dealerId: "a", pack: { levels: many(100_000, { count: "1", container: "case" }), size: "1 lb", catchWeight: false }, price: "1", per: "lb" }, "pack.levels"],
    ["100,000 tests of a cut", "cut", { id: "a", name: "a", of: "item:a", partKey: "a", testIds: many(100_000, "a") }, "testIds"],
    ["100,000 dishes in a week", "sales", { id: "2026-11-23", sold: many(100_000, { dishId: "a", count: "1" }) }, "sold"],
  ])("%s are refused in one sentence, at once", (_name, kind, input, path) => {
    expect(holdToIt(kind, input)).toBe(false);
    const read = readFact(kind, input, us);
    expect(read.ok ? [] : read.problems.map((problem) => problem.path)).toEqual([path]);
  });
});
