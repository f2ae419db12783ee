/**
 * What people call a fact: its own name, or what it is about ("Veal loin from Harbour Meats", "week of 2026-11-16").
 * The name is kept with each revision, so that the record still reads well when the thing has been renamed or is gone.
 */
import type { Book, FactKind, FactOf } from "@/lib/book";
import type { Fact } from "./contract";

/** Finds a fact by kind and id, among those being recorded or in the book. */
export type Lookup = <K extends FactKind>(kind: K, id: string) => FactOf[K] | undefined;

export function lookupIn(book: Book | null): Lookup {
  return (kind, id) => book?.shelves[kind].get(id);
}

/** The name of a fact that became `after`, or, when it is taken off the book (null), of what it was. */
export function factName(kind: FactKind, id: string, after: Fact | null, find: Lookup): string {
  const fact = after ?? find(kind, id);
  if (!fact) return id;
  switch (kind) {
    case "kitchen": case "dealer": case "item": case "cut": case "spec": case "recipe": case "dish":
      return (fact as FactOf[typeof kind]).name;
    case "quote": {
      const quote = fact as FactOf["quote"];
      return `${find("item", quote.itemId)?.name ?? quote.itemId} from ${find("dealer", quote.dealerId)?.name ?? quote.dealerId}`;
    }
    case "test": {
      const test = fact as FactOf["test"];
      return `${find(test.of.kind, test.of.id)?.name ?? test.of.id}, tested ${test.on}`;
    }
    case "delivery": {
      const delivery = fact as FactOf["delivery"];
      return `${delivery.kind === "credit" ? "Credit" : "Invoice"} ${delivery.number === "" ? "without a number" : delivery.number} of ${find("dealer", delivery.dealerId)?.name ?? delivery.dealerId}, ${delivery.on}`;
    }
    case "menuPrice":
      return find("dish", id)?.name ?? id;
    case "sales":
      return `week of ${id}`;
  }
}
