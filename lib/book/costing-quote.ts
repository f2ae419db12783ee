/**
 * Which quote an item is costed by: that of the dealer it is bought from, or, where none is named, the newest of any
 * dealer. A quote of that dealer that is missing is a missing price, never another dealer's price.
 */
import { type Ratio, baseFactor, kindOf, ratio } from "@/lib/measure";
import { type Book, type Shelf, factKey } from "./book";
import type { Item, Quote } from "./item";
import { packContent } from "./pack";

/** Quotes by item, made once for each state of the quote shelf. */
const byItem = new WeakMap<Shelf<Quote>, ReadonlyMap<string, readonly Quote[]>>();

export function quotesOf(book: Book, itemId: string): readonly Quote[] {
  const shelf = book.shelves.quote;
  let index = byItem.get(shelf);
  if (index === undefined) {
    const made = new Map<string, Quote[]>();
    for (const quote of shelf.values()) {
      const of = made.get(quote.itemId);
      if (of === undefined) made.set(quote.itemId, [quote]);
      else of.push(quote);
    }
    byItem.set(shelf, made);
    index = made;
  }
  return index.get(itemId) ?? [];
}

export function costingQuote(book: Book, itemId: string): Quote | null {
  const item = book.shelves.item.get(itemId);
  if (item === undefined) return null;
  const quotes = quotesOf(book, itemId);
  if (item.dealerId !== null) return quotes.find((quote) => quote.dealerId === item.dealerId) ?? null;
  return newestQuote(book, quotes);
}

/** The newest of these quotes, as this book knows when each was recorded; null of none. */
export function newestQuote(book: Book, quotes: readonly Quote[]): Quote | null {
  let newest: Quote | null = null;
  for (const quote of quotes) if (newest === null || isNewer(book, quote, newest)) newest = quote;
  return newest;
}

/** Whose goods an item is costed as: the dealer of its costing quote, else whom it is bought from; null where neither is known. */
export function boughtFrom(book: Book, itemId: string): string | null {
  return costingQuote(book, itemId)?.dealerId ?? book.shelves.item.get(itemId)?.dealerId ?? null;
}

/** By the day it applies from, then by when it was recorded; a price only pretended is the newest there is. Ties go by id. */
function isNewer(book: Book, a: Quote, b: Quote): boolean {
  const of = (quote: Quote) => book.provenance.get(factKey("quote", quote.id));
  const [one, other] = [of(a), of(b)];
  if (one === undefined || other === undefined) return one === other ? a.id > b.id : one === undefined;
  if (one.validFrom !== other.validFrom) return one.validFrom > other.validFrom;
  return one.revision > other.revision;
}

/** Money per base unit (g, mL, each) of what the quote prices, exactly: price over the unit, or over the pack's content. */
export function quoteRate(quote: Quote): Ratio {
  const price = ratio.fromExact(quote.price.amount);
  if (quote.per !== "pack") return ratio.div(price, ratio.fromExact(baseFactor(quote.per)));
  const content = packContent(quote.pack);
  return ratio.div(price, ratio.mul(ratio.fromExact(content.amount), ratio.fromExact(baseFactor(content.unit))));
}

/** True when the quote prices the kind of quantity that the item is costed in. */
export function quoteKindMatches(item: Item, quote: Quote): boolean {
  return kindOf(quote.per === "pack" ? quote.pack.size.unit : quote.per) === item.kind;
}
