/**
 * An item opened: the quote it is costed at (dealer, pack, price, since when, recorded by whom) and the division of
 * what is asked by what is in it: 48.60 for a case of 4 bags of 5 lb is 2.43 a lb.
 */
import { type Item, packContent } from "@/lib/book";
import { type Quantity, inBase, toDecimal } from "@/lib/measure";
import { type Sources, one, perOne, quoteBehind } from "./explain-sources";
import { openTransfer } from "./explain-transfer";
import type { AboutItem, Step } from "./explain-types";
import { nameOf } from "./names";
import type { NodeRef } from "./node";

export interface OpenedItem {
  readonly steps: readonly Step[];
  readonly divisor: Quantity | null;
  readonly about: AboutItem;
}

export function openItem(sources: Sources, item: Item): OpenedItem {
  const ref: NodeRef = { kind: "item", id: item.id };
  if (item.transfer !== null) return openTransfer(sources, item, item.transfer);
  const asked = quoteBehind(sources.book, item.id);
  const about: AboutItem = { kind: "item", quote: asked, transfer: null, specification: item.specification };
  const step = { key: asked?.quote.id ?? item.id, kind: "price", share: null, ref: null, converted: null, detail: null, behind: asked, borrowed: [] } as const;
  if (!asked) {
    const missing = [{ what: "price", of: ref, name: nameOf(sources.book, ref) }] as const;
    return { steps: [{ ...step, name: item.name, quantity: null, rate: null, amount: null, missing }], divisor: null, about };
  }
  const { quote } = asked;
  const content = quote.per === "pack" ? packContent(quote.pack) : one(quote.per);
  const price = toDecimal(quote.price.amount);
  return {
    steps: [{
      ...step,
      name: asked.dealerName,
      quantity: content,
      rate: { amount: perOne(price.div(inBase(content)), content.unit), per: content.unit },
      amount: price,
      missing: [],
    }],
    divisor: content,
    about,
  };
}
