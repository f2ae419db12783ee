/** A new item, with its first price and, on the way, a new dealer. */
import type { Metadata } from "next";
import { basedOn, newId } from "@/lib/store";
import { NewItemForm } from "@/components/item/ItemForms";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../../open-kitchen";
import { dealerChoices } from "../../tests/sheet-props";
import { addItem } from "../actions";
import { quoteCurrencies, quoteUnits } from "../quote-units";

export const metadata: Metadata = { title: "Add an item" };

export default async function NewItem() {
  const { live, kitchen } = await openKitchen("change items and prices");
  const id = newId("item");
  const quoteId = newId("quote");
  return (
    <>
      <PageTop title="Add an item" trail={[{ name: "Items", href: "/items" }]} answer="What you buy, as the dealer sells it, with its price. Weighed goods that are billed by what they weigh are catch weight." />
      <NewItemForm action={addItem} basedOn={basedOn(live, [{ kind: "item", id }, { kind: "quote", id: quoteId }])} hidden={{ id, quoteId, newDealerId: newId("dealer") }}
        values={{ name: "", section: "", specification: "", kind: "mass" }} dealers={dealerChoices(live.book)} units={quoteUnits(null, kitchen)} currencies={quoteCurrencies(kitchen)} />
    </>
  );
}
