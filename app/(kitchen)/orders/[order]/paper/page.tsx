/** Order sheets on paper, one for each dealer, each on a page of its own; ?dealer=… prints one of them. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { orderOf } from "@/lib/buying";
import { printDay } from "@/lib/measure";
import { OrderPaper } from "@/components/order/OrderPaper";
import { PrintBar } from "@/components/paper/PrintBar";
import { paperSize } from "@/components/paper/paper-size";
import { PageTop } from "@/components/sheet/PageTop";
import type { Asked } from "../../../find";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { DOOR_CAUTION, minimumText, rowOf, sumText } from "../../view";

export const metadata: Metadata = { title: "Order sheets" };

export default async function OrderPaperPage({ params, searchParams }: { readonly params: Promise<{ readonly order: string }>; readonly searchParams: Promise<Asked> }) {
  const id = pathId((await params).order);
  const asked = await searchParams;
  const open = await openKitchen("see money");
  const { store, kitchenId, kitchen, live, visitor } = open;
  const kept = await store.readOrderPlan(kitchenId, id);
  if (kept === null) notFound();
  const page = `/orders/${encodeURIComponent(id)}`;
  const order = orderOf(live.cascade, kept.plan);
  const parts = order.dealers.filter(({ dealerId }) => dealerId !== null && (typeof asked["dealer"] !== "string" || asked["dealer"] === dealerId));
  const paper = paperSize(asked["paper"], kitchen.locale);
  const one = typeof asked["dealer"] === "string" ? { dealer: asked["dealer"] } : undefined;
  const unpriced = order.dealers.find(({ dealerId }) => dealerId === null)?.lines.length ?? 0;
  return (
    <>
      <div className="no-print">
        <PageTop title={`${kept.name}, order sheets`} trail={[{ name: "Orders", href: "/orders" }, { name: kept.name, href: page }]}
          of={`${parts.length} ${parts.length === 1 ? "dealer" : "dealers"}${unpriced > 0 ? ` · ${unpriced} ${unpriced === 1 ? "item" : "items"} that nobody asks a price for ${unpriced === 1 ? "is" : "are"} on no sheet` : ""}`} />
        <PrintBar paper={paper} href={(size) => `${page}/paper?${new URLSearchParams({ ...one, paper: size }).toString()}`} />
      </div>
      {parts.length === 0 && <p>Nothing has to be ordered.</p>}
      {parts.map((part) => (
        <OrderPaper key={part.dealerId} paper={paper} dealer={part.name} ordering={part.ordering} kitchen={kitchen.name} place={kitchen.place} order={kept.name} forDay={kept.forDay === null ? "" : printDay(kept.forDay, kitchen)}
          rows={part.lines.map((line) => rowOf(line, open))} total={sumText(part.total, part, kitchen)} minimum={minimumText(part, kitchen)} note={kept.plan.note}
          caution={DOOR_CAUTION} printed={`Printed ${printDay(live.today, kitchen)} by ${visitor.name}, prices as asked on that day`} />
      ))}
    </>
  );
}
