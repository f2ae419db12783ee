/**
 * Prices of an invoice taken over as the dealer's price, from its day. The dealer's quote keeps its pack, its code and what
 * comes on top; the price and its unit are the invoice's. A pack of catch weight is priced by its unit, so a price a pack is
 * turned into one. What cannot be taken over is said, never guessed.
 */
import { type Book, type Delivery, type DeliveryLine, type Quote, packContent } from "@/lib/book";
import { type Quantity, type Ratio, type Unit, baseFactor, exact, kindOf, moneyPlaces, ratio } from "@/lib/measure";
import { quantityInBase } from "@/lib/yield";
import { billedRate, priceAgainst } from "./delivery";

export interface TakenPrice {
  readonly line: number;
  readonly quote: Quote;
}

export interface TakenOver {
  readonly prices: readonly TakenPrice[];
  /** By line: why its price is not taken over. */
  readonly left: readonly { readonly line: number; readonly sentence: string }[];
}

const ONE_PACK = [{ count: exact("1"), container: "case" }] as const;

/** `idOf` gives the id of a new quote for an item that this dealer has none of. Credit memos price nothing. */
export function takenOver(delivery: Delivery, book: Book, currency: string, idOf: (itemId: string) => string): TakenOver {
  const prices: TakenPrice[] = [];
  const left: { line: number; sentence: string }[] = [];
  if (delivery.kind === "credit") return { prices, left };
  const seen = new Set<string>();
  delivery.lines.forEach((line, index) => {
    const name = book.shelves.item.get(line.itemId)?.name ?? line.itemId;
    const before = [...book.shelves.quote.values()].find((quote) => quote.itemId === line.itemId && quote.dealerId === delivery.dealerId);
    const leave = (sentence: string): void => { left.push({ line: index, sentence }); };
    if (seen.has(line.itemId)) return;
    if (before !== undefined && before.currency !== null) return leave(`${name} is quoted in ${before.currency}: change that price by hand.`);
    if (before !== undefined && kindOf(before.pack.size.unit) !== kindOf(line.billed.unit)) return leave(`${name} is quoted by ${kindOf(before.pack.size.unit)} and billed by ${kindOf(line.billed.unit)}: change that price by hand.`);
    if (book.shelves.item.get(line.itemId)?.transfer !== null) return leave(`${name} is a by-product of the house and has no dealer’s price.`);
    const quote = before === undefined ? newQuote(line, delivery.dealerId, idOf(line.itemId)) : againAt(before, line, currency);
    if (quote === null) return leave(`${name} has no price of this dealer yet, and the invoice does not say how many packs: add the price on the item’s page.`);
    seen.add(line.itemId);
    // What is billed as it was quoted is no new price; a contract is not undone by an invoice.
    if (before !== undefined && priceAgainst(line, before).kind === "agrees") return;
    if (before?.basis === "contract" && (before.until === null || before.until >= delivery.on)) return leave(`${name} is under contract at another price: that is to be asked of the dealer, not taken over.`);
    prices.push({ line: index, quote });
  });
  return { prices, left };
}

function againAt(before: Quote, line: DeliveryLine, currency: string): Quote {
  const asInvoiced = { ...before, basis: "invoice" as const, until: null };
  if (line.per !== "pack") return { ...asInvoiced, price: line.price, per: line.per };
  // A pack that holds what the quote's does is priced as it is billed; any other by its unit.
  const whole = line.packs !== null && !before.pack.catchWeight && ratio.compare(ratio.div(quantityInBase(line.billed), ratio.fromExact(line.packs)), quantityInBase(packContent(before.pack))) === 0;
  if (whole) return { ...asInvoiced, price: line.price, per: "pack" };
  const per = before.per === "pack" ? before.pack.size.unit : before.per;
  return { ...asInvoiced, price: { amount: perUnitOf(line, per, currency) }, per };
}

/** Two places finer than the currency: a price a pound worked out from a case. */
function perUnitOf(line: DeliveryLine, per: Unit, currency: string): Quote["price"]["amount"] {
  const scale = 10n ** BigInt(moneyPlaces(currency) + 2);
  const rate = ratio.mul(billedRate(line), ratio.fromExact(baseFactor(per)));
  return ratio.toExact(ratio.of(ratio.floor(ratio.add(ratio.mul(rate, ratio.of(scale)), ratio.of(1n, 2n))), scale));
}

function newQuote(line: DeliveryLine, dealerId: string, id: string): Quote | null {
  const size = packSize(line);
  if (size === null) return null;
  const catchWeight = line.per !== "pack" && kindOf(line.billed.unit) === "mass";
  return { id, itemId: line.itemId, dealerId, pack: { levels: [...ONE_PACK], size, catchWeight }, price: line.price, per: line.per, currency: null, basis: "invoice", until: null, code: "", gtin: "", landed: [] };
}

function packSize(line: DeliveryLine): Quantity | null {
  if (line.packs === null) return null;
  const size: Ratio = ratio.div(ratio.fromExact(line.billed.amount), ratio.fromExact(line.packs));
  return { amount: ratio.toExact(size), unit: line.billed.unit };
}
