/** How many portions what was weighed gives, for the portion specs of the cuts made from the same thing. */
import { type Book, type YieldTest, cutsOf } from "@/lib/book";
import { type Habits, kindOf, quantityText } from "@/lib/measure";
import { piecesOf, quantityInBase, wholePortions } from "@/lib/yield";

/** "It gives 13 portions of 10 oz, 6 oz left over." "" where no portion is specified, or the pieces were not weighed apart. */
export function portionsLine(book: Book, test: YieldTest, habits: Habits): string {
  for (const cut of cutsOf(book, test.of)) {
    for (const spec of book.shelves.spec.values()) {
      if (spec.cutId !== cut.id || kindOf(spec.size.unit) !== kindOf(test.billed.unit)) continue;
      const pieces = piecesOf(test, cut.partKey);
      if (pieces === null || pieces.length === 0) continue;
      const counted = wholePortions(pieces.map(quantityInBase), quantityInBase(spec.size), spec.size.unit);
      if (counted.ok) return `It gives ${counted.value.portions.toString()} ${counted.value.portions === 1n ? "portion" : "portions"} of ${quantityText(spec.size, habits)}.`;
    }
  }
  return "";
}
