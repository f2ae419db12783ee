/** A new order: for which day, which dishes for how many, what is in the house already. */
import type { Metadata } from "next";
import { EMPTY_PLAN } from "@/lib/buying";
import { newOrderId } from "@/lib/store";
import { OrderForm } from "@/components/order/OrderForm";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../../open-kitchen";
import { saveOrder } from "../actions";
import { dishLabels, planValues, surenessChoices } from "../read-order";

export const metadata: Metadata = { title: "Plan an order" };

export default async function NewOrder() {
  const { live: { book, today }, kitchen } = await openKitchen("plan orders");
  return (
    <>
      <PageTop title="Plan an order" trail={[{ name: "Orders", href: "/orders" }]} answer="What has to be bought follows from the recipes, the portions and the yields in the book. Keeping an order changes nothing of the book." />
      <OrderForm action={saveOrder} id={newOrderId()} version={null} dishNames={dishLabels(book)} surenesses={surenessChoices(kitchen)}
        {...planValues(book, { name: "", forDay: today, plan: { ...EMPTY_PLAN } }, kitchen)} />
    </>
  );
}
