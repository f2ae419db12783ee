/**
 * A book with pretended facts over it, asked fact by fact. A book proper with every move laid over it would copy whole
 * shelves for each; here only what is pretended is kept, so that a move costs what it touches.
 */
import { type Book, type Change, type FactKind, type FactOf, factKey } from "../book";
import { newestQuote, quotesOf } from "../costing-quote";
import type { Quote } from "../item";

export class LaidOver {
  readonly book: Book;
  /** In the order in which the facts were first touched. */
  readonly #pretended = new Map<string, Change>();
  /** Pretended quotes that the book has none of, by item. */
  readonly #newQuotes = new Map<string, Set<string>>();

  constructor(book: Book) {
    this.book = book;
  }

  get<K extends FactKind>(kind: K, id: string): FactOf[K] | undefined {
    const change = this.#pretended.get(factKey(kind, id));
    return change === undefined ? this.book.shelves[kind].get(id) : (change.after as FactOf[K] | null) ?? undefined;
  }

  /** Facts of a kind that are pretended and not in the book. */
  *added<K extends FactKind>(kind: K): Iterable<FactOf[K]> {
    for (const change of this.#pretended.values()) {
      if (change.kind === kind && change.after !== null && !this.book.shelves[kind].has(change.id)) yield change.after as FactOf[K];
    }
  }

  lay(changes: readonly Change[]): void {
    for (const { kind, id, after } of changes) {
      this.#pretended.set(factKey(kind, id), { kind, id, after } as Change);
      if (kind === "quote" && after !== null && !this.book.shelves.quote.has(id)) {
        const of = this.#newQuotes.get(after.itemId) ?? new Set<string>();
        this.#newQuotes.set(after.itemId, of.add(id));
      }
    }
  }

  /** One change for each fact that is other than in the book. */
  changes(): readonly Change[] {
    return [...this.#pretended.values()].filter(({ kind, id, after }) => after !== (this.book.shelves[kind].get(id) ?? null));
  }

  /** As `costingQuote` of the book with all of it laid over: a price that is only pretended is the newest there is. */
  costingQuote(itemId: string): Quote | null {
    const item = this.get("item", itemId);
    if (item === undefined || item.transfer !== null) return null;
    const ids = [...quotesOf(this.book, itemId).map(({ id }) => id), ...(this.#newQuotes.get(itemId) ?? [])];
    const quotes = ids.map((id) => this.get("quote", id)).filter((quote): quote is Quote => quote !== undefined && quote.itemId === itemId);
    if (item.dealerId !== null) return quotes.find((quote) => quote.dealerId === item.dealerId) ?? null;
    const pretended = quotes.filter(({ id }) => this.#pretended.has(factKey("quote", id)));
    if (pretended.length > 0) return pretended.reduce((newest, one) => (one.id > newest.id ? one : newest));
    return newestQuote(this.book, quotes);
  }
}
