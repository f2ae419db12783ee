/** What comes off a thing holds what that thing's label names. */
import type { Allergens, Book, Origin } from "@/lib/book";

/** The label of the item that a test's piece was cut from; null where nobody has looked at it. */
export function allergensLike(book: Book, of: Origin): Allergens | null {
  let at = of;
  for (let steps = 0; steps <= book.shelves.cut.size; steps += 1) {
    if (at.kind === "item") {
      const item = book.shelves.item.get(at.id);
      return item?.allergens ? { ...item.allergens, source: `as ${item.name}: ${item.allergens.source}`.slice(0, 200) } : null;
    }
    const cut = book.shelves.cut.get(at.id);
    if (cut === undefined) return null;
    at = cut.of;
  }
  return null;
}
