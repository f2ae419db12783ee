/**
 * A dish's row: plate cost = Σ components, garnish, cover share and packaging, each line in its source's own base. A
 * dish without lines costs nothing yet, and lacks nothing.
 */
import type { Book, Dish } from "@/lib/book";
import type { RowSink } from "../row";
import { sayIngredient } from "./amount";

export function sayDish(book: Book, dish: Dish, sink: RowSink): void {
  for (const line of dish.lines) sayIngredient(book, line, sink);
}
