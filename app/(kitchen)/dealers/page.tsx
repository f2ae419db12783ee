/** From whom the kitchen buys: what is bought at each, how old its prices are, and how it is ordered from. */
import type { Metadata } from "next";
import Link from "next/link";
import { type Dealer, costingQuote, factKey } from "@/lib/book";
import { moneyFigure, printDay, toDecimal } from "@/lib/measure";
import { ButtonLink } from "@/components/form";
import { howMany } from "@/components/find/count";
import { contractEnd, daysText } from "@/components/item/quote-words";
import { IfMay } from "@/components/kitchen/IfMay";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { PageTop } from "@/components/sheet/PageTop";
import { Table } from "@/components/table/Table";
import { currencySign } from "../change-flow/ripple-view";
import { openKitchen } from "../open-kitchen";

export const metadata: Metadata = { title: "Dealers" };

interface Row {
  readonly dealer: Dealer;
  readonly bought: number;
  readonly quoted: number;
  readonly last: string;
  readonly ended: number;
}

export default async function Dealers() {
  const { live, kitchen } = await openKitchen("see money");
  const { book, today } = live;
  const costing = new Set([...book.shelves.item.keys()].flatMap((id) => costingQuote(book, id)?.id ?? []));
  const rows = [...book.shelves.dealer.values()].toSorted((a, b) => (a.name < b.name ? -1 : 1)).map((dealer): Row => {
    const quotes = [...book.shelves.quote.values()].filter((quote) => quote.dealerId === dealer.id);
    const days = quotes.map((quote) => book.provenance.get(factKey("quote", quote.id))?.validFrom ?? "");
    return {
      dealer, quoted: quotes.length, bought: quotes.filter((quote) => costing.has(quote.id)).length, last: days.reduce((last, day) => (day > last ? day : last), ""),
      ended: quotes.filter((quote) => contractEnd(quote, today) === "ended").length,
    };
  });
  const ended = rows.reduce((sum, row) => sum + row.ended, 0);
  return (
    <>
      <PageTop title="Dealers" of={`${howMany(rows.length, rows.length, "dealer", "dealers", kitchen.locale)} · as of ${printDay(today, kitchen)}`}
        answer={rows.length === 0 ? undefined : <>Open one for its prices, what they come to at the door, and what it brought.{ended > 0 && <> <strong>{ended === 1 ? "1 contract has ended" : `${ended} contracts have ended`}:</strong> the old {ended === 1 ? "price stands" : "prices stand"} until a new one is recorded.</>}</>}>
        <IfMay deed="change items and prices"><ButtonLink href="/dealers/new">Add a dealer</ButtonLink></IfMay>
      </PageTop>
      {rows.length === 0
        ? <EmptyPage what="A dealer is whoever the kitchen buys from. What it asks for an item, and since when, is what the item is costed at."><IfMay deed="change items and prices"><ButtonLink href="/dealers/new">Add the first dealer</ButtonLink></IfMay></EmptyPage>
        : (
          <Table caption="By name" quietCaption rows={rows} rowKey={({ dealer }) => dealer.id} columns={[
            { key: "name", head: "Dealer", cell: ({ dealer }) => <Link href={`/dealers/${encodeURIComponent(dealer.id)}`}>{dealer.name}</Link> },
            { key: "ordering", head: "How to order", fold: "narrow", label: "", cell: ({ dealer }) => dealer.ordering },
            { key: "least", head: `Least order, ${currencySign(kitchen)}`, label: "least order", figure: true, fold: "phone", cell: ({ dealer }) => dealer.minimumOrder === null ? "" : moneyFigure(toDecimal(dealer.minimumOrder.amount), kitchen) },
            { key: "bought", head: "Items bought", label: "items bought", figure: true, width: 4, cell: ({ bought }) => bought },
            { key: "quoted", head: "Quoted", label: "quoted", figure: true, fold: "phone", cell: ({ quoted }) => quoted },
            { key: "last", head: "Last price", label: "last price", fold: "phone", cell: ({ last, ended: over }) => <>{last === "" ? <span className="quiet">none</span> : <>{printDay(last, kitchen)}, <span className="quiet">{daysText(last, today)}</span></>}{over > 0 && <>, <span className="near">{over === 1 ? "1 contract ended" : `${over} contracts ended`}</span></>}</> },
          ]} />
        )}
      <p><Link href="/lists">Price lists</Link> · <Link href="/deliveries">Deliveries</Link></p>
    </>
  );
}
