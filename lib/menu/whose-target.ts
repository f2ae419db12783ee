/** Whose target a dish is held against: its own comes before its section's, and that before the kitchen's. */
import { type Book, kitchenOf } from "@/lib/book";

export type TargetOf = "dish" | "section" | "kitchen";

export function whoseTarget(book: Book, dishId: string): TargetOf {
  if ((book.shelves.menuPrice.get(dishId)?.target ?? null) !== null) return "dish";
  const section = book.shelves.dish.get(dishId)?.section;
  return kitchenOf(book).sectionTargets.some((one) => one.section === section) ? "section" : "kitchen";
}
