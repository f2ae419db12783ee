/**
 * The row of a dish's food-cost ratio: plate cost times the stored reciprocal of the net price, c/p = c·(1 + t)/G, G the
 * menu (gross) price and t the tax within it as a share of the net. So the ratio too is linear in every price.
 */
import { type Book, kitchenOf } from "@/lib/book";
import { type Ratio, ratio } from "@/lib/measure";

/** 1/p of a dish, per unit of money; null while it has no menu price. */
export function reciprocalOfNet(book: Book, dishId: string): Ratio | null {
  const price = book.shelves.menuPrice.get(dishId);
  if (price === undefined) return null;
  const gross = ratio.fromExact(price.gross.amount);
  if (ratio.sign(gross) <= 0) return null;
  return ratio.div(ratio.add(ratio.ONE, ratio.fromExact(price.taxRate ?? kitchenOf(book).taxRate)), gross);
}
