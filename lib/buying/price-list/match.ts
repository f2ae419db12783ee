/**
 * Which of a dealer's quotes a line speaks of: that with its order code, else that with its GTIN. A spreadsheet that took
 * a code for a number has lost its leading noughts, so they are forgiven where nothing else has the code. Names decide
 * nothing here: they only make offers (likeliest.ts).
 */
import type { Book, Quote } from "@/lib/book";
import type { ListLine } from "./line";

export interface QuoteIndex {
  /** The quotes that a line may speak of; more than one where the book has its code or GTIN twice. */
  readonly of: (line: Pick<ListLine, "code" | "gtin">) => readonly Quote[];
  /** The dealer's quotes of an item. */
  readonly ofItem: (itemId: string) => readonly Quote[];
}

export function quoteIndex(book: Book, dealerId: string): QuoteIndex {
  const byCode = new Map<string, Quote[]>();
  const byBareCode = new Map<string, Quote[]>();
  const byGtin = new Map<string, Quote[]>();
  const byItem = new Map<string, Quote[]>();
  const put = (index: Map<string, Quote[]>, key: string, quote: Quote): void => {
    const there = index.get(key);
    if (there === undefined) index.set(key, [quote]);
    else there.push(quote);
  };
  for (const quote of book.shelves.quote.values()) {
    if (quote.dealerId !== dealerId) continue;
    put(byItem, quote.itemId, quote);
    if (quote.gtin !== "") put(byGtin, quote.gtin, quote);
    if (quote.code === "") continue;
    put(byCode, codeKey(quote.code), quote);
    put(byBareCode, bareCode(quote.code), quote);
  }
  return {
    of: ({ code, gtin }) => {
      if (code !== "") {
        const found = byCode.get(codeKey(code)) ?? byBareCode.get(bareCode(code));
        if (found !== undefined) {
          const sure = found.length === 1 || gtin === "" ? found : found.filter((quote) => quote.gtin === gtin);
          return sure.length === 0 ? found : sure;
        }
      }
      return gtin === "" ? [] : byGtin.get(gtin) ?? [];
    },
    ofItem: (itemId) => byItem.get(itemId) ?? [],
  };
}

/** Codes are told apart by letters and figures; spaces and the case of letters are how somebody typed them. */
export function codeKey(code: string): string {
  return code.normalize("NFKC").replace(/\s+/g, "").toUpperCase();
}

function bareCode(code: string): string {
  return codeKey(code).replace(/^0+(?=\d+$)/, "");
}
