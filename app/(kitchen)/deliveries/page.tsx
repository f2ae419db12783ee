/** What dealers brought and billed, the newest first, with what is claimed of them. */
import type { Metadata } from "next";
import Link from "next/link";
import { type Delivery, deliveryTotal } from "@/lib/book";
import { type Claims, shortClaims } from "@/lib/buying";
import { moneyFigure, printDay, ratio } from "@/lib/measure";
import { ButtonLink } from "@/components/form";
import { Find } from "@/components/find/Find";
import { RememberList } from "@/components/find/RememberList";
import { Rolling } from "@/components/find/Rolling";
import { Stretches } from "@/components/find/Stretches";
import { howMany } from "@/components/find/count";
import { IfMay } from "@/components/kitchen/IfMay";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { currencySign } from "../change-flow/ripple-view";
import { type Asked, LONG_LIST, MOST_ROWS, stretchOf } from "../find";
import { type ListTerms, listing } from "../list-ask";
import { openKitchen } from "../open-kitchen";
import { moneyWords, paperName } from "./words";

export const metadata: Metadata = { title: "Deliveries" };

interface Row {
  readonly delivery: Delivery;
  readonly dealer: string;
  readonly claims: Claims;
}

export default async function Deliveries({ searchParams }: { readonly searchParams: Promise<Asked> }) {
  const asked = await searchParams;
  const { live, kitchen } = await openKitchen("see money");
  const { book } = live;
  const all = [...book.shelves.delivery.values()].toSorted((a, b) => (a.on === b.on ? (a.id < b.id ? -1 : 1) : a.on < b.on ? 1 : -1)).map((delivery): Row => ({
    delivery, dealer: book.shelves.dealer.get(delivery.dealerId)?.name ?? delivery.dealerId, claims: shortClaims(delivery, kitchen),
  }));
  const signed = ({ delivery }: Row) => { const total = deliveryTotal(delivery); return delivery.kind === "credit" ? ratio.neg(total) : total; };
  const dealers = [...new Map(all.map(({ delivery, dealer }) => [delivery.dealerId, dealer]))].map(([value, label]) => ({ value, label })).sort((a, b) => (a.label < b.label ? -1 : 1));
  const terms: ListTerms<Row> = {
    texts: ({ delivery, dealer }) => [dealer, delivery.number, ...delivery.lines.flatMap((line) => [book.shelves.item.get(line.itemId)?.name, line.lot])],
    filters: [
      { name: "dealer", label: "Dealer", choices: dealers, of: ({ delivery }) => delivery.dealerId },
      { name: "claims", label: "Claims", choices: [{ value: "yes", label: "short weight" }], of: ({ claims }) => (claims.lines > 0 ? "yes" : "no") },
    ],
    sorts: [
      { key: "on", label: "Day", of: ({ delivery }) => delivery.on },
      { key: "dealer", label: "Dealer", of: ({ dealer }) => dealer },
      { key: "total", label: "Total", of: (row) => ratio.toDecimal(signed(row)) },
      { key: "claims", label: "Claimed", of: ({ claims }) => ratio.toDecimal(claims.claimed) },
    ],
  };
  const { list, found, order, remember, find } = await listing("/deliveries", asked, all, terms);
  const stretch = stretchOf(found, asked["from"], MOST_ROWS, asked["rows"]);
  const short = all.filter(({ claims }) => claims.lines > 0);
  const claimed = short.reduce((sum, { claims }) => ratio.add(sum, claims.claimed), ratio.ZERO);
  const currency = currencySign(kitchen);
  const columns: readonly Column<Row>[] = [
    { key: "on", head: "Day", cell: ({ delivery }) => <Link href={`/deliveries/${encodeURIComponent(delivery.id)}`}>{printDay(delivery.on, kitchen)}</Link> },
    { key: "dealer", head: "Dealer", fold: "phone", label: "", cell: ({ dealer }) => dealer },
    { key: "number", head: "Paper", fold: "narrow", label: "", cell: ({ delivery }) => paperName(delivery) },
    { key: "lines", head: "Lines", figure: true, fold: "narrow", label: "lines", cell: ({ delivery }) => delivery.lines.length },
    { key: "total", head: `Total, ${currency}`, figure: true, width: 6, cell: (row) => moneyFigure(ratio.toDecimal(signed(row)), kitchen) },
    { key: "claims", head: `Short weight, ${currency}`, label: "short weight", figure: true, fold: "phone", cell: ({ claims }) => (claims.lines === 0 ? "" : moneyFigure(ratio.toDecimal(claims.claimed), kitchen)) },
  ];
  return (
    <>
      <PageTop title="Deliveries" of={`${howMany(all.length, all.length, "delivery", "deliveries", kitchen.locale)} · as of ${printDay(live.today, kitchen)}`} trail={[{ name: "Dealers", href: "/dealers" }]}
        answer={all.length === 0 ? undefined : short.length === 0 ? <>Nothing that was weighed at the door came short.</> : <>{short.length === 1 ? "One delivery came" : `${short.length} deliveries came`} short of what was billed: {moneyWords(claimed, kitchen)} to be claimed. That is no loss of the yield: the tests count what was billed.</>}>
        <IfMay deed="record deliveries"><ButtonLink href="/deliveries/new">Record a delivery</ButtonLink></IfMay>
      </PageTop>
      {all.length === 0
        ? <EmptyPage what="A delivery is a dealer’s invoice and what the scale at the door read beside it. What was billed and did not come is claimed; what was billed dearer than quoted is seen; its lots can be found again."><IfMay deed="record deliveries"><ButtonLink href="/deliveries/new">Record the first delivery</ButtonLink></IfMay></EmptyPage>
        : (
          <>
            {(all.length > LONG_LIST || Object.keys(list.filters).length > 0) && <Find {...find} label="Find a delivery" locale={kitchen.locale} />}
            <RememberList {...remember} />
            {found.length > 0 && (
              <Rolling list={list} before={stretch.before} shown={stretch.rows.length} of={stretch.of} most={MOST_ROWS}>
                <Table caption={`${howMany(stretch.rows.length, found.length, "delivery", "deliveries", kitchen.locale)}${list.sorting === null ? ", the newest first" : ""}`} columns={columns} rows={stretch.rows} rowKey={({ delivery }) => delivery.id} order={order} />
                <Stretches list={list} before={stretch.before} shown={stretch.rows.length} of={stretch.of} most={MOST_ROWS} locale={kitchen.locale} />
              </Rolling>
            )}
            {short.length > 0 && <p>A claim as a letter: {[...new Map(short.map(({ delivery, dealer }) => [delivery.dealerId, dealer]))].map(([id, dealer], at) => <span key={id}>{at > 0 && " · "}<Link href={`/deliveries/claims/${encodeURIComponent(id)}`}>{dealer}</Link></span>)}</p>}
          </>
        )}
    </>
  );
}
