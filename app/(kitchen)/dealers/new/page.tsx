/** A new dealer. */
import type { Metadata } from "next";
import { basedOn, newId } from "@/lib/store";
import { DealerForm } from "@/components/dealer/DealerForm";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../../open-kitchen";
import { saveDealer } from "../actions";

export const metadata: Metadata = { title: "Add a dealer" };

export default async function NewDealer() {
  const { live } = await openKitchen("change items and prices");
  const id = newId("dealer");
  return (
    <>
      <PageTop title="Add a dealer" trail={[{ name: "Dealers", href: "/dealers" }]} answer="Whoever the kitchen buys from. Prices are added at the items, or read from a price list." />
      <DealerForm action={saveDealer} basedOn={basedOn(live, [{ kind: "dealer", id }])} hidden={{ id }} recordLabel="Record this dealer" values={{ name: "", minimumOrder: "", ordering: "", note: "" }} />
    </>
  );
}
