/** What is bought, shelf by shelf, with the price it is costed at. */
import type { Metadata } from "next";
import Link from "next/link";
import { type Item, type Quote, costingQuote, factKey, printPack } from "@/lib/book";
import { type NodeCost, costOf } from "@/lib/cascade";
import { UNITS, moneyFigure, printDay, toDecimal } from "@/lib/measure";
import { Figure, figureHref } from "@/components/figure/Figure";
import { ButtonLink } from "@/components/form";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { currencySign, printNodeCost } from "../change-flow/ripple-view";
import { openKitchen } from "../open-kitchen";

export const metadata: Metadata = { title: "Items" };

interface Row {
  readonly item: Item;
  readonly quote: Quote | null;
  readonly cost: NodeCost | null;
  readonly since: string | undefined;
}

export default async function Items() {
  const { live, kitchen } = await openKitchen();
  const { book, cascade } = live;
  const currency = currencySign(kitchen);
  const rows = [...book.shelves.item.values()].map((item): Row => {
    const quote = costingQuote(book, item.id);
    return { item, quote, cost: costOf(cascade, { kind: "item", id: item.id }), since: quote === null ? undefined : book.provenance.get(factKey("quote", quote.id))?.validFrom };
  });
  const sections = [...new Set(rows.map((row) => row.item.section))].sort();
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
        <ButtonLink href="/items/new">Add an item</ButtonLink>
      </PageTop>
      {rows.length === 0
        ? <EmptyPage what="An item is something you buy, as the dealer sells it: a striploin, a case of carrots, a can of tomatoes. Everything else is costed from here."><ButtonLink href="/items/new">Add the first item</ButtonLink></EmptyPage>
        : <Table caption={`${rows.length} items by shelf`} columns={columns} rowKey={({ item }) => item.id}
            groups={sections.map((section) => ({ title: section === "" ? "Other" : section, rows: rows.filter((row) => row.item.section === section).sort((a, b) => (a.item.name < b.item.name ? -1 : 1)) })).map((group) => ({ ...group, note: String(group.rows.length) }))} />}
    </>
  );
}
