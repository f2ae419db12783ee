/** A dealer changed, or taken off the book. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { printMoney, toDecimal } from "@/lib/measure";
import { basedOn } from "@/lib/store";
import { ChangeForm } from "@/components/change/ChangeForm";
import { DealerForm } from "@/components/dealer/DealerForm";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { saveDealer, withdrawDealer } from "../../actions";

export const metadata: Metadata = { title: "Change a dealer" };

export default async function EditDealer({ params }: { readonly params: Promise<{ readonly dealer: string }> }) {
  const id = pathId((await params).dealer);
  const { live, kitchen } = await openKitchen("change items and prices");
  const dealer = live.book.shelves.dealer.get(id);
  if (dealer === undefined) notFound();
  const standing = basedOn(live, [{ kind: "dealer", id }]);
  return (
    <>
      <PageTop title={`Change ${dealer.name}`} trail={[{ name: "Dealers", href: "/dealers" }, { name: dealer.name, href: `/dealers/${encodeURIComponent(id)}` }]} answer="Its name, the least an order comes to, and how to order." />
      <DealerForm action={saveDealer} basedOn={standing} hidden={{ id }} recordLabel="Record the change"
        values={{ name: dealer.name, minimumOrder: dealer.minimumOrder === null ? "" : dealer.minimumOrder.typed ?? printMoney(toDecimal(dealer.minimumOrder.amount), kitchen), ordering: dealer.ordering, note: dealer.note }} />
      <details>
        <summary>Take {dealer.name} off the book</summary>
        <p>What was bought there stays in the record. It cannot be taken off while it quotes an item or a test names it.</p>
        <ChangeForm action={withdrawDealer} basedOn={standing} hidden={{ id }} recordLabel="Take it off" dated={false} id="withdraw"><></></ChangeForm>
      </details>
    </>
  );
}
