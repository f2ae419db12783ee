/** The menu as it wants looking at; and figures that are kept from one change to the next are those that would be worked out anew. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Book } from "@/lib/book";
import { type Cascade, advance, compile } from "@/lib/cascade";
import { exact } from "@/lib/measure";
import { type DishFigures, menuFigures, worstFirst } from "@/lib/menu";
import { bookOf, dish, item, menuPrice, quote, randomBook } from "./small-books";

function compiled(book: Book): Cascade {
  const cascade = compile(book);
  if (!cascade.ok) throw new Error(cascade.problems.map((problem) => problem.sentence).join(" "));
  return cascade.value;
}

const digits = (figures: readonly DishFigures[]): string => JSON.stringify(figures);

describe("the menu, worst first", () => {
  test("over its target before near it before under it, each the farthest first, then what is not known or has no price", () => {
    const cascade = compiled(bookOf([
      item("butter"), quote("butter", "4.00 a lb"), item("saffron"),
      // 4.00 on the plate: 50, 40, 30 (near: a point under 30 begins at 29), 20 and 10 %.
      ...["8", "10", "13.50", "20", "40"].flatMap((gross, at) => [dish(`plate-${at}`, ["item butter 1 lb"]), menuPrice(`plate-${at}`, gross)]),
      dish("twin", ["item butter 1 lb"]), menuPrice("twin", "10"),
      dish("unknown", ["item saffron 1 g"]), menuPrice("unknown", "30"), dish("gift", ["item butter 1 lb"]),
    ]));
    expect(worstFirst(cascade).map(({ id, state }) => `${id} ${state}`)).toEqual([
      "plate-0 over", "plate-1 over", "twin over", "plate-2 near", "plate-3 under", "plate-4 under", "unknown incomplete", "gift unpriced",
    ]);
  });

  test("holds every dish once, over random books", () => {
    fc.assert(fc.property(fc.gen(), (draw) => {
      const cascade = compiled(randomBook(draw));
      expect(worstFirst(cascade).map(({ id }) => id).sort()).toEqual([...cascade.book.shelves.dish.keys()].sort());
    }), { numRuns: 60 });
  });
});

test("after changes the figures are those of the same book met for the first time", () => {
  fc.assert(fc.property(fc.gen(), (draw) => {
    let cascade = compiled(randomBook(draw));
    menuFigures(cascade);
    const quotes = [...cascade.book.shelves.quote.values()];
    for (const asked of quotes.slice(0, 3)) {
      const changed = advance(cascade, [{ kind: "quote", id: asked.id, after: { ...asked, price: { amount: exact(draw(() => fc.constantFrom("0.87", "3.40", "17.31"))) } } }]);
      if (!changed.ok) continue;
      cascade = changed.value.cascade;
      // A copy of the book shares nothing with what was kept.
      expect(digits(menuFigures(cascade))).toBe(digits(menuFigures(compiled(structuredClone(cascade.book)))));
    }
  }), { numRuns: 60 });
});
