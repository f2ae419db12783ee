/** A delivery corrected: what the paper said, or what the scale read. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { basedOn } from "@/lib/store";
import { DeliveryForm } from "@/components/delivery/DeliveryForm";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { saveDelivery } from "../../actions";
import { deliveredValues, deliveryChoices } from "../../line-values";
import { paperName } from "../../words";

export const metadata: Metadata = { title: "Correct a delivery" };

export default async function EditDelivery({ params }: { readonly params: Promise<{ readonly delivery: string }> }) {
  const id = pathId((await params).delivery);
  const { live, kitchen } = await openKitchen("record deliveries");
  const delivery = live.book.shelves.delivery.get(id);
  if (delivery === undefined) notFound();
  return (
    <>
      <PageTop title={`Correct ${paperName(delivery).toLowerCase().replace(delivery.number.toLowerCase(), delivery.number)}`} trail={[{ name: "Deliveries", href: "/deliveries" }, { name: paperName(delivery), href: `/deliveries/${encodeURIComponent(id)}` }]}
        answer="What was recorded before stays in the record; the book goes by what you write here." />
      <DeliveryForm action={saveDelivery} basedOn={basedOn(live, [{ kind: "delivery", id }])} recordLabel="Record the correction" hidden={{ id }}
        values={{ dealerId: delivery.dealerId, number: delivery.number, kind: delivery.kind, on: delivery.on, note: delivery.note }} rows={delivery.lines.map((line) => deliveredValues(live.book, line, kitchen))} {...deliveryChoices(live.book, kitchen)} />
    </>
  );
}
