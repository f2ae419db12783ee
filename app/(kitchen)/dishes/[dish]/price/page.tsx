/**
 * A dish's menu price and target, changed; beside it what five ways of pricing ask for, what would keep the percentage,
 * keep the margin, meet the target, each up to the house's next ending; and its prices so far, with why.
 */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import type { FactOf, MenuPrice } from "@/lib/book";
import { type Checked, type Decimal, type Exact, type Problem, at, moneyFigure, parseMoney, parseNumber, printDay, printMoney, printNumber, printShare, shareText, toDecimal } from "@/lib/measure";
import { type PricedBy, type PricingLack, type PricingMethod, dishFigures, houseRatio, labourAGuest, pricedByEach, priceAtTarget } from "@/lib/menu";
import { type Revision, basedOn } from "@/lib/store";
import { PriceForm } from "@/components/dish/DishForms";
import { Button, FormFrame, MoneyField, NumberField } from "@/components/form";
import { RestsOnBorrowed } from "@/components/figure/Borrowed";
import { Missing } from "@/components/figure/Missing";
import { Term } from "@/components/glossary/Term";
import { heldUntil } from "@/components/item/held-until";
import { PriceChart } from "@/components/item/PriceChart";
import { PageTop } from "@/components/sheet/PageTop";
import { Table } from "@/components/table/Table";
import { currencySign, targetText } from "../../../change-flow/ripple-view";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { priceDish } from "../../actions";
import { PassedOn } from "../../passed-on";
import { PricesAsked } from "../../prices-asked";

interface Props {
  readonly params: Promise<{ readonly dish: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>>;
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const { live } = await openKitchen("change dishes and menu prices");
  const name = live.book.shelves.dish.get(pathId((await params).dish))?.name;
  return { title: name === undefined ? "Menu price" : `Price of ${name}` };
}

export default async function PriceDish({ params, searchParams }: Props) {
  const id = pathId((await params).dish);
  const { store, kitchenId, live, kitchen } = await openKitchen("change dishes and menu prices");
  const figures = dishFigures(live.cascade, id);
  if (figures === null) notFound();
  const price = live.book.shelves.menuPrice.get(id);
  const asked = priceAtTarget(figures);
  const [costs, revisions] = await Promise.all([store.costHistory(kitchenId, { kind: "dish", id }), store.revisionsOf(kitchenId, "menuPrice", id)]);
  const history = revisions.filter((one) => one.replacedBy === null && one.fact !== null);
  const reckoned = readReckoned(await searchParams, kitchen);
  const plate = printMoney(figures.plateCost.amount, kitchen);
  const taxed = !toDecimal(figures.taxRate).isZero();
  const typed = (share: Exact | null | undefined): string => (share === null || share === undefined ? "" : shareText(share, kitchen));
  const methods = pricedByEach(figures, { budget: kitchen.budget, labour: reckoned.labour, factor: reckoned.factor });
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
      <PassedOn figures={figures} history={costs.slice(-2).reverse()} kitchen={kitchen} />

      <h2>Five ways to a price</h2>
      <p className="quiet">Each is where to begin: then come the guest, the street and the rest of the menu.{taxed && " Prices are with the tax, as printed."}</p>
      <PricesAsked figures={figures} kitchen={kitchen} caption="What five ways of pricing ask for this dish" rows={methods.map((one) => ({
        key: one.method, name: one.method === "prime cost" ? <>By <Term of="prime cost">prime cost</Term></> : METHOD_NAMES[one.method], what: methodWords(one, kitchen, reckoned), asked: one.asked, lack: one.lack === null ? null : <Lacking lack={one.lack} />,
      }))} />
      <form className="form" method="get" action={`/dishes/${encodeURIComponent(id)}/price`}>
        <FormFrame id="reckon" values={reckoned.values} problems={reckoned.problems}>
          <div className="fields">
            <MoneyField name="labour" label="Direct labour in this plate" hint={labourHint(kitchen)} />
            <NumberField name="factor" label="The house’s factor" hint="Cost times this, where the house prices so" />
          </div>
          <Button type="submit" plain>Reckon with these</Button>
        </FormFrame>
      </form>

      {history.length > 0 && (
        <>
          <h2>Its prices so far</h2>
          {history.length > 2 && <PriceChart label={`Menu price of ${figures.name}; the table below has every figure`} per="on the menu" points={pointsOf(history, kitchen, live.today)} />}
          <Table narrow quietCaption caption={`Menu prices of ${figures.name}, newest first`} rows={history} rowKey={(one) => String(one.revision)} columns={[
            { key: "from", head: "From", cell: (one) => <>{printDay(one.validFrom, kitchen)}{one.validFrom > live.today && <span className="quiet">, waits</span>}</> },
            { key: "price", head: `Price, ${currencySign(kitchen)}`, figure: true, width: 5, cell: (one) => moneyFigure(toDecimal((one.fact as MenuPrice).gross.amount), kitchen) },
            { key: "why", head: "Why", fold: "phone", label: "", cell: (one) => <>{one.why} <Link className="quiet" href={`/record/${one.changeNo}`}>by {one.by}</Link></> },
          ]} />
        </>
      )}
    </>
  );
}

const METHOD_NAMES: Readonly<Record<PricingMethod, string>> = {
  target: "By target", factor: "By factor", "prime cost": "By prime cost", contribution: "By contribution", ratio: "By ratio",
};

interface Reckoned {
  readonly labour: Decimal | null;
  readonly factor: Decimal | null;
  readonly values: Readonly<Record<string, string>>;
  readonly problems: readonly Problem[];
}

/** What the address asks to reckon with; nothing of it is kept. */
function readReckoned(asked: Readonly<Record<string, string | readonly string[] | undefined>>, kitchen: FactOf["kitchen"]): Reckoned {
  const text = (name: string): string => { const value = asked[name]; return typeof value === "string" ? value.slice(0, 60).trim() : ""; };
  const problems: Problem[] = [];
  const read = (name: string, reading: (typed: string) => Checked<Exact>): Decimal | null => {
    if (text(name) === "") return null;
    const value = reading(text(name));
    const amount = value.ok ? toDecimal(value.value) : null;
    if (!value.ok) problems.push(...at(name, value.problems));
    else if (amount !== null && !amount.gt(0)) problems.push({ path: name, code: "not-above-zero", sentence: "Give a figure above zero, or leave it empty." });
    return amount !== null && amount.gt(0) ? amount : null;
  };
  const labour = read("labour", (typed) => { const money = parseMoney(typed, kitchen); return money.ok ? { ok: true, value: money.value.amount } : money; });
  const factor = read("factor", (typed) => parseNumber(typed, kitchen));
  return { labour, factor, values: { labour: text("labour"), factor: text("factor") }, problems };
}

function methodWords({ method }: PricedBy, kitchen: FactOf["kitchen"], { labour, factor }: Reckoned): string {
  const { budget } = kitchen;
  const guest = budget === null ? null : labourAGuest(budget);
  switch (method) {
    case "target": return "cost over target";
    case "factor": return factor === null ? "" : `cost times ${printNumber(factor, kitchen)}`;
    case "prime cost": return budget === null || budget.primeCostShare === null ? "" : `cost and ${labour === null ? `${guest === null ? "" : printMoney(guest, kitchen)} labour a guest` : `${printMoney(labour, kitchen)} labour`}, together ${shareText(budget.primeCostShare, kitchen)} of the price`;
    case "contribution": return budget === null ? "" : `cost and what each of ${printNumber(toDecimal(budget.guests), kitchen)} guests of ${budget.period} has to leave over`;
    case "ratio": return budget === null ? "" : `cost and ${printNumber(houseRatio(budget), kitchen, { places: 2 })} times it, for all that is not food`;
  }
}

function Lacking({ lack }: { readonly lack: PricingLack }) {
  switch (lack) {
    case "cost": return <>not while the plate’s cost is not wholly known</>;
    case "factor": return <>type the factor below</>;
    case "budget": return <>once the house’s figures of a period stand in the <Link href="/house">house rules</Link></>;
    case "prime share": return <>once the <Link href="/house">house rules</Link> say what food and labour may cost together</>;
    case "labour": return <>type the labour below, or put the period’s in the <Link href="/house">house rules</Link></>;
  }
}

function labourHint(kitchen: FactOf["kitchen"]): string {
  const guest = kitchen.budget === null ? null : labourAGuest(kitchen.budget);
  return guest === null ? "Minutes at the plate times the wage" : `Empty: ${printMoney(guest, kitchen)}, what labour comes to a guest`;
}

function pointsOf(history: readonly Revision[], kitchen: FactOf["kitchen"], today: string) {
  const points = history.filter((one) => one.validFrom <= today).reverse().map((one) => {
    const gross = toDecimal((one.fact as MenuPrice).gross.amount);
    return { on: one.validFrom, day: printDay(one.validFrom, kitchen), height: gross.toNumber(), price: printMoney(gross, kitchen) };
  });
  return heldUntil(today, printDay(today, kitchen), points);
}
