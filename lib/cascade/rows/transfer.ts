/**
 * A by-product of the house as a row: what one part of the house pays another for it. By a market's price or one that was
 * decided, a constant; where it takes the place of something that is bought, what that costs, unit for unit, less the
 * work still to be done (the usual rule: replacement price of the equivalent bought item, less grinding or cleaning). What
 * it came off is credited with this same cost and what it goes into is charged with it, so the house as a whole costs the
 * same at any transfer price.
 *
 * A credit is capped by use: v_eff = v · min(1, used/produced) over the same weeks. What nobody uses is worth nothing.
 */
import { type Book, type Item, type Transfer, crossKinds } from "@/lib/book";
import { type Ratio, BASE_UNIT, exact, kindOf, ratio } from "@/lib/measure";
import { quantityInBase, rateInBase } from "@/lib/yield";
import type { RowSink } from "../row";

export function sayTransfer(book: Book, item: Item, { price }: Transfer, sink: RowSink): void {
  if (price.kind !== "item") {
    if (kindOf(price.rate.per) !== item.kind) {
      sink.lacking("price", "item", item.id);
      return;
    }
    const rate = rateInBase(price.rate);
    sink.bigMoney(rate.n, rate.d, "transfer", item.id);
    return;
  }
  const crossing = crossingTo(book, item, price.itemId);
  if (typeof crossing === "string") {
    sink.line("item", price.itemId, 0, 1, "transfer", item.id);
    // A source that is not in the book is found out by the sink.
    if (crossing !== "fact") sink.lacking(crossing, "item", price.itemId);
  } else sink.bigLine("item", price.itemId, crossing.n, crossing.d, "transfer", item.id);
  if (price.less !== null) {
    const less = rateInBase(price.less);
    sink.bigMoney(-less.n, less.d, "transfer", item.id);
  }
}

const ONE_OF_A_UNIT = exact("1");

/** Base units of the item whose place it takes in one base unit of the by-product: by what is recorded of either. */
export function crossingTo(book: Book, item: Item, itemId: string): Ratio | "density" | "each-weight" | "fact" {
  const of = book.shelves.item.get(itemId);
  if (of === undefined) return "fact";
  const one = { amount: ONE_OF_A_UNIT, unit: BASE_UNIT[item.kind] };
  const crossed = crossKinds(of, one, of.kind);
  if (typeof crossed !== "string") return crossed;
  const byOwn = crossKinds(item, one, of.kind);
  return typeof byOwn === "string" ? crossed : byOwn;
}

/** What part of its worth a by-product is credited at, min(1, used/produced): 1 of what is bought, and where nobody has counted. */
export function creditedShare(item: Item | undefined): Ratio {
  const use = item?.transfer?.use ?? null;
  if (use === null) return ratio.ONE;
  const produced = quantityInBase(use.produced);
  const used = quantityInBase(use.used);
  return ratio.compare(used, produced) >= 0 ? ratio.ONE : ratio.div(used, produced);
}
