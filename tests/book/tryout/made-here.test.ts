/** A try-out of a dealer's price says of a by-product of the house that nobody sells it, and not that a price is missing. */
import { describe, expect, test } from "vitest";
import { type MoveBody, basisOf, changesOf, costingQuote } from "@/lib/book";
import { exact } from "@/lib/measure";
import { bookOf, byProduct, item, quote } from "../../menu/small-books";

describe("a by-product of the house", () => {
  const book = bookOf([item("chuck"), quote("chuck", "3.20 a lb"), byProduct("trim", "chuck less 0.60 a lb")]);

  test.each<MoveBody>([
    { kind: "price", itemId: "trim", quoteId: null, price: { amount: exact("2") }, per: "lb" },
    { kind: "share", of: { kind: "item", id: "trim" }, share: exact("0.1") },
  ])("has no quote, and a move of its price is told so: $kind", (body) => {
    expect(costingQuote(book, "trim")).toBeNull();
    const laid = changesOf(book, [{ key: "move", about: "trim", body, basis: basisOf(book, body), added: null }]);
    expect(laid.changes).toEqual([]);
    expect(JSON.stringify([...laid.problems.values()])).toContain("trim is made in the house");
  });
});
