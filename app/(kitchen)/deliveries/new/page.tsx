/** A delivery is recorded: typed, or begun from the dealer's file or the codes of its cartons. */
import type { Metadata } from "next";
import { basedOn, newId } from "@/lib/store";
import { DeliveryDesk } from "@/components/delivery/DeliveryDesk";
import { RECEIVING_CARE } from "@/components/delivery/words";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../../open-kitchen";
import { fillDelivery, saveDelivery } from "../actions";
import { deliveryChoices } from "../line-values";

export const metadata: Metadata = { title: "Record a delivery" };

export default async function NewDelivery({ searchParams }: { readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>> }) {
  const { dealer } = await searchParams;
  const { live, kitchen } = await openKitchen("record deliveries");
  const id = newId("delivery");
  const dealerId = typeof dealer === "string" && live.book.shelves.dealer.has(dealer) ? dealer : "";
  return (
    <>
      <PageTop title="Record a delivery" trail={[{ name: "Dealers", href: "/dealers" }, { name: "Deliveries", href: "/deliveries" }]}
        answer="Copy what the paper bills, and write beside it what your scale read. What is short, dearer than quoted or wrongly added up is told." />
      <p className="quiet">{RECEIVING_CARE}</p>
      <DeliveryDesk fill={fillDelivery} action={saveDelivery} basedOn={basedOn(live, [{ kind: "delivery", id }])} recordLabel="Record this delivery" hidden={{ id }}
        values={{ dealerId, number: "", kind: "invoice", on: live.today, note: "" }} rows={[{}, {}, {}]} {...deliveryChoices(live.book, kitchen)} />
    </>
  );
}
