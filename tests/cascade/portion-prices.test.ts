/** Portions by price: each cell is what a costing at that price would say; the stages unrolled say the same as the line. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Book, Change, PortionSpec } from "@/lib/book";
import { type Cascade, atPrice, compile, costExactly, costOf, dishesAbove, portionCost, portionLine, portionPrices, tryOut } from "@/lib/cascade";
import { baseFactor, exact, ratio } from "@/lib/measure";
import { bookOf, butcherTest, cut, dish, item, part, q, quote, randomBook, rate, recipe, spec, typed } from "../menu/small-books";

function compiled(book: Book): Cascade {
  const cascade = compile(book);
  if (!cascade.ok) throw new Error("expected the book to compile");
  return cascade.value;
}

/** The book with a price asked for the item, and the spec at a size as cut. */
function costed(cascade: Cascade, itemId: string, price: string, spec: PortionSpec, size: PortionSpec["size"]) {
  const asked = [...cascade.book.shelves.quote.values()].find((one) => one.itemId === itemId);
  if (asked === undefined) throw new Error(`expected a quote of ${itemId}`);
  const unit = asked.per === "pack" ? asked.pack.size.unit : asked.per;
  const changes: readonly Change[] = [
    { kind: "quote", id: asked.id, after: { ...asked, price: { amount: exact(price) }, per: unit } },
    { kind: "spec", id: spec.id, after: { ...spec, size, meanCut: null, tolerance: null } },
  ];
  const tried = tryOut(cascade, changes);
  if (!tried.ok) throw new Error("expected the price to be tried");
  return { after: tried.value.after, perBase: ratio.div(ratio.fromExact(exact(price)), ratio.fromExact(baseFactor(unit))) };
}

const facts: readonly Change[] = [
  item("loin"), quote("loin", "10 a lb"), item("chuck"), quote("chuck", "4 a lb"),
  butcherTest("t1", "loin", "20 lb", "8 a lb", [
    part("main", "steak", "12 lb", { pieces: [q("6 lb"), q("6 lb")] }), part("by-product", "trim", "3 lb", { value: { kind: "item", id: "chuck" } }),
    part("by-product", "bone", "2 lb", { value: typed("1 a lb") }), part("discard", "fat", "2 lb"),
  ]),
  cut("trimmed", { kind: "item", id: "loin" }, ["t1"]),
  butcherTest("t2", "trimmed", "6 lb", null, [part("main", "steak", "5 lb", { pieces: [q("5 lb")] }), part("by-product", "ends", "0.5 lb", { value: { kind: "item", id: "loin" } })], { of: { kind: "cut", id: "trimmed" } }),
  cut("roasted", { kind: "cut", id: "trimmed" }, ["t2"]),
  spec("steak-10", "trimmed", "10 oz", { costing: "whole", endValue: rate("2 a lb") }),
  spec("slice-5", "roasted", "5 oz"),
  recipe("sandwich", ["4 portion"], ["spec slice-5 4 portion"]),
  dish("steak-frites", ["spec steak-10 1 portion"]), dish("club", ["recipe sandwich 1 portion"]),
];

describe("portions by price", () => {
  const cascade = compiled(bookOf(facts));

  test("the method in force first, then the other where they differ", () => {
    const prices = portionPrices(cascade, cascade.book.shelves.spec.get("steak-10") as PortionSpec);
    if (!prices.ok) throw new Error("expected prices");
    expect(prices.value.methods.map(({ method, inForce }) => [method, inForce])).toEqual([["by-products-at-own-price", true], ["by-factor", false]]);
    // W/U = 20/12; trim 3/12 at chuck's price and bone 2/12 at 1 are held.
    const [own, moved] = prices.value.methods;
    expect(own?.line.slope).toEqual(ratio.of(20n, 12n));
    // By the factor the bone's 1 a pound moves with the 8 of the test's day.
    expect(moved?.line.slope).toEqual(ratio.sub(ratio.of(20n, 12n), ratio.of(2n, 12n * 8n)));
  });

  test("a chain of cuts has one root; what its by-products are linked to moves too", () => {
    const slice = cascade.book.shelves.spec.get("slice-5") as PortionSpec;
    const prices = portionPrices(cascade, slice);
    if (!prices.ok) throw new Error("expected prices");
    expect(prices.value.item.id).toBe("loin");
    expect(prices.value.methods).toHaveLength(1);
    expect(prices.value.methods[0]?.stages.map(({ cutId }) => cutId)).toEqual(["trimmed", "roasted"]);
    expect(prices.value.methods[0]?.line.slope).toEqual(ratio.sub(ratio.mul(ratio.of(6n, 5n), ratio.of(20n, 12n)), ratio.of(1n, 10n)));
  });

  test("over random books: each cell is the cost after that price was tried, exactly", () => {
    let cells = 0;
    fc.assert(fc.property(fc.gen(), (g) => {
      const before = compiled(randomBook(g));
      for (const one of before.book.shelves.spec.values()) {
        const prices = portionPrices(before, one);
        if (!prices.ok) {
          // What is not bought has no dealer's price to chart by.
          expect(costOf(before, { kind: "cut", id: one.cutId })?.missing.length !== 0 || madeHere(before.book, one.cutId)).toBe(true);
          continue;
        }
        const { item: root, methods, priceNow } = prices.value;
        expect(priceNow).toEqual(costExactly(before, root));
        for (const size of [one.size, q("3.5 oz"), q("7 oz")]) {
          const line = portionLine(before.book, one, size);
          const { after, perBase } = costed(before, root.id, "13.37", one, size);
          const cost = costOf(after, { kind: "spec", id: one.id });
          if (line === null) {
            expect(cost?.missing.length).not.toBe(0);
            continue;
          }
          for (const { method, inForce, line: cutLine } of methods) {
            const of = inForce ? after : switched(after, one.cutId, method);
            expect(atPrice(cutLine, perBase)).toEqual(costExactly(of, { kind: "cut", id: one.cutId }));
            expect(portionCost(line, atPrice(cutLine, perBase))).toEqual(costExactly(of, { kind: "spec", id: one.id }));
            cells += 1;
          }
        }
      }
    }), { numRuns: 60 });
    expect(cells).toBeGreaterThan(20);
  });

  test("the dishes that a portion goes into, straight and through recipes", () => {
    expect(dishesAbove(cascade.book, { kind: "spec", id: "slice-5" }).map(({ ref }) => ref.id)).toEqual(["club"]);
    expect(dishesAbove(cascade.book, { kind: "item", id: "loin" }).map(({ ref }) => ref.id)).toEqual(["club", "steak-frites"]);
  });
});

/** Whether what a cut is made from, in the end, is a by-product of the house. */
function madeHere(book: Book, cutId: string): boolean {
  const of = book.shelves.cut.get(cutId)?.of;
  if (of === undefined) return false;
  return of.kind === "cut" ? madeHere(book, of.id) : book.shelves.item.get(of.id)?.transfer !== null;
}

function switched(cascade: Cascade, cutId: string, method: "by-factor" | "by-products-at-own-price"): Cascade {
  const known = cascade.book.shelves.cut.get(cutId);
  if (known === undefined) throw new Error("expected the cut");
  const tried = tryOut(cascade, [{ kind: "cut", id: cutId, after: { ...known, repricing: method } }]);
  if (!tried.ok) throw new Error("expected the method to be tried");
  return tried.value.after;
}
