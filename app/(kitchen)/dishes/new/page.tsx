/** A new dish with its menu price. */
import type { Metadata } from "next";
import { basedOn, newId } from "@/lib/store";
import { DishForm } from "@/components/dish/DishForms";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../../open-kitchen";
import { saveDish } from "../actions";

export const metadata: Metadata = { title: "Add a dish" };

export default async function NewDish() {
  const { live } = await openKitchen("change dishes and menu prices");
  const id = newId("dish");
  return (
    <>
      <PageTop title="Add a dish" trail={[{ name: "Dishes", href: "/dishes" }]} answer="Put the plate together, give it a price and a target, and see at once where it stands." />
      <DishForm action={saveDish} basedOn={basedOn(live, [{ kind: "dish", id }, { kind: "menuPrice", id }])} recordLabel="Record this dish" hidden={{ id }} withPrice
        values={{ name: "", section: "", note: "", gross: "", target: "" }} rows={[{}, {}, {}]} allowances={[]} />
    </>
  );
}
