/** Lines of a delivery as the form shows them, in the kitchen's own writing, and the lists that the form chooses from. */
import { type Book, type DeliveryLine, type FactOf, labelOf } from "@/lib/book";
import type { FilledLine } from "@/lib/buying";
import { type Exact, type Habits, UNITS, kindOf, oneOf, printNumber, quantityText, toDecimal } from "@/lib/measure";
import type { Choice, Values } from "@/components/form";
import { quoteUnits } from "../items/quote-units";

type Kitchen = FactOf["kitchen"];

/** A figure as it is typed here, with all its places. */
export function figureText(amount: Exact, habits: Pick<Habits, "locale">): string {
  return amount.includes("/") ? amount : printNumber(toDecimal(amount), habits, { places: amount.split(".")[1]?.length ?? 0 });
}

export function deliveredValues(book: Book, line: DeliveryLine, kitchen: Kitchen): Values {
  return {
    key: line.key, item: labelOf(book, { kind: "item", id: line.itemId }), packs: line.packs === null ? "" : figureText(line.packs, kitchen),
    billed: quantityTyped(line.billed, kitchen), received: line.received === null ? "" : quantityTyped(line.received, kitchen),
    price: line.price.typed ?? figureText(line.price.amount, kitchen), per: line.per, amount: line.amount === null ? "" : line.amount.typed ?? figureText(line.amount.amount, kitchen),
    lot: line.lot, useBy: line.useBy ?? "", note: line.note,
  };
}

export function filledValues(book: Book, line: FilledLine, kitchen: Kitchen): Values {
  return {
    item: line.itemId === null ? line.name : labelOf(book, { kind: "item", id: line.itemId }), packs: line.packs === null ? "" : figureText(line.packs, kitchen),
    billed: line.billed === null ? "" : quantityTyped(line.billed, kitchen), received: "", price: line.price === null ? "" : figureText(line.price, kitchen),
    per: line.per ?? (line.billed === null || line.packs !== null && kindOf(line.billed.unit) !== "mass" ? "pack" : line.billed.unit), amount: line.amount === null ? "" : figureText(line.amount, kitchen),
    lot: line.lot.slice(0, 40), useBy: line.useBy ?? "", note: line.note.slice(0, 200),
  };
}

function quantityTyped(quantity: { readonly amount: Exact; readonly unit: keyof typeof UNITS; readonly typed?: string | undefined }, kitchen: Kitchen): string {
  return quantity.typed ?? (quantity.amount.includes("/") ? quantityText(quantity, kitchen) : `${figureText(quantity.amount, kitchen)} ${UNITS[quantity.unit].one}`);
}

export function deliveryChoices(book: Book, kitchen: Kitchen): { readonly dealers: readonly Choice[]; readonly items: readonly string[]; readonly pers: readonly Choice[] } {
  return {
    dealers: [...book.shelves.dealer.values()].map(({ id, name }) => ({ value: id, label: name })).sort((a, b) => (a.label < b.label ? -1 : 1)),
    items: [...book.shelves.item.values()].filter(({ transfer }) => transfer === null).map(({ id }) => labelOf(book, { kind: "item", id })).sort(),
    pers: [...quoteUnits(null, kitchen).map((unit) => ({ value: unit, label: oneOf(unit) })), { value: "pack", label: "a pack" }],
  };
}
