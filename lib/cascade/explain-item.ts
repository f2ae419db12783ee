/**
 * An item opened: the quote it is costed at (dealer, pack, price, since when, recorded by whom), what comes on top of it
 * and what is paid back, and the division by what is in it: 48.60 for a case of 4 bags of 5 lb, with 1.80 of freight, is
 * 2.52 a lb. Every amount is for as much as the price is for, in the kitchen's money: asked in another, at the rate of
 * the house (`quoteRate`). A by-product of the house is opened to its transfer price instead.
 */
import { type ExchangeRate, type Item, type Landed, type Quote, askedRate, exchangeRate, kitchenOf, landedRate, packContent } from "@/lib/book";
import { type Quantity, type Ratio, baseFactor, ratio, toDecimal } from "@/lib/measure";
import { quantityInBase } from "@/lib/yield";
import { type Sources, one, quoteBehind, told } from "./explain-sources";
import { openTransfer } from "./explain-transfer";
import type { AboutItem, RateOf, Step } from "./explain-types";
import { nameOf } from "./names";
import type { Missing, NodeRef } from "./node";

export interface OpenedItem {
  readonly steps: readonly Step[];
  readonly divisor: Quantity | null;
  readonly about: AboutItem;
}

const PLAIN = { share: null, ref: null, converted: null, borrowed: [] } as const;

export function openItem(sources: Sources, item: Item): OpenedItem {
  const ref: NodeRef = { kind: "item", id: item.id };
  if (item.transfer !== null) return openTransfer(sources, item, item.transfer);
  const asked = quoteBehind(sources.book, item.id);
  const about: AboutItem = { kind: "item", quote: asked, transfer: null, specification: item.specification };
  const name = nameOf(sources.book, ref);
  if (!asked) return { steps: [{ ...PLAIN, key: item.id, kind: "price", name: item.name, quantity: null, rate: null, amount: null, behind: null, detail: null, missing: [{ what: "price", of: ref, name }] }], divisor: null, about };
  const { quote } = asked;
  const divisor = contentOf(quote, quote.per);
  const exchange = exchangeRate(sources.book, quote);
  const missing: readonly Missing[] = exchange === null ? [{ what: "exchange-rate", of: ref, name }] : [];
  // Money per base unit, in the quote's currency, to money for the divisor in the kitchen's.
  const amountOf = (perBase: Ratio): Ratio | null => exchange && ratio.mul(ratio.mul(perBase, quantityInBase(divisor)), exchange);
  const rateOf = (perBase: Ratio, per: Quantity): RateOf | null => exchange && { amount: ratio.toDecimal(ratio.mul(ratio.mul(perBase, ratio.fromExact(baseFactor(per.unit))), exchange)), per: per.unit };
  const perBase = askedRate(quote);
  const price = amountOf(perBase);
  const rate: ExchangeRate | null = kitchenOf(sources.book).exchangeRates.find(({ currency }) => currency === quote.currency) ?? null;
  return {
    steps: [
      {
        ...PLAIN, key: quote.id, kind: "price", name: asked.dealerName, quantity: divisor, rate: rateOf(perBase, divisor), amount: price && ratio.toDecimal(price), behind: asked, missing,
        detail: quote.currency === null ? null : { of: "exchange", asked: toDecimal(quote.price.amount), currency: quote.currency, rate },
      },
      ...quote.landed.map((landed): Step => {
        const each = landedRate(quote, landed);
        const amount = amountOf(landed.way === "adds" ? each : ratio.neg(each));
        return {
          ...PLAIN, key: `landed-${landed.key}`, kind: landed.way === "adds" ? "extra" : "rebate", name: landed.name, quantity: perOf(quote, landed),
          rate: landed.of.kind === "share" ? null : rateOf(each, perOf(quote, landed) ?? divisor), amount: amount && ratio.toDecimal(amount), behind: null, missing,
          detail: { of: "landed", landed, currency: quote.currency },
        };
      }),
    ],
    divisor,
    about,
  };
}

/** What an extra is told for; null where it is a share of the price. */
function perOf(quote: Quote, { of }: Landed): Quantity | null {
  return of.kind === "share" ? null : contentOf(quote, of.per);
}

/** What a price is for; twelve tins of 500 g are told as 6 kg. */
function contentOf(quote: Quote, per: Quote["per"]): Quantity {
  if (per !== "pack") return one(per);
  const content = packContent(quote.pack);
  const larger = content.unit === "g" ? "kg" : content.unit === "mL" ? "L" : null;
  const inLarger = larger === null ? null : told(quantityInBase(content), larger);
  return inLarger !== null && ratio.compare(ratio.fromExact(inLarger.amount), ratio.ONE) >= 0 ? inLarger : content;
}
