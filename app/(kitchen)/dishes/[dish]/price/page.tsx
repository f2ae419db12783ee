/** A dish's menu price and target, changed. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { type Exact, printMoney, printShare, toDecimal } from "@/lib/measure";
import { dishFigures, priceAtTarget } from "@/lib/menu";
import { basedOn } from "@/lib/store";
import { PriceForm } from "@/components/dish/DishForms";
import { PageTop } from "@/components/sheet/PageTop";
import { targetText } from "../../../change-flow/ripple-view";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { priceDish } from "../../actions";

export const metadata: Metadata = { title: "Change a menu price" };

export default async function PriceDish({ params }: { readonly params: Promise<{ readonly dish: string }> }) {
  const id = pathId((await params).dish);
  const { live, kitchen } = await openKitchen();
  const figures = dishFigures(live.cascade, id);
  if (figures === null) notFound();
  const price = live.book.shelves.menuPrice.get(id);
  const asked = priceAtTarget(figures);
  const percent = (share: Exact | null | undefined): string => (share === null || share === undefined ? "" : `${printShare(toDecimal(share), kitchen)} %`);
  return (
    <>
      <PageTop title={`Price of ${figures.name}`} trail={[{ name: "Dishes", href: "/dishes" }, { name: figures.name, href: `/dishes/${encodeURIComponent(id)}` }]}
        answer={<>Its plate costs {figures.plateCost.missing.length > 0 && "at least "}{printMoney(figures.plateCost.amount, kitchen)}.{asked !== null && <> At {printMoney(asked.gross, kitchen)} the food would be {targetText(figures, kitchen)} of the price, its target.</>}</>} />
      <PriceForm action={priceDish} basedOn={basedOn(live, [{ kind: "menuPrice", id }])} recordLabel="Record this price" hidden={{ id }}
        values={{ gross: price?.gross.typed ?? price?.gross.amount ?? "", target: percent(price?.target), taxRate: percent(price?.taxRate) }} />
    </>
  );
}
