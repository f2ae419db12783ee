/** One dealer: its prices, asked and at the door, how old they are and what ends; what it brought; how it is ordered from. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { type Quote, costingQuote, deliveryTotal, factKey, printPack, quoteRate } from "@/lib/book";
import { UNITS, customaryUnit, moneyFigure, perUnit, printDay, printMoney, ratio, toDecimal } from "@/lib/measure";
import { Figure } from "@/components/figure/Figure";
import { ButtonLink } from "@/components/form";
import { askedFigure, askedText, basisText, contractEnd, daysText } from "@/components/item/quote-words";
import { IfMay } from "@/components/kitchen/IfMay";
import { PageTop } from "@/components/sheet/PageTop";
import { Table } from "@/components/table/Table";
import { currencySign } from "../../change-flow/ripple-view";
import { openKitchen } from "../../open-kitchen";
import { pathId } from "../../path-id";

type Params = { readonly params: Promise<{ readonly dealer: string }> };

export async function generateMetadata({ params }: Params): Promise<Metadata> {
  const { live } = await openKitchen("see money");
  return { title: live.book.shelves.dealer.get(pathId((await params).dealer))?.name ?? "Dealer" };
}

/** The newest deliveries that a dealer's page shows. */
const DELIVERIES = 12;

export default async function DealerPage({ params }: Params) {
  const id = pathId((await params).dealer);
  const { live, kitchen } = await openKitchen("see money");
  const { book, today } = live;
  const dealer = book.shelves.dealer.get(id);
  if (dealer === undefined) notFound();
  const at = encodeURIComponent(id);
  const currency = currencySign(kitchen);
  const itemName = (quote: Quote): string => book.shelves.item.get(quote.itemId)?.name ?? quote.itemId;
  const quotes = [...book.shelves.quote.values()].filter((quote) => quote.dealerId === id).toSorted((a, b) => (itemName(a) < itemName(b) ? -1 : 1));
  const bought = quotes.filter((quote) => costingQuote(book, quote.itemId)?.id === quote.id);
  const since = (quote: Quote): string => book.provenance.get(factKey("quote", quote.id))?.validFrom ?? "";
  const waiting = live.ahead.flatMap((one) => one.kind === "quote" && one.after?.dealerId === id ? [{ ...one, quote: one.after }] : []);
  const ending = quotes.filter((quote) => contractEnd(quote, today) !== null).toSorted((a, b) => ((a.until ?? "") < (b.until ?? "") ? -1 : 1));
  const deliveries = [...book.shelves.delivery.values()].filter((delivery) => delivery.dealerId === id).toSorted((a, b) => (a.on < b.on ? 1 : -1));
  return (
    <>
      <PageTop title={dealer.name} trail={[{ name: "Dealers", href: "/dealers" }]}
        of={[dealer.ordering, dealer.minimumOrder === null ? "" : `least order ${printMoney(toDecimal(dealer.minimumOrder.amount), kitchen)}`].filter(Boolean).join(" · ") || undefined}
        answer={quotes.length === 0 ? "It has no price in the book yet. Prices are added at the items, or read from a price list." : <>It quotes {quotes.length === 1 ? "1 item" : `${quotes.length} items`}; {bought.length === quotes.length ? (quotes.length === 1 ? "it is bought here." : "all are bought here.") : bought.length === 0 ? "none is bought here." : `${bought.length} of them ${bought.length === 1 ? "is" : "are"} bought here.`}</>}>
        <IfMay deed="change items and prices"><ButtonLink href={`/dealers/${at}/edit`} plain>Change the dealer</ButtonLink></IfMay>
        <IfMay deed="change items and prices"><ButtonLink href={`/lists/new?dealer=${at}`} plain>Read a price list</ButtonLink></IfMay>
        <IfMay deed="record deliveries"><ButtonLink href={`/deliveries/new?dealer=${at}`} plain>Record a delivery</ButtonLink></IfMay>
      </PageTop>
      {dealer.note !== "" && <p>{dealer.note}</p>}

      {ending.length > 0 && (
        <ul>{ending.map((quote) => (
          <li key={quote.id}><Link href={`/items/${encodeURIComponent(quote.itemId)}/prices`}>{itemName(quote)}</Link>: {quote.until !== null && quote.until < today
            ? <><span className="near">the contract ended</span> on {printDay(quote.until, kitchen)}. Its price stands until a new one is recorded.</>
            : <>the contract ends on {printDay(quote.until ?? today, kitchen)}.</>}</li>
        ))}</ul>
      )}
      {waiting.length > 0 && <ul>{waiting.map((one) => <li key={one.revision}>{itemName(one.quote)}: {askedText(one.quote, kitchen)} waits, and applies by itself from {printDay(one.validFrom, kitchen)}.</li>)}</ul>}

      {quotes.length > 0 && (
        <>
          <h2>Its prices</h2>
          <Table caption={`${quotes.length} ${quotes.length === 1 ? "price" : "prices"}, by item; at the door is with what comes on top and less what is paid back`} rows={quotes} rowKey={(quote) => quote.id} columns={[
            { key: "item", head: "Item", cell: (quote) => <><Link href={`/items/${encodeURIComponent(quote.itemId)}`}>{itemName(quote)}</Link>{!bought.includes(quote) && <span className="from">not bought here</span>}</> },
            { key: "pack", head: "Pack", fold: "narrow", label: "", cell: (quote) => <>{printPack(quote.pack, kitchen)}{quote.code !== "" && <span className="from">code {quote.code}</span>}</> },
            { key: "price", head: `Asked, ${currency}`, label: "asked", figure: true, fold: "phone", cell: (quote) => <Figure of={askedFigure(quote, kitchen)} /> },
            { key: "door", head: `At the door, ${currency}`, figure: true, width: 8, cell: (quote) => {
              const rate = quoteRate(book, quote);
              const item = book.shelves.item.get(quote.itemId);
              const unit = customaryUnit(item?.kind ?? "mass", kitchen);
              return rate === null ? <span className="near">no exchange rate</span> : <Figure of={{ figure: moneyFigure(perUnit(ratio.toDecimal(rate), unit), kitchen), unit: `/ ${UNITS[unit].one}` }} />;
            } },
            { key: "since", head: "Since", fold: "narrow", cell: (quote) => since(quote) === "" ? "" : <>{printDay(since(quote), kitchen)}, <span className="quiet">{daysText(since(quote), today)}</span>{basisText(quote, kitchen, today) !== "" && <span className="from">{basisText(quote, kitchen, today)}</span>}</> },
            { key: "history", head: "", figure: true, fold: "hide-narrow", cell: (quote) => <Link href={`/items/${encodeURIComponent(quote.itemId)}/prices`} aria-label={`Every price of ${itemName(quote)}`}>all prices</Link> },
          ]} />
        </>
      )}

      <h2>Deliveries</h2>
      {deliveries.length === 0 ? <p className="quiet">None has been recorded. <IfMay deed="record deliveries"><Link href={`/deliveries/new?dealer=${at}`}>Record a delivery</Link></IfMay></p> : (
        <Table narrow caption={`The newest ${Math.min(DELIVERIES, deliveries.length)} of ${deliveries.length}`} rows={deliveries.slice(0, DELIVERIES)} rowKey={(delivery) => delivery.id} columns={[
          { key: "on", head: "Of", cell: (delivery) => <Link href={`/deliveries/${encodeURIComponent(delivery.id)}`}>{printDay(delivery.on, kitchen)}</Link> },
          { key: "number", head: "Number", fold: "phone", label: "", cell: (delivery) => <>{delivery.number}{delivery.kind === "credit" && <> <span className="quiet">credit memo</span></>}</> },
          { key: "lines", head: "Lines", figure: true, fold: "phone", cell: (delivery) => delivery.lines.length },
          { key: "total", head: `Total, ${currency}`, figure: true, width: 6, cell: (delivery) => `${delivery.kind === "credit" ? "−" : ""}${moneyFigure(ratio.toDecimal(deliveryTotal(delivery)), kitchen)}` },
        ]} />
      )}
      <p><Link href={`/lists?dealer=${at}`}>Its price lists</Link> · <Link href={`/deliveries?dealer=${at}`}>all its deliveries</Link></p>
    </>
  );
}
