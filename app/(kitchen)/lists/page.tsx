/** Dealers' price lists: those that wait to be recorded, and those that were. */
import type { Metadata } from "next";
import Link from "next/link";
import { printDay } from "@/lib/measure";
import type { PriceList } from "@/lib/store";
import { howMany } from "@/components/find/count";
import { ButtonLink } from "@/components/form";
import { IfMay } from "@/components/kitchen/IfMay";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { PageTop } from "@/components/sheet/PageTop";
import { Told } from "@/components/sheet/Told";
import { type Column, Table } from "@/components/table/Table";
import { type Asked, MOST_ROWS, stretchOf } from "../find";
import { printMoment } from "../moment";
import { openKitchen } from "../open-kitchen";
import { Stretches } from "@/components/find/Stretches";
import { toldLast } from "./carry-out";
import { readSummary } from "./summary";

export const metadata: Metadata = { title: "Price lists" };

export default async function Lists({ searchParams }: { readonly searchParams: Promise<Asked> }) {
  const asked = await searchParams;
  const { store, kitchenId, kitchen, live } = await openKitchen("see money");
  const dealerId = typeof asked["dealer"] === "string" && live.book.shelves.dealer.has(asked["dealer"]) ? asked["dealer"] : undefined;
  const lists = await store.priceLists(kitchenId, dealerId);
  const dealerName = (id: string): string => live.book.shelves.dealer.get(id)?.name ?? "a dealer of before";
  const waits = ({ madeChange, dropped }: PriceList): boolean => madeChange === null && dropped === null;
  const sorted = [...lists.filter(waits), ...lists.filter((list) => !waits(list))];
  const stretch = stretchOf(sorted, asked["from"], MOST_ROWS);
  const columns: readonly Column<PriceList>[] = [
    { key: "file", head: "List", cell: (list) => <Link href={`/lists/${encodeURIComponent(list.id)}`} prefetch={false}>{list.fileName}</Link> },
    { key: "dealer", head: "Dealer", fold: "phone", label: "", cell: (list) => dealerName(list.dealerId) },
    { key: "read", head: "Read", fold: "narrow", label: "read", cell: (list) => <span className="quiet">{printMoment(list.readAt, kitchen)}, {list.readBy}</span> },
    { key: "from", head: "Counts from", fold: "narrow", label: "from", cell: (list) => { const summary = readSummary(list.choices); return summary === null ? "" : printDay(summary.from, kitchen); } },
    { key: "stands", head: "Stands", cell: (list) => list.madeChange !== null ? <Link href={`/record/${list.madeChange}`} prefetch={false}>recorded as change {list.madeChange}</Link> : list.dropped !== null ? <span className="quiet">dropped by {list.dropped.by}</span> : <strong>waits to be recorded</strong> },
  ];
  const open = lists.filter(waits).length;
  const told = await toldLast(asked["told"]);
  const readNew = dealerId === undefined ? "/lists/new" : `/lists/new?dealer=${encodeURIComponent(dealerId)}`;
  return (
    <>
      <PageTop title={dealerId === undefined ? "Price lists" : `Price lists of ${dealerName(dealerId)}`} trail={dealerId === undefined ? [{ name: "Dealers", href: "/dealers" }] : [{ name: "Dealers", href: "/dealers" }, { name: dealerName(dealerId), href: `/dealers/${encodeURIComponent(dealerId)}` }]}
        of={howMany(lists.length, lists.length, "list", "lists", kitchen.locale)}
        answer={open === 0 ? undefined : `${open === 1 ? "One list waits" : `${open} lists wait`} to be recorded. Nothing in it is in the book until then.`}>
        <IfMay deed="change items and prices"><ButtonLink href={readNew}>Read a price list</ButtonLink></IfMay>
      </PageTop>
      {told.length > 0 && <Told adverse>{told.map((sentence) => <p key={sentence}>{sentence}</p>)}</Told>}
      {lists.length === 0
        ? <EmptyPage what="A dealer’s price list, as a file, becomes one change of the book: each line is compared with the prices on file, you answer what is doubtful, and see what it does to the dishes before it is recorded."><IfMay deed="change items and prices"><ButtonLink href={readNew}>Read the first list</ButtonLink></IfMay></EmptyPage>
        : <Table caption={`${howMany(stretch.rows.length, lists.length, "list", "lists", kitchen.locale)}, those that wait first`} quietCaption columns={columns} rows={stretch.rows} rowKey={({ id }) => id} />}
      <Stretches list={{ page: "/lists", words: "", filters: dealerId === undefined ? {} : { dealer: dealerId }, sorting: null }} before={stretch.before} shown={stretch.rows.length} of={stretch.of} most={MOST_ROWS} locale={kitchen.locale} />
    </>
  );
}
