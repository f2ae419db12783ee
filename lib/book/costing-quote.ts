/**
 * Which quote an item is costed by: that of the dealer it is bought from, or, where none is named, the newest of any
 * dealer. A quote of that dealer that is missing is a missing price, never another dealer's price. A by-product of the
 * house is costed by no quote. What a quote comes to at the door: asked price × exchange rate, and what comes on top.
 */
import { type Ratio, baseFactor, kindOf, ratio } from "@/lib/measure";
import { type Book, type Shelf, factKey, kitchenOf } from "./book";
import type { Item, Landed, Quote } from "./item";
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
  if (item === undefined || item.transfer !== null) return null;
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

/** Base units (g, mL, each) in one of what a price is for: a unit, or the whole pack. */
function contentInBase(quote: Pick<Quote, "pack">, per: Quote["per"]): Ratio {
  if (per !== "pack") return ratio.fromExact(baseFactor(per));
  const content = packContent(quote.pack);
  return ratio.mul(ratio.fromExact(content.amount), ratio.fromExact(baseFactor(content.unit)));
}

/** What the dealer asks per base unit (g, mL, each), exactly, in the money that it is asked in: price over the unit, or over the pack's content. */
export function askedRate(quote: Quote): Ratio {
  return ratio.div(ratio.fromExact(quote.price.amount), contentInBase(quote, quote.per));
}

/** What one extra or rebate comes to per base unit, above zero, in the quote's money: P·share, or the amount over what it is for. */
export function landedRate(quote: Quote, { of }: Landed): Ratio {
  return of.kind === "share" ? ratio.mul(askedRate(quote), ratio.fromExact(of.share)) : ratio.div(ratio.fromExact(of.amount.amount), contentInBase(quote, of.per));
}

/** Of the kitchen's money for one of the quote's; null while nobody has said. */
export function exchangeRate(book: Book, quote: Pick<Quote, "currency">): Ratio | null {
  if (quote.currency === null) return ratio.ONE;
  const told = kitchenOf(book).exchangeRates.find(({ currency }) => currency === quote.currency);
  return told === undefined ? null : ratio.fromExact(told.rate);
}

/**
 * What the goods cost at the door, in the kitchen's money per base unit (g, mL, each), exactly:
 * (asked + Σ extras − Σ rebates) × exchange rate. null while the exchange rate is not known.
 */
export function quoteRate(book: Book, quote: Quote): Ratio | null {
  const exchange = exchangeRate(book, quote);
  return exchange === null ? null : ratio.mul(doorRate(quote), exchange);
}

/** Asked price with what comes on top and less what is paid back, per base unit, in the quote's money. */
export function doorRate(quote: Quote): Ratio {
  return quote.landed.reduce((rate, one) => (one.way === "adds" ? ratio.add : ratio.sub)(rate, landedRate(quote, one)), askedRate(quote));
}

/** True when the quote prices the kind of quantity that the item is costed in. */
export function quoteKindMatches(item: Item, quote: Quote): boolean {
  return kindOf(quote.per === "pack" ? quote.pack.size.unit : quote.per) === item.kind;
}
