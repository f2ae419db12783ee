/**
 * An item's row: one constant, the money asked per gram, millilitre or each by the quote it is costed at. The book
 * chooses the quote and defines its rate (`costingQuote`, `quoteRate`); the common case is worked out here in machine
 * registers with the same result, since prices change more often than anything else. Without a quote, or with one
 * priced in another kind of quantity than the item, the price is not known. A by-product of the house has no quote but a
 * transfer price (transfer.ts).
 */
import { type Book, type Item, type Quote, costingQuote, quoteKindMatches, quoteRate } from "@/lib/book";
import type { RowSink } from "../row";
import { SMALL_UNITS, SmallRatio } from "../small-ratio";
import { sayTransfer } from "./transfer";

const rate = new SmallRatio();
const part = new SmallRatio();

/** price ÷ content: the content of a pack is its counts times its size, of a unit price that unit. False where that is not all there is to it. */
export function readRate(quote: Quote, into: SmallRatio): boolean {
  if (quote.currency !== null || quote.landed.length > 0 || !into.read(quote.price.amount)) return false;
  if (quote.per !== "pack") {
    const unit = SMALL_UNITS[quote.per];
    return into.times(unit.d, unit.n);
  }
  const { size, levels } = quote.pack;
  if (!part.read(size.amount)) return false;
  const unit = SMALL_UNITS[size.unit];
  if (!part.times(unit.n, unit.d)) return false;
  const { n, d } = part;
  if (!(n > 0 && into.times(d, n))) return false;
  for (const level of levels) if (!(part.read(level.count) && part.n > 0 && into.times(part.d, part.n))) return false;
  return true;
}

export function sayItem(book: Book, item: Item, sink: RowSink): void {
  if (item.transfer !== null) {
    sayTransfer(book, item, item.transfer, sink);
    return;
  }
  const quote = costingQuote(book, item.id);
  if (quote === null || !quoteKindMatches(item, quote)) {
    sink.lacking("price", "item", item.id);
    return;
  }
  sayQuote(book, quote, sink);
}

export function sayQuote(book: Book, quote: Quote, sink: RowSink): void {
  if (readRate(quote, rate)) {
    sink.money(rate.n, rate.d, "quote", quote.id);
    return;
  }
  const exactly = quoteRate(book, quote);
  if (exactly === null) {
    sink.lacking("exchange-rate", "item", quote.itemId);
    return;
  }
  sink.bigMoney(exactly.n, exactly.d, "quote", quote.id);
}
