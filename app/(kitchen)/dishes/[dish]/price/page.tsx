/** A dish's menu price and target, changed; beside it what would keep the percentage, keep the margin, meet the target. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { type Exact, printMoney, printShare, shareText, toDecimal } from "@/lib/measure";
import { dishFigures, priceAtTarget } from "@/lib/menu";
import { basedOn } from "@/lib/store";
import { PriceForm } from "@/components/dish/DishForms";
import { RestsOnBorrowed } from "@/components/figure/Borrowed";
import { Missing } from "@/components/figure/Missing";
import { PageTop } from "@/components/sheet/PageTop";
import { targetText } from "../../../change-flow/ripple-view";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { priceDish } from "../../actions";
import { PassedOn } from "../../passed-on";

type Params = { readonly params: Promise<{ readonly dish: string }> };

export async function generateMetadata({ params }: Params): Promise<Metadata> {
  const { live } = await openKitchen("change dishes and menu prices");
  const name = live.book.shelves.dish.get(pathId((await params).dish))?.name;
  return { title: name === undefined ? "Menu price" : `Price of ${name}` };
}

export default async function PriceDish({ params }: Params) {
  const id = pathId((await params).dish);
  const { store, kitchenId, live, kitchen } = await openKitchen("change dishes and menu prices");
  const figures = dishFigures(live.cascade, id);
  if (figures === null) notFound();
  const price = live.book.shelves.menuPrice.get(id);
  const asked = priceAtTarget(figures);
  const history = (await store.costHistory(kitchenId, { kind: "dish", id })).slice(-2).reverse();
  const plate = printMoney(figures.plateCost.amount, kitchen);
  const taxed = !toDecimal(figures.taxRate).isZero();
  const typed = (share: Exact | null | undefined): string => (share === null || share === undefined ? "" : shareText(share, kitchen));
  return (
    <>
      <PageTop title={`Price of ${figures.name}`} trail={[{ name: "Dishes", href: "/dishes" }, { name: figures.name, href: `/dishes/${encodeURIComponent(id)}` }]}
        answer={(
          <>
            {figures.plateCost.missing.length > 0 ? <>Its plate costs <Missing atLeast={plate} missing={figures.plateCost.missing} />.</> : <>Its plate costs {plate}.</>}
            {figures.gross !== null && figures.foodCost !== null && figures.contribution !== null && figures.plateCost.missing.length === 0
              && <> At {printMoney(figures.gross, kitchen)} on the menu the food is {printShare(figures.foodCost, kitchen)} % of the {taxed ? "net price" : "price"} and {printMoney(figures.contribution, kitchen)} is left over.</>}
            {asked !== null && <> At {printMoney(asked.gross, kitchen)} it would stand at its target of {targetText(figures, kitchen)}.</>}
            <RestsOnBorrowed borrowed={figures.plateCost.borrowed} />
          </>
        )} />
      <PriceForm action={priceDish} basedOn={basedOn(live, [{ kind: "menuPrice", id }])} recordLabel="Record this price" hidden={{ id }} kitchenTarget={typed(kitchen.target)} kitchenTax={typed(kitchen.taxRate)}
        values={{ gross: price?.gross.typed ?? price?.gross.amount ?? "", target: typed(price?.target), taxRate: typed(price?.taxRate) }} />
      <PassedOn figures={figures} history={history} kitchen={kitchen} />
    </>
  );
}
