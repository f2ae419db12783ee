/** The lines of a delivery against what their dealer asked on its day. Server only: the prices of that day are in the record. */
import { type Delivery, type Quote, quotesOf } from "@/lib/book";
import { type Dated, type JudgedDelivered, judgeDelivered, priceSteps, stepOn } from "@/lib/buying";
import { asQuotes } from "../items/revisions";
import type { OpenKitchen } from "../open-kitchen";

export interface JudgedDelivery {
  readonly lines: readonly (JudgedDelivered & { readonly itemName: string; readonly quoted: { readonly quote: Quote; readonly from: string } | null })[];
}

/** What was recorded of each quote, asked for once however many deliveries speak of it. */
export type QuotesAsked = Map<string, Promise<readonly Dated<Quote>[]>>;

export async function judgedDelivery(delivery: Delivery, { store, kitchenId, kitchen, live }: Pick<OpenKitchen, "store" | "kitchenId" | "kitchen" | "live">, asked: QuotesAsked = new Map()): Promise<JudgedDelivery> {
  const revisionsOf = (id: string): Promise<readonly Dated<Quote>[]> => {
    const known = asked.get(id) ?? store.revisionsOf(kitchenId, "quote", id).then(asQuotes);
    asked.set(id, known);
    return known;
  };
  const items = [...new Set(delivery.lines.map(({ itemId }) => itemId))];
  const quotes = new Map(await Promise.all(items.map(async (itemId): Promise<[string, { readonly quote: Quote; readonly from: string } | null]> => {
    const found = await Promise.all(quotesOf(live.book, itemId).filter(({ dealerId }) => dealerId === delivery.dealerId).map(async ({ id }) => {
      // A price taken over from this very paper is no price to hold it against.
      const revisions = (await revisionsOf(id)).filter(({ fact, validFrom }) => !(fact?.basis === "invoice" && validFrom === delivery.on));
      return stepOn(priceSteps(revisions, [], live.today), delivery.on);
    }));
    const step = found.find((one) => one !== null) ?? null;
    return [itemId, step === null ? null : { quote: step.quote, from: step.from }];
  })));
  return {
    lines: delivery.lines.map((line) => {
      const quoted = quotes.get(line.itemId) ?? null;
      return { ...judgeDelivered(line, quoted?.quote ?? null, kitchen), itemName: live.book.shelves.item.get(line.itemId)?.name ?? line.itemId, quoted };
    }),
  };
}
