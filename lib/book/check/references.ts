/**
 * What each fact refers to, with the path where it does. From this one list follow three checks: that everything
 * referred to is in the book, that nothing still referred to is taken off it, and that nothing is made of itself.
 */
import type { Book, FactKind, FactOf } from "../book";

export interface Reference {
  readonly path: string;
  readonly kind: FactKind;
  readonly id: string;
  /** The fact is made of what it refers to, so its cost rests on it. */
  readonly madeOf: boolean;
}

type Referrer = { readonly [K in FactKind]: (fact: FactOf[K]) => readonly Reference[] };

const to = (path: string, kind: FactKind, id: string | null, madeOf = false): readonly Reference[] => (id === null ? [] : [{ path, kind, id, madeOf }]);

const REFERENCES: Referrer = {
  kitchen: () => [],
  dealer: () => [],
  item: (item) => [...to("dealerId", "dealer", item.dealerId), ...(item.transfer?.price.kind === "item" ? to("transfer.price.itemId", "item", item.transfer.price.itemId, true) : [])],
  quote: (quote) => [...to("itemId", "item", quote.itemId), ...to("dealerId", "dealer", quote.dealerId)],
  delivery: (delivery) => [...to("dealerId", "dealer", delivery.dealerId), ...delivery.lines.flatMap((line, index) => to(`lines.${index}.itemId`, "item", line.itemId))],
  test: (test) => [
    ...to("of", test.of.kind, test.of.id, true),
    ...to("dealerId", "dealer", test.dealerId),
    ...to("followsTestId", "test", test.followsTestId),
    ...test.parts.flatMap((part, index) => (part.value === null || part.value.kind === "typed" ? [] : to(`parts.${index}.value`, part.value.kind, part.value.id, true))),
  ],
  cut: (cut) => [...to("of", cut.of.kind, cut.of.id, true), ...cut.testIds.flatMap((id, index) => to(`testIds.${index}`, "test", id, true))],
  spec: (spec) => to("cutId", "cut", spec.cutId, true),
  recipe: (recipe) => recipe.lines.flatMap((line, index) => to(`lines.${index}.of`, line.of.kind, line.of.id, true)),
  dish: (dish) => dish.lines.flatMap((line, index) => to(`lines.${index}.of`, line.of.kind, line.of.id, true)),
  menuPrice: (price) => to("id", "dish", price.id),
  sales: (week) => week.sold.flatMap((line, index) => to(`sold.${index}.dishId`, "dish", line.dishId)),
};

export function referencesOf<K extends FactKind>(kind: K, fact: FactOf[K]): readonly Reference[] {
  return REFERENCES[kind](fact);
}

/** What the fact on this shelf refers to; nothing when it is not there. */
export function referencesIn(book: Book, kind: FactKind, id: string): readonly Reference[] {
  const fact = book.shelves[kind].get(id);
  return fact === undefined ? [] : referencesOf(kind, fact as never);
}
