/**
 * A dish's row: plate cost at the table = Σ components, garnish and cover share, each line in its source's own base,
 * with the allowances that the house makes. What only goes with a plate that is taken away is left out of it. A dish
 * without lines costs nothing yet, and lacks nothing.
 */
import type { Book, Dish } from "@/lib/book";
import type { RowSink } from "../row";
import { sayLines } from "./amount";

export function sayDish(book: Book, dish: Dish, sink: RowSink): void {
  const { lines } = dish;
  sayLines(book, lines.some((line) => line.channel === "away") ? lines.filter((line) => line.channel !== "away") : lines, dish.allowances, sink);
}
