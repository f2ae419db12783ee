/** Comparing dealers: by what a usable pound costs, each by their own tests, and plainly where tests cannot tell. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type DealersSideBySide, compareDealers, testsToTell } from "@/lib/buying";
import type { Book, Change } from "@/lib/book";
import { type Cascade, compile, costExactly, tryOut } from "@/lib/cascade";
import { exact, ratio } from "@/lib/measure";
import { bookOf, butcherTest, cut, dish, item, menuPrice, part, q, quote, spec, typed } from "../menu/small-books";
import { figure, show } from "../yield/sheets";
import { told } from "../yield/yields";

const compiled = (book: Book): Cascade => { const made = compile(book); if (!made.ok) throw new Error("expected the book to compile"); return made.value; };
const dealer = (id: string): Change => ({ kind: "dealer", id, after: { id, name: id.toUpperCase(), note: "", minimumOrder: null, ordering: "" } });
const from = (dealerId: string, price: string): Change => { const made = quote("loin", `${price} a lb`, { dealerId, id: `loin-${dealerId}` }); return { ...made, id: `loin-${dealerId}` } as Change; };
const tested = (id: string, dealerId: string, usable: string, trim = "2", pieces: readonly string[] = []): Change =>
  butcherTest(id, "loin", "12 lb", "8 a lb", [part("main", "steak", `${usable} lb`, { pieces: pieces.map(q) }), part("by-product", "trim", `${trim} lb`, { value: { kind: "item", id: "chuck" } }), part("by-product", "bone", "0.5 lb", { value: typed("1 a lb") }), part("purge", "purge", "0.25 lb")], { dealerId });

const REST: readonly Change[] = [
  dealer("anchor"), dealer("bay"), dealer("cove"), item("loin", "mass", { dealerId: "anchor" }), item("chuck"), quote("chuck", "3 a lb", { dealerId: "anchor" }),
  spec("steak-10", "trimmed", "10 oz"), dish("frites", ["spec steak-10 1 portion"]), menuPrice("frites", "30"),
];
const compare = (facts: readonly Change[], adopted: readonly string[], more: { readonly repricing?: "by-factor" | null } = {}): DealersSideBySide & { readonly cascade: Cascade } => {
  const cascade = compiled(bookOf([...REST, ...facts, cut("trimmed", { kind: "item", id: "loin" }, adopted, more)]));
  return { ...compareDealers(cascade, { itemId: "loin", cutId: "trimmed", specId: "steak-10", dishId: "frites" }), cascade };
};
const perPound = (value: Parameters<typeof show>[0] | null | undefined): string => show(ratio.mul(value ?? ratio.ZERO, figure("453.59237")), 4);

describe("side by side", () => {
  const facts = [from("anchor", "8"), from("bay", "7.60"), from("cove", "8.20"), tested("a1", "anchor", "8"), tested("a2", "anchor", "8.1"), tested("b1", "bay", "7"), tested("b2", "bay", "7.1")];

  test("the cheapest as asked is not the cheapest as used, and one without a test is costed by the house’s", () => {
    const side = compare(facts, ["a1", "a2"]);
    expect([side.cheapestAsked, side.cheapestUsable]).toEqual(["bay", "anchor"]);
    expect(side.dealers.map(({ dealerId, by, now, tests }) => [dealerId, by, now, tests.length])).toEqual([["anchor", "own", true, 2], ["cove", "house", false, 0], ["bay", "own", false, 2]]);
    // Bay: (24·7.60 − 4·3 − 1·1)/14.1
    expect(perPound(side.dealers[2]?.cost)).toBe(show(figure("1694/141"), 4));
    expect(side.dealers[2]?.lost?.purge).toEqual(ratio.of(1n, 48n));
    expect(side.dealers[2]?.piece).toEqual(ratio.mul(figure("12"), figure("453.59237")));
    expect(side.told.map(({ other, told: { kind } }) => [other, kind])).toEqual([["bay", "too-few"], ["cove", "price-only"]]);
  });

  test("whom it is bought from now, on the tests the cut stands on, costs what the book says; by the factor too", () => {
    for (const repricing of [null, "by-factor"] as const) {
      const side = compare([...facts.map((fact) => (fact.kind === "quote" && fact.id === "loin-anchor" ? from("anchor", "9.5") : fact))], ["a1", "a2"], { repricing });
      const now = side.dealers.find((one) => one.now);
      expect(now?.cost).toEqual(costExactly(side.cascade, { kind: "cut", id: "trimmed" }));
      expect(now?.portion).toEqual(costExactly(side.cascade, { kind: "spec", id: "steak-10" }));
      expect(now?.plate).toEqual(costExactly(side.cascade, { kind: "dish", id: "frites" }));
    }
  });

  test("at the price that would make them level, they are", () => {
    const side = compare(facts, ["a1", "a2"]);
    const bay = side.dealers.find(({ dealerId }) => dealerId === "bay");
    const asked = ratio.mul(bay?.levelAt ?? ratio.ZERO, figure("453.59237"));
    const again = compare([...facts.filter(({ id }) => id !== "loin-bay"), from("bay", ratio.toExact(asked))], ["a1", "a2"]);
    expect(again.dealers.find(({ dealerId }) => dealerId === "bay")?.cost).toEqual(again.dealers.find(({ dealerId }) => dealerId === "anchor")?.cost);
  });

  test("what comes on top of the asked price counts, and is told apart from it", () => {
    const landed = { key: "freight", name: "Freight", way: "adds" as const, of: { kind: "money" as const, amount: { amount: exact("2") }, per: "lb" as const } };
    const bay = from("bay", "5");
    if (bay.kind !== "quote" || bay.after === null) throw new Error("expected a quote");
    const side = compare([...facts.filter(({ id }) => id !== "loin-bay"), { ...bay, after: { ...bay.after, landed: [landed] } }], ["a1", "a2"]);
    const found = side.dealers.find(({ dealerId }) => dealerId === "bay");
    expect([perPound(found?.asked), perPound(found?.door)]).toEqual(["5", "7"]);
  });

  test("a test that somebody left out does not speak, and short weight at the door is told apart", () => {
    const cascade = compiled(bookOf([...REST, ...facts, cut("trimmed", { kind: "item", id: "loin" }, ["a1", "a2"], { leftOut: [{ testId: "b2", reason: "tub not tared" }] }),
      { kind: "delivery", id: "d1", after: { id: "d1", dealerId: "bay", number: "1", kind: "invoice", on: "2026-11-20", note: "", lines: [
        { key: "l1", itemId: "loin", packs: null, billed: q("50 lb"), price: { amount: exact("7.60") }, per: "lb", amount: null, received: q("49 lb"), lot: "", useBy: null, note: "" },
        { key: "l2", itemId: "loin", packs: null, billed: q("20 lb"), price: { amount: exact("7.60") }, per: "lb", amount: null, received: null, lot: "", useBy: null, note: "" },
      ] } }]));
    const bay = compareDealers(cascade, { itemId: "loin", cutId: "trimmed", specId: null, dishId: null }).dealers.find(({ dealerId }) => dealerId === "bay");
    expect([bay?.tests.map(({ id }) => id), bay?.shortAtDoor]).toEqual([["b1"], ratio.of(1n, 50n)]);
  });

  test("the order of quotes, tests and dealers is irrelevant", () => {
    fc.assert(fc.property(fc.shuffledSubarray(facts, { minLength: facts.length, maxLength: facts.length }), (shuffled) => {
      const plain = ({ dealers, cheapestAsked, cheapestUsable, told: apart }: DealersSideBySide) => ({ dealers: dealers.map(({ tests, ...one }) => ({ ...one, tests: tests.map(({ id }) => id).sort() })), cheapestAsked, cheapestUsable, told: apart });
      expect(plain(compare(shuffled, ["a1", "a2"]))).toEqual(plain(compare(facts, ["a1", "a2"])));
    }), { numRuns: 25 });
  });

  test("trying every dealer leaves the book as it was", () => {
    const side = compare(facts, ["a1", "a2"]);
    const again = tryOut(side.cascade, []);
    expect(again.ok && again.value.ripple.moved).toEqual([]);
    expect(side.cascade.book.shelves.item.get("loin")?.dealerId).toBe("anchor");
  });
});

describe("can the tests tell", () => {
  const many = (id: string, dealerId: string, usables: readonly string[]): readonly Change[] => usables.map((usable, at) => tested(`${id}${at}`, dealerId, usable));
  test("clearly apart, they tell it, in money; close together they cannot, and about how many would", () => {
    const apart = compare([from("anchor", "8"), from("bay", "8"), ...many("a", "anchor", ["8.0", "8.1", "8.05", "8.02"]), ...many("b", "bay", ["7.0", "7.1", "7.02", "7.05"])], ["a0"]);
    expect(apart.told.map(({ cheaper, other, told: { kind } }) => [cheaper, other, kind])).toEqual([["anchor", "bay", "told"]]);
    const [one] = apart.told;
    if (one?.told.kind !== "told") throw new Error("expected the tests to tell");
    expect(one.told.least.gt(0) && ratio.toDecimal(one.by).gt(one.told.least) && ratio.toDecimal(one.by).lt(one.told.most)).toBe(true);

    const close = compare([from("anchor", "8"), from("bay", "8"), ...many("a", "anchor", ["8.0", "7.4", "8.3", "7.7"]), ...many("b", "bay", ["7.9", "7.3", "8.2", "7.6"])], ["a0"]);
    const [pair] = close.told;
    if (pair?.told.kind !== "cannot-tell") throw new Error(`expected that they cannot tell: ${JSON.stringify(pair?.told.kind)}`);
    expect(pair.told.low.lt(0) && pair.told.high.gt(0)).toBe(true);
    expect(pair.told.tests ?? 999).toBeGreaterThan(4);
  });

  test("so many tests would tell, and one fewer would not", () => {
    // Spread 0.02 on both sides, 0.03 apart: t·0.02·√(2/n) < 0.03 first at n = 5 (2.306 × 0.01265 = 0.0292).
    const a = told(["0.70", "0.72", "0.74"], "a");
    const b = told(["0.67", "0.69", "0.71"], "b");
    expect(testsToTell(a, b)).toBe(5);
    expect(testsToTell(a, a)).toBe(null);
    expect(testsToTell(a, told(["0.7199", "0.7", "0.74"], "c"))).toBe(null);
    expect(testsToTell(a.slice(0, 1), b)).toBe(null);
  });
});
