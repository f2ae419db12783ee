/** Sensitivities, break-evens and leaves: cost is linear in each price, so a slope is checked by moving the price. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Book, Change } from "@/lib/book";
import { type Cascade, advance, breakEvenPrice, compile, costExactly, costOf, dishesPerPrice, leavesOf, priceSensitivity } from "@/lib/cascade";
import { Decimal, baseFactor, exact, ratio, toDecimal } from "@/lib/measure";
import { bookOf, cut, dish, item, menuPrice, quote, randomBook, recipe, spec, striploin } from "../menu/small-books";

const POUND = toDecimal(baseFactor("lb"));

const facts: readonly Change[] = [
  ...striploin,
  item("shallot"), quote("shallot", "1.89 a lb"),
  recipe("butter", ["2 lb"], ["item shallot 8 oz"]),
  dish("steak", ["spec steak-10oz 1 portion", "recipe butter 1 oz", "item shallot 0.5 oz"]), menuPrice("steak", "38"),
  dish("salad", ["item shallot 1 oz"]),
];

function compiled(book: Book): Cascade {
  const cascade = compile(book);
  if (!cascade.ok) throw new Error("expected the book to compile");
  return cascade.value;
}

function laid(cascade: Cascade, changes: readonly Change[]): Cascade {
  const made = advance(cascade, changes);
  if (!made.ok) throw new Error("expected the changes to be laid");
  return made.value.cascade;
}

const round = (value: Decimal | null | undefined): string | undefined => value?.toSignificantDigits(28).toString();

describe("the slope of a plate in a price", () => {
  test("of the striploin, by hand: its cut takes 1/Y, and the linked trim is credited at the chuck's price", () => {
    const slopes = priceSensitivity(compiled(bookOf(facts)), "steak");
    // 10 oz of a cut of 8.6875 lb out of 13.5 lb, per money a gram.
    const ten = toDecimal(baseFactor("oz")).mul(10);
    expect(round(slopes.get("striploin"))).toBe(round(new Decimal("13.5").div("8.6875").mul(ten)));
    expect(round(slopes.get("chuck"))).toBe(round(new Decimal("1.625").div("8.6875").mul(ten).neg()));
    expect([...slopes.keys()].sort()).toEqual(["chuck", "shallot", "striploin"]);
  });

  test("over random books: moving a price moves every plate by its slope, exactly, and both directions agree", () => {
    fc.assert(fc.property(fc.gen(), (g) => {
      const before = compiled(randomBook(g));
      const asked = [...before.book.shelves.quote.values()][0];
      const dealers = asked && before.book.shelves.item.get(asked.itemId);
      if (asked === undefined || dealers === undefined) return;
      const ref = { kind: "item", id: asked.itemId } as const;
      const after = laid(before, [{ kind: "quote", id: asked.id, after: { ...asked, price: { amount: exact("17.31") } } }]);
      const step = ratio.sub(costExactly(after, ref), costExactly(before, ref));
      const byItem = dishesPerPrice(before, ref.id);
      for (const id of before.book.shelves.dish.keys()) {
        const slope = priceSensitivity(before, id).get(ref.id);
        const other = byItem.get(id) ?? new Decimal(0);
        expect(other.minus(slope ?? 0).abs().lte(other.abs().mul("1e-28")), `${id}: ${other.toString()} is not ${slope?.toString() ?? "0"}`).toBe(true);
        if (costOf(before, { kind: "dish", id })?.missing.length !== 0 || costOf(before, ref)?.missing.length !== 0) continue;
        const moved = ratio.toDecimal(ratio.sub(costExactly(after, { kind: "dish", id }), costExactly(before, { kind: "dish", id })));
        const told = (slope ?? new Decimal(0)).mul(ratio.toDecimal(step));
        expect(moved.minus(told).abs().lte("1e-28"), `${id}: ${moved.toString()} is not ${told.toString()}`).toBe(true);
      }
    }), { numRuns: 150 });
  });

  test("reads an older cascade as it was", () => {
    const before = compiled(bookOf(facts));
    const slope = dishesPerPrice(before, "striploin").get("steak");
    const after = laid(before, [spec("steak-10oz", "strip", "5 oz")]);
    expect(round(dishesPerPrice(after, "striploin").get("steak"))).toBe(round(slope?.div(2)));
    expect(round(dishesPerPrice(before, "striploin").get("steak"))).toBe(round(slope));
    expect(dishesPerPrice(before, "nothing").size).toBe(0);
    expect(priceSensitivity(before, "nothing").size).toBe(0);
  });
});

describe("the price at which a dish tips", () => {
  test("at the break-even price the plate costs exactly what is affordable", () => {
    const cascade = compiled(bookOf(facts));
    const affordable = new Decimal("12.16");
    const price = breakEvenPrice(cascade, "steak", "striploin", affordable);
    const perPound = price?.mul(POUND).toSignificantDigits(25);
    const at = laid(cascade, [quote("striploin", `${perPound?.toFixed() ?? ""} a lb`)]);
    expect(costOf(at, { kind: "dish", id: "steak" })?.amount.minus(affordable).abs().lte("1e-22")).toBe(true);
  });

  test("may lie below zero; null where the dish does not rest on the item, or something else is missing", () => {
    const cascade = compiled(bookOf([...facts, item("saffron"), dish("rice", ["item saffron 1 oz", "item shallot 1 oz"])]));
    expect(breakEvenPrice(cascade, "steak", "shallot", new Decimal("0.10"))?.isNegative()).toBe(true);
    expect(breakEvenPrice(cascade, "salad", "striploin", new Decimal(5))).toBeNull();
    expect(breakEvenPrice(cascade, "rice", "shallot", new Decimal(5))).toBeNull();
    expect(breakEvenPrice(cascade, "nothing", "shallot", new Decimal(5))).toBeNull();
    // The only thing missing is the price that is asked for: then it can be told.
    expect(breakEvenPrice(cascade, "rice", "saffron", new Decimal(5))?.gt(0)).toBe(true);
  });

  test("takes an affordable cost of any length", () => {
    const affordable = new Decimal(`1.${"3".repeat(150)}`);
    const price = breakEvenPrice(compiled(bookOf(facts)), "salad", "shallot", affordable);
    expect(round(price)).toBe(round(affordable.div(toDecimal(baseFactor("oz")))));
  });
});

describe("leaves", () => {
  test("everything bought that a plate rests on, once", () => {
    const cascade = compiled(bookOf(facts));
    expect(leavesOf(cascade, { kind: "dish", id: "steak" }).map((leaf) => leaf.name)).toEqual(["striploin", "chuck", "shallot"]);
    expect(leavesOf(cascade, { kind: "item", id: "chuck" })).toEqual([{ ref: { kind: "item", id: "chuck" }, name: "chuck" }]);
    expect(leavesOf(cascade, { kind: "dish", id: "nothing" })).toEqual([]);
  });

  test("a cut without a test rests on its origin all the same", () => {
    const cascade = compiled(bookOf([item("lamb"), quote("lamb", "6.65 a lb"), cut("loin", { kind: "item", id: "lamb" }, [])]));
    expect(leavesOf(cascade, { kind: "cut", id: "loin" }).map((leaf) => leaf.name)).toEqual(["lamb"]);
  });
});
