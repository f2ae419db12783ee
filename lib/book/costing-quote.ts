/** Which quote an item is costed by (being filled in: signatures are final). */
import type { Ratio } from "@/lib/measure";
import type { Book } from "./book";
import type { Item, Quote } from "./item";
export declare function costingQuote(book: Book, itemId: string): Quote | null;
export declare function quotesOf(book: Book, itemId: string): readonly Quote[];
export declare function quoteRate(quote: Quote): Ratio;
export declare function quoteKindMatches(item: Item, quote: Quote): boolean;
