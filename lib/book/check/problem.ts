/** A problem of a fact among the others, and how facts are spoken of in sentences. */
import type { Problem } from "@/lib/measure";
import type { Book, FactKind } from "../book";

/** A problem and the fact it is about; its path is a path within that fact. */
export interface FactProblem extends Problem {
  readonly of: { readonly kind: FactKind; readonly id: string };
}

const NOUN: Readonly<Record<FactKind, string>> = {
  kitchen: "kitchen", dealer: "dealer", item: "item", quote: "price", delivery: "delivery", test: "yield test", cut: "cut", spec: "portion",
  recipe: "recipe", dish: "dish", menuPrice: "menu price", sales: "week of sales",
};

export function nounOf(kind: FactKind): string {
  return NOUN[kind];
}

/** What people call a fact: its own name, or what it is about. */
export function factName(book: Book, kind: FactKind, id: string): string {
  const { shelves } = book;
  switch (kind) {
    case "quote": {
      const quote = shelves.quote.get(id);
      return quote === undefined ? id : `${factName(book, "item", quote.itemId)} from ${factName(book, "dealer", quote.dealerId)}`;
    }
    case "test": {
      const test = shelves.test.get(id);
      return test === undefined ? id : `${factName(book, test.of.kind, test.of.id)}, ${test.on}`;
    }
    case "delivery": {
      const delivery = shelves.delivery.get(id);
      return delivery === undefined ? id : `${factName(book, "dealer", delivery.dealerId)}, ${delivery.number === "" ? delivery.on : delivery.number}`;
    }
    case "menuPrice": return factName(book, "dish", id);
    case "sales": return `the week of ${id}`;
    default: return shelves[kind].get(id)?.name ?? id;
  }
}
