/** What rests on a thing: found for a whole list as for one row, and by the book as it is, not as it was. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Book, withChanges } from "@/lib/book";
import { NODE_KINDS, type NodeRef, usersOf } from "@/lib/cascade";
import { bookOf, dish, item, quote, randomBook, recipe, striploin } from "../menu/small-books";

/** Every shelf looked through for one thing: what usersOf must say, the obvious way. */
function lookedThrough(book: Book, of: NodeRef): string[] {
  const { cut, spec, test: tests, recipe: recipes, dish: dishes } = book.shelves;
  const is = (one: { readonly kind: string; readonly id?: string }): boolean => one.kind === of.kind && one.id === of.id;
  const worth = new Set([...tests.values()].filter((one) => one.parts.some(({ value }) => value !== null && is(value))).map(({ id }) => id));
  return [
    ...[...book.shelves.item.values()].filter(({ transfer }) => transfer?.price.kind === "item" && is({ kind: "item", id: transfer.price.itemId })).map(({ id }) => `item ${id}`),
    ...[...cut.values()].filter((one) => is(one.of) || one.testIds.some((id) => worth.has(id))).map(({ id }) => `cut ${id}`),
    ...[...spec.values()].filter((one) => of.kind === "cut" && one.cutId === of.id).map(({ id }) => `spec ${id}`),
    ...[...recipes.values()].filter((one) => one.lines.some((line) => is(line.of))).map(({ id }) => `recipe ${id}`),
    ...[...dishes.values()].filter((one) => one.lines.some((line) => is(line.of))).map(({ id }) => `dish ${id}`),
  ].sort();
}

const told = (book: Book, of: NodeRef): string[] => usersOf(book, of).map(({ ref }) => `${ref.kind} ${ref.id}`);

describe("what rests on a thing", () => {
  test("is what looking through every shelf finds, over random books", () => {
    fc.assert(fc.property(fc.gen(), (draw) => {
      const book = randomBook(draw);
      for (const kind of NODE_KINDS) for (const id of book.shelves[kind].keys()) expect(told(book, { kind, id }).toSorted(), `${kind} ${id}`).toEqual(lookedThrough(book, { kind, id }));
    }), { numRuns: 60 });
  });

  test("comes in the order of the chain, by name within a kind, each once", () => {
    const book = bookOf([
      item("butter"), quote("butter", "4.20 a lb"), recipe("jus", ["1 qt"], ["item butter 1 oz", "item butter 2 oz"]), recipe("bisque", ["1 qt"], ["item butter 1 oz"]),
      dish("toast", ["item butter 1 oz"]),
    ]);
    expect(told(book, { kind: "item", id: "butter" })).toEqual(["recipe bisque", "recipe jus", "dish toast"]);
  });

  test("a by-product's worth makes its cut rest on what it replaces, and a change is seen at once", () => {
    const book = bookOf([...striploin, dish("plain", ["item chuck 4 oz"])]);
    // Its lean trim goes into the grind, and is worth what that costs.
    expect(told(book, { kind: "recipe", id: "burger-grind" })).toEqual(["cut strip"]);
    expect(told(book, { kind: "item", id: "chuck" })).toEqual(["recipe burger-grind", "dish plain"]);
    const after = withChanges(book, [dish("burger", ["item chuck 6 oz"]), { kind: "dish", id: "plain", after: null }]);
    expect(told(after, { kind: "item", id: "chuck" })).toEqual(["recipe burger-grind", "dish burger"]);
    expect(told(book, { kind: "item", id: "chuck" })).toEqual(["recipe burger-grind", "dish plain"]);
  });
});
