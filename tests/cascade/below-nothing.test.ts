import { expect, test } from "vitest";
import { belowNothing, compile, tryOut } from "@/lib/cascade";
import { bookOf, quote, striploin } from "../menu/small-books";

function tried(price: string): readonly string[] {
  const cascade = compile(bookOf(striploin));
  if (!cascade.ok) throw new Error("expected the striploin's book to compile");
  const laid = tryOut(cascade.value, [quote("striploin", price)]);
  if (!laid.ok) throw new Error("expected the price to be laid over the book");
  return belowNothing(laid.value.ripple).map((problem) => problem.sentence);
}

test("a price at which by-products are worth more than the whole is told as a slip", () => {
  expect(tried("0.10 a lb")).toEqual(["strip would cost less than nothing: its by-products would be worth more than what is paid for it. Check the price, and what the by-products are worth."]);
});

test("any price above that is a price", () => expect(tried("3 a lb")).toEqual([]));
