/** What people call a node: the name of its fact, or its id where the fact is not in the book. */
import type { Book } from "@/lib/book";
import type { NodeRef } from "./node";

export function nameOf(book: Book, ref: NodeRef): string {
  return book.shelves[ref.kind].get(ref.id)?.name ?? ref.id;
}
