/** An order changed: other covers, more in the house, surer. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { OrderForm } from "@/components/order/OrderForm";
import { PageTop } from "@/components/sheet/PageTop";
import { Told } from "@/components/sheet/Told";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { printMoment } from "../../../moment";
import { saveOrder } from "../../actions";
import { dishLabels, planValues, surenessChoices } from "../../read-order";

export const metadata: Metadata = { title: "Change an order" };

export default async function EditOrder({ params }: { readonly params: Promise<{ readonly order: string }> }) {
  const id = pathId((await params).order);
  const { store, kitchenId, kitchen, live: { book } } = await openKitchen("plan orders");
  const order = await store.readOrderPlan(kitchenId, id);
  if (order === null) notFound();
  return (
    <>
      <PageTop title={`Change ${order.name}`} trail={[{ name: "Orders", href: "/orders" }, { name: order.name, href: `/orders/${encodeURIComponent(id)}` }]} of={`last kept by ${order.changedBy}, ${printMoment(order.changedAt, kitchen)}`} />
      {order.dropped !== null
        ? <Told><p>It was dropped by {order.dropped.by} on {printMoment(order.dropped.at, kitchen)}. Take it up again before you change it.</p></Told>
        : <OrderForm action={saveOrder} id={id} version={order.version} dishNames={dishLabels(book)} surenesses={surenessChoices(kitchen)} {...planValues(book, order, kitchen)} />}
    </>
  );
}
