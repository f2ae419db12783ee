/** What is bought, shelf by shelf, with the price it is costed at; a long larder can be searched by name, shelf or dealer. */
import type { Metadata } from "next";
import Link from "next/link";
import { type Item, type Quote, costingQuote, factKey, printPack } from "@/lib/book";
import { type NodeCost, costOf } from "@/lib/cascade";
import { UNITS, moneyFigure, printDay, toDecimal } from "@/lib/measure";
import { Figure, figureHref } from "@/components/figure/Figure";
import { ButtonLink } from "@/components/form";
import { Find } from "@/components/find/Find";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { IfMay } from "@/components/kitchen/IfMay";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { currencySign, printNodeCost } from "../change-flow/ripple-view";
import { answering, askedFor } from "../find";
import { openKitchen } from "../open-kitchen";

export const metadata: Metadata = { title: "Items" };

interface Row {
  readonly item: Item;
  readonly quote: Quote | null;
  readonly cost: NodeCost | null;
  readonly since: string | undefined;
}

/** The most rows on one page, and how many it takes before finding is offered. */
const MOST = 400;
const LONG = 20;

export default async function Items({ searchParams }: { readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>> }) {
  const asked = askedFor((await searchParams)["find"]);
  const { live, kitchen } = await openKitchen("see money");
  const { book, cascade } = live;
  const currency = currencySign(kitchen);
  const rows = [...book.shelves.item.values()].map((item): Row => {
    const quote = costingQuote(book, item.id);
    return { item, quote, cost: costOf(cascade, { kind: "item", id: item.id }), since: quote === null ? undefined : book.provenance.get(factKey("quote", quote.id))?.validFrom };
  });
  const found = answering(rows, asked, ({ item, quote }) => [item.name, item.section, item.specification, quote === null ? "no price" : book.shelves.dealer.get(quote.dealerId)?.name])
    .toSorted((a, b) => (a.item.section === b.item.section ? (a.item.name < b.item.name ? -1 : 1) : a.item.section < b.item.section ? -1 : 1));
  const shown = found.slice(0, MOST);
  const sections = [...new Set(shown.map((row) => row.item.section))];
  const without = rows.filter((row) => (row.cost?.missing.length ?? 1) > 0).length;
  const newest = rows.map((row) => row.since ?? "").sort().at(-1);
  const columns: readonly Column<Row>[] = [
    { key: "name", head: "Item", cell: ({ item }) => <Link href={`/items/${encodeURIComponent(item.id)}`}>{item.name}</Link> },
    { key: "dealer", head: "Dealer", fold: "narrow", label: "", cell: ({ quote }) => quote === null ? "" : book.shelves.dealer.get(quote.dealerId)?.name },
    { key: "pack", head: "Pack", fold: "phone", label: "", cell: ({ quote }) => quote === null ? "" : printPack(quote.pack, kitchen) },
    { key: "price", head: `Price, ${currency}`, label: "price", figure: true, fold: "phone", cell: ({ quote }) => quote === null ? "" : <Figure of={{ figure: moneyFigure(toDecimal(quote.price.amount), kitchen), unit: quote.per === "pack" ? "a pack" : `/ ${UNITS[quote.per].one}` }} /> },
    { key: "cost", head: "Costs", figure: true, width: 8, cell: ({ item, cost }) => cost === null || cost.missing.length > 0 ? <span className="near">no price</span> : <Figure of={printNodeCost(cost, kitchen)} href={figureHref({ kind: "item", id: item.id })} label={`What ${item.name} costs`} /> },
    { key: "since", head: "Since", fold: "narrow", cell: ({ since }) => since === undefined ? "" : <span className="quiet">{printDay(since, kitchen)}</span> },
  ];
  return (
    <>
      <PageTop title="Items" of={`${rows.length} ${rows.length === 1 ? "item" : "items"} from ${book.shelves.dealer.size} dealers · as of ${printDay(live.today, kitchen)}${newest === undefined || newest === "" ? "" : ` · prices through ${printDay(newest, kitchen)}`}`}
        answer={rows.length === 0 ? undefined : without === 0 ? "Every item has a price. Open one to change it, and see what moves before you record it." : `${without} ${without === 1 ? "item has" : "items have"} no price: what rests on ${without === 1 ? "it" : "them"} is only known as “at least”.`}>
        <IfMay deed="change items and prices"><ButtonLink href="/items/new">Add an item</ButtonLink></IfMay>
      </PageTop>
      {rows.length === 0
        ? <EmptyPage what="An item is something you buy, as the dealer sells it: a striploin, a case of carrots, a can of tomatoes. Everything else is costed from here."><IfMay deed="change items and prices"><ButtonLink href="/items/new">Add the first item</ButtonLink></IfMay></EmptyPage>
        : (
          <>
            {rows.length > LONG && <Find page="/items" label="Find an item" asked={asked} found={found.length} all={rows.length} most={MOST} />}
            {found.length > 0 && <Table caption={`${shown.length} ${shown.length === 1 ? "item" : "items"} by shelf`} columns={columns} rowKey={({ item }) => item.id}
              groups={sections.map((section) => shown.filter((row) => row.item.section === section)).map((group) => ({ title: group[0]?.item.section || "Other", rows: group, note: String(group.length) }))} />}
          </>
        )}
    </>
  );
}
