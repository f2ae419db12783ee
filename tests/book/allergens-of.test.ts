/** What is in a thing by its labels: the union over its leaves; it only grows, unknown is never lost, order is nothing. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ALLERGENS, type Allergen, type Allergens, type AllergensFound, type Book, allergenState, allergensOf, allergensOfLines } from "@/lib/book";
import { readDemo } from "@/seed/read";

interface SmallBook {
  readonly items: Readonly<Record<string, Allergens | null>>;
  readonly cuts?: Readonly<Record<string, string>>;
  readonly specs?: Readonly<Record<string, string>>;
  /** Lines as "item:a", "recipe:b". */
  readonly recipes?: Readonly<Record<string, readonly string[]>>;
  readonly dishes?: Readonly<Record<string, readonly string[]>>;
}

const of = (text: string) => { const [kind = "", id = ""] = text.split(":"); return { kind, id }; };

/** Only what the union looks at. */
function bookOf({ items, cuts = {}, specs = {}, recipes = {}, dishes = {} }: SmallBook): Book {
  const shelf = <T>(facts: Readonly<Record<string, T>>, fact: (id: string, value: T) => unknown) => new Map(Object.entries(facts).map(([id, value]) => [id, fact(id, value)]));
  const lines = (texts: readonly string[]) => texts.map((text, index) => ({ key: String(index), of: of(text), channel: index % 2 === 0 ? "any" : "away" }));
  return {
    shelves: {
      item: shelf(items, (id, allergens) => ({ id, name: id.toUpperCase(), allergens })),
      cut: shelf(cuts, (id, text) => ({ id, name: id, of: of(text) })),
      spec: shelf(specs, (id, cutId) => ({ id, name: id, cutId })),
      recipe: shelf(recipes, (id, texts) => ({ id, name: id, lines: lines(texts) })),
      dish: shelf(dishes, (id, texts) => ({ id, name: id, lines: lines(texts) })),
    },
  } as unknown as Book;
}

const label = (contains: readonly Allergen[], mayContain: readonly Allergen[] = []): Allergens => ({ contains, mayContain, source: "label", on: "2026-11-26" });
const names = (found: AllergensFound, list: "contains" | "mayContain") => found[list].map(({ allergen }) => allergen);

describe("what is in a dish", () => {
  const book = bookOf({
    items: { fish: label(["fish"]), butter: label(["milk"], ["soy"]), flour: label(["gluten"], ["milk"]), salt: label([]), wine: null },
    cuts: { fillet: "item:fish", steak: "cut:fillet" },
    specs: { portion: "steak" },
    recipes: { sauce: ["item:butter", "item:wine"], roux: ["recipe:sauce", "item:flour"] },
    dishes: { plate: ["spec:portion", "recipe:roux"], salted: ["item:salt"], empty: [] },
  });
  const plate = allergensOf(book, { kind: "dish", id: "plate" });

  it("is followed through portions, cuts of cuts and recipes in recipes down to the items, with the item each comes through", () => {
    expect(names(plate, "contains")).toEqual(["milk", "fish", "gluten"]);
    expect(plate.contains[0]?.through).toEqual([{ id: "butter", name: "BUTTER" }]);
    expect(plate.leaves.map(({ id }) => id)).toEqual(["butter", "fish", "flour", "wine"]);
  });
  it("tells traces apart, and not where it is in it for certain", () => {
    expect(names(plate, "mayContain")).toEqual(["soy"]);
  });
  it("names what nobody has looked up, and is then free of nothing", () => {
    expect(plate.unknown.map(({ id }) => id)).toEqual(["wine"]);
    expect(allergenState(plate, "peanut")).toBe("unknown");
    expect(allergenState(plate, "milk")).toBe("contains");
    expect(allergenState(plate, "soy")).toBe("may-contain");
    expect(allergenState(allergensOf(book, { kind: "dish", id: "salted" }), "peanut")).toBe("none-named");
  });
  it("counts the lines of every way out of the house, and what the book does not hold as unknown", () => {
    const away = bookOf({ items: { a: label([]), nuts: label(["tree nuts"]) }, dishes: { d: ["item:a", "item:nuts", "recipe:gone", "item:gone", "spec:lost"] } });
    const found = allergensOf(away, { kind: "dish", id: "d" });
    expect(names(found, "contains")).toEqual(["tree nuts"]);
    expect(found.unknown.map(({ id }) => id)).toEqual(["gone", "lost"]);
  });
  it("reaches an item under twenty thousand recipes", () => {
    const deep = Object.fromEntries(Array.from({ length: 20_000 }, (_, at) => [`r${at}`, [at === 0 ? "item:nuts" : `recipe:r${at - 1}`]]));
    expect(names(allergensOf(bookOf({ items: { nuts: label(["tree nuts"]) }, recipes: deep }), { kind: "recipe", id: "r19999" }), "contains")).toEqual(["tree nuts"]);
  });
  it("comes to an end though a book goes round in a circle", () => {
    expect(allergensOf(bookOf({ items: {}, recipes: { a: ["recipe:b"], b: ["recipe:a"] } }), { kind: "recipe", id: "a" }).leaves).toEqual([]);
  });
});

const labels = fc.option(fc.record({ contains: fc.subarray([...ALLERGENS]), mayContain: fc.subarray([...ALLERGENS]) }).map(({ contains, mayContain }) => label(contains, mayContain)), { nil: null });
const ITEMS = ["a", "b", "c", "d", "e"] as const;
const kitchens = fc.record({
  items: fc.tuple(labels, labels, labels, labels, labels).map((all) => Object.fromEntries(ITEMS.map((id, index) => [id, all[index] ?? null]))),
  recipes: fc.tuple(...[0, 1, 2].map((at) => fc.array(fc.oneof(fc.constantFrom(...ITEMS).map((id) => `item:${id}`), ...(at === 0 ? [] : [fc.integer({ min: 0, max: at - 1 }).map((below) => `recipe:r${below}`)])), { maxLength: 5 })))
    .map((all) => Object.fromEntries(all.map((lines, at) => [`r${at}`, lines]))),
});
const rank = { "none-named": 0, "may-contain": 1, contains: 2 } as const;

describe("laws of the union", () => {
  it("adding a line never takes an allergen away, and never an unknown", () => {
    fc.assert(fc.property(kitchens, fc.constantFrom(...ITEMS), (small, more) => {
      const before = allergensOf(bookOf(small), { kind: "recipe", id: "r2" });
      const after = allergensOf(bookOf({ ...small, recipes: { ...small.recipes, r2: [...(small.recipes["r2"] ?? []), `item:${more}`] } }), { kind: "recipe", id: "r2" });
      for (const allergen of ALLERGENS) {
        const was = allergenState({ ...before, unknown: [] }, allergen) as keyof typeof rank;
        const is = allergenState({ ...after, unknown: [] }, allergen) as keyof typeof rank;
        expect(rank[is]).toBeGreaterThanOrEqual(rank[was]);
      }
      expect(after.unknown).toEqual(expect.arrayContaining([...before.unknown]));
    }));
  });
  it("an unknown leaf is told at every height above it, and nothing is then said to be free", () => {
    fc.assert(fc.property(kitchens, (small) => {
      const book = bookOf(small);
      for (const id of ["r0", "r1", "r2"]) {
        const found = allergensOf(book, { kind: "recipe", id });
        for (const line of small.recipes[id] ?? []) {
          const below = allergensOfLines(book, [{ of: of(line) as { kind: "item" | "recipe"; id: string } }]);
          expect(found.unknown).toEqual(expect.arrayContaining([...below.unknown]));
          for (const allergen of names(below, "contains")) expect(names(found, "contains")).toContain(allergen);
        }
        if (found.unknown.length > 0) expect(ALLERGENS.map((one) => allergenState(found, one))).not.toContain("none-named");
      }
    }));
  });
  it("does not depend on the order of lines", () => {
    fc.assert(fc.property(kitchens, (small) => {
      const turned = { ...small, recipes: Object.fromEntries(Object.entries(small.recipes).map(([id, lines]) => [id, lines.toReversed()])) };
      expect(allergensOf(bookOf(turned), { kind: "recipe", id: "r2" })).toEqual(allergensOf(bookOf(small), { kind: "recipe", id: "r2" }));
    }));
  });
});

describe("the demo kitchen", () => {
  it("keeps labels, and leaves some unread", () => {
    const items = readDemo().entries.flatMap(({ change }) => (change.kind === "item" && change.after !== null ? [change.after] : []));
    expect(items.filter(({ allergens }) => allergens === null).length).toBeGreaterThan(1);
    expect(items.filter(({ allergens }) => allergens !== null).length).toBeGreaterThan(40);
  });
});
