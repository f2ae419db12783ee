/** What is bought, shelf by shelf, with the price it is costed at; a long larder can be searched by name, shelf or dealer. */
import type { Metadata } from "next";
import Link from "next/link";
import { type Item, type Quote, costingQuote, factKey, printPack } from "@/lib/book";
import { type NodeCost, costOf, isIncomplete } from "@/lib/cascade";
import { printDay, toDecimal } from "@/lib/measure";
import { Figure, figureHref } from "@/components/figure/Figure";
import { ButtonLink } from "@/components/form";
import { Find } from "@/components/find/Find";
import { RememberList } from "@/components/find/RememberList";
import { Rolling } from "@/components/find/Rolling";
import { Stretches } from "@/components/find/Stretches";
import { howMany, printCount } from "@/components/find/count";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { askedFigure } from "@/components/item/quote-words";
import { IfMay } from "@/components/kitchen/IfMay";
import { TakeAway } from "@/components/out/TakeAway";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { currencySign, printNodeCost } from "../change-flow/ripple-view";
import { type Asked, LONG_LIST, MOST_ROWS, stretchOf } from "../find";
import { type ListTerms, choicesOf, listing } from "../list-ask";
import { openKitchen } from "../open-kitchen";

export const metadata: Metadata = { title: "Items" };

interface Row {
  readonly item: Item;
  readonly quote: Quote | null;
  readonly since: string | undefined;
}

export default async function Items({ searchParams }: { readonly searchParams: Promise<Asked> }) {
  const asked = await searchParams;
  const { live, kitchen } = await openKitchen("see money");
  const { book, cascade } = live;
  const { locale } = kitchen;
  const currency = currencySign(kitchen);
  const rows = [...book.shelves.item.values()].map((item): Row => {
    const quote = costingQuote(book, item.id);
    return { item, quote, since: quote === null ? undefined : book.provenance.get(factKey("quote", quote.id))?.validFrom };
  });
  const dealerOf = ({ quote }: Row): string => (quote === null ? "" : book.shelves.dealer.get(quote.dealerId)?.name ?? "");
  const terms: ListTerms<Row> = {
    texts: ({ item, quote }) => [item.name, item.section, item.specification, quote === null ? "no price" : book.shelves.dealer.get(quote.dealerId)?.name],
    filters: [
      { name: "section", label: "Shelf", choices: choicesOf(rows.map(({ item }) => item.section)), of: ({ item }) => item.section },
      { name: "dealer", label: "Dealer", choices: choicesOf(rows.map(dealerOf)), of: dealerOf },
      { name: "price", label: "Price", choices: [{ value: "none", label: "none yet" }, { value: "known", label: "known" }], of: ({ item }) => isIncomplete(cascade, { kind: "item", id: item.id }) ? "none" : "known" },
    ],
    sorts: [
      { key: "name", label: "Item", of: ({ item }) => item.name },
      { key: "dealer", label: "Dealer", of: (row) => dealerOf(row) || null },
      { key: "price", label: "Price", of: ({ quote }) => quote === null ? null : [quote.per, toDecimal(quote.price.amount)] },
      { key: "cost", label: "Costs", of: ({ item }) => { const cost = costOf(cascade, { kind: "item", id: item.id }); return cost === null || cost.missing.length > 0 ? null : [cost.per, cost.amount]; } },
      { key: "since", label: "Since", of: ({ since }) => since ?? null },
    ],
  };
  const byShelf = rows.toSorted((a, b) => (a.item.section === b.item.section ? (a.item.name < b.item.name ? -1 : 1) : a.item.section < b.item.section ? -1 : 1));
  const { list, found, order, remember, find } = await listing("/items", asked, byShelf, terms);
  const stretch = stretchOf(found, asked["from"], MOST_ROWS, asked["rows"]);
  const shown = stretch.rows;
  const costs = new Map<string, NodeCost | null>(shown.map(({ item }) => [item.id, costOf(cascade, { kind: "item", id: item.id })]));
  const sections = [...new Set(shown.map((row) => row.item.section))];
  const without = rows.filter(({ item }) => isIncomplete(cascade, { kind: "item", id: item.id })).length;
  const newest = rows.reduce((last, { since = "" }) => (since > last ? since : last), "");
  const columns: readonly Column<Row>[] = [
    { key: "name", head: "Item", cell: ({ item }) => <Link href={`/items/${encodeURIComponent(item.id)}`}>{item.name}</Link> },
    { key: "dealer", head: "Dealer", fold: "narrow", label: "", cell: ({ item, quote }) => item.transfer !== null ? <span className="quiet">by-product</span> : quote === null ? "" : <Link href={`/dealers/${encodeURIComponent(quote.dealerId)}`}>{book.shelves.dealer.get(quote.dealerId)?.name}</Link> },
    { key: "pack", head: "Pack", fold: "phone", label: "", cell: ({ quote }) => quote === null ? "" : printPack(quote.pack, kitchen) },
    { key: "price", head: `Price, ${currency}`, label: "price", figure: true, fold: "phone", cell: ({ quote }) => quote === null ? "" : <Figure of={askedFigure(quote, kitchen)} /> },
    { key: "cost", head: "Costs", figure: true, width: 8, cell: ({ item }) => { const cost = costs.get(item.id) ?? null; return cost === null || cost.missing.length > 0 ? <span className="near">no price</span> : <Figure of={printNodeCost(cost, kitchen)} href={figureHref({ kind: "item", id: item.id })} label={`What ${item.name} costs`} />; } },
    { key: "since", head: "Since", fold: "narrow", cell: ({ since }) => since === undefined ? "" : <span className="quiet">{printDay(since, kitchen)}</span> },
  ];
  return (
    <>
      <PageTop title="Items" of={`${howMany(rows.length, rows.length, "item", "items", locale)} from ${book.shelves.dealer.size} dealers · as of ${printDay(live.today, kitchen)}${newest === "" ? "" : ` · prices through ${printDay(newest, kitchen)}`}`}
        answer={rows.length === 0 ? undefined : without === 0 ? "Every item has a price. Open one to change it, and see what moves before you record it." : `${printCount(without, locale)} ${without === 1 ? "item has" : "items have"} no price: what rests on ${without === 1 ? "it" : "them"} is only known as “at least”.`}>
        <IfMay deed="change items and prices"><ButtonLink href="/items/new">Add an item</ButtonLink><ButtonLink href="/lists/new" plain>Read a price list</ButtonLink></IfMay>
      </PageTop>
      {rows.length === 0
        ? <EmptyPage what="An item is something you buy, as the dealer sells it: a striploin, a case of carrots, a can of tomatoes. Everything else is costed from here."><IfMay deed="change items and prices"><ButtonLink href="/items/new">Add the first item</ButtonLink></IfMay></EmptyPage>
        : (
          <>
            {rows.length > LONG_LIST && <Find {...find} label="Find an item" locale={locale} />}
            <RememberList {...remember} />
            {found.length > 0 && (
              <Rolling list={list} before={stretch.before} shown={shown.length} of={stretch.of} most={MOST_ROWS}>
                <Table caption={`${howMany(shown.length, found.length, "item", "items", locale)}${list.sorting === null ? " by shelf" : ""}`} columns={columns} rowKey={({ item }) => item.id} order={order}
                  groups={list.sorting !== null ? [{ title: null, rows: shown }] : sections.map((section) => ({ key: section, title: section || "Other", rows: shown.filter((row) => row.item.section === section), note: printCount(found.filter((row) => row.item.section === section).length, locale) }))} />
                <Stretches list={list} before={stretch.before} shown={shown.length} of={stretch.of} most={MOST_ROWS} locale={locale} />
              </Rolling>
            )}
            <TakeAway name="Items" href="/out/items">Take these away</TakeAway>
          </>
        )}
    </>
  );
}
