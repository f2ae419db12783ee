/** The orders of the kitchen: what somebody plans to serve, and what would have to be bought for it as the book stands today. */
import type { Metadata } from "next";
import Link from "next/link";
import { orderOf } from "@/lib/buying";
import { printDay } from "@/lib/measure";
import type { KeptOrderPlan } from "@/lib/store";
import { Stretches } from "@/components/find/Stretches";
import { ButtonLink } from "@/components/form";
import { IfMay } from "@/components/kitchen/IfMay";
import { EmptyPage } from "@/components/sheet/EmptyPage";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { type Asked, stretchOf } from "../find";
import { printMoment } from "../moment";
import { openKitchen } from "../open-kitchen";
import { planWords, sumText } from "./view";

export const metadata: Metadata = { title: "Orders" };

/** So many are reckoned for one page. */
const MOST_ORDERS = 20;

interface Row {
  readonly order: KeptOrderPlan;
  readonly sum: string;
  readonly missing: number;
}

export default async function Orders({ searchParams }: { readonly searchParams: Promise<Asked> }) {
  const { store, kitchenId, kitchen, live } = await openKitchen("see money");
  const asked = await searchParams;
  const all = await store.orderPlans(kitchenId);
  const open = all.filter(({ dropped }) => dropped === null);
  const sorted = [...soonestFirst(open, live.today), ...all.filter(({ dropped }) => dropped !== null)];
  const stretch = stretchOf(sorted, asked["from"], MOST_ORDERS);
  const rows = stretch.rows.map((order): Row => {
    const reckoned = orderOf(live.cascade, order.plan);
    return { order, sum: sumText(reckoned.total, reckoned, kitchen), missing: reckoned.needs.missing.length + reckoned.needs.empty.length };
  });
  const columns: readonly Column<Row>[] = [
    { key: "name", head: "Order", cell: ({ order }) => <Link href={`/orders/${encodeURIComponent(order.id)}`} prefetch={false}>{order.name}</Link> },
    { key: "day", head: "For", width: 8, cell: ({ order }) => (order.forDay === null ? <span className="quiet">no day</span> : printDay(order.forDay, kitchen)) },
    { key: "what", head: "What is served", fold: "phone", label: "", cell: ({ order }) => planWords(order.plan, kitchen) },
    { key: "sum", head: "As asked today", label: "as asked today", figure: true, fold: "phone", width: 9, cell: ({ sum }) => sum },
    { key: "missing", head: "Not known", label: "not known", figure: true, fold: "narrow", cell: ({ missing }) => (missing === 0 ? "" : missing) },
    { key: "who", head: "Last kept by", fold: "narrow", label: "", cell: ({ order }) => <span className="quiet">{order.changedBy}, {printMoment(order.changedAt, kitchen)}</span> },
  ];
  const groups = [{ key: "open", title: "Planned", rows: rows.filter(({ order }) => order.dropped === null) }, { key: "dropped", title: "Dropped", rows: rows.filter(({ order }) => order.dropped !== null) }].filter((group) => group.rows.length > 0);
  return (
    <>
      <PageTop title="Orders" of={`${open.length} planned · reckoned for ${printDay(live.today, kitchen)}`} answer="From covers to what has to be bought: through recipes, portions and yields to whole packs, dealer by dealer.">
        <IfMay deed="plan orders"><ButtonLink href="/orders/new">Plan an order</ButtonLink></IfMay>
      </PageTop>
      {all.length === 0
        ? <EmptyPage what="Nobody has planned an order yet. Say which dishes are served to how many: what has to be bought follows, by dealer and in whole packs, and what is not known is named."><IfMay deed="plan orders"><ButtonLink href="/orders/new">Plan an order</ButtonLink></IfMay></EmptyPage>
        : <Table caption={`${open.length} ${open.length === 1 ? "order" : "orders"}, the soonest first`} columns={columns} groups={groups} rowKey={({ order }) => order.id} />}
      <Stretches list={{ page: "/orders", words: "", filters: {}, sorting: null }} before={stretch.before} shown={rows.length} of={stretch.of} most={MOST_ORDERS} locale={kitchen.locale} />
    </>
  );
}

/** Those still to come by their day, then those without one, then what has been. */
function soonestFirst(orders: readonly KeptOrderPlan[], today: string): readonly KeptOrderPlan[] {
  const place = ({ forDay }: KeptOrderPlan): string => (forDay === null ? "1" : forDay >= today ? `0${forDay}` : "2");
  return [...orders].sort((a, b) => (place(a) < place(b) ? -1 : place(a) > place(b) ? 1 : (a.forDay ?? "") < (b.forDay ?? "") ? 1 : -1));
}
