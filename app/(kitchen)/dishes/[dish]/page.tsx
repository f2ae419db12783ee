/** One dish for the chef: what it costs and why, largest first; where it stands; what would bring it back; where it tips. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { allergensOf } from "@/lib/book";
import { customaryUnit, moneyFigure, perUnit, printDay, printMoney, printShare, shareText } from "@/lib/measure";
import { type Headroom, byChannel, costTree, differsByChannel, explainDish, headroom, onlyAway, priceAtTarget, whoseTarget } from "@/lib/menu";
import { basedOn } from "@/lib/store";
import { ChangeForm } from "@/components/change/ChangeForm";
import { AllergensOf } from "@/components/allergen/AllergensOf";
import { BothWays } from "@/components/dish/BothWays";
import { PlateLedger } from "@/components/dish/PlateLedger";
import { CostTree } from "@/components/explanation/CostTree";
import { BorrowedWord, RestsOnBorrowed } from "@/components/figure/Borrowed";
import { Figure, figureHref } from "@/components/figure/Figure";
import { Missing } from "@/components/figure/Missing";
import { ButtonLink } from "@/components/form";
import { IfMay } from "@/components/kitchen/IfMay";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { Term } from "@/components/glossary/Term";
import { StateWord } from "@/components/target/StateWord";
import { TargetGauge } from "@/components/target/TargetGauge";
import { costText, currencySign, gaugeLabel, pointsOff, targetText } from "../../change-flow/ripple-view";
import { printMoment } from "../../moment";
import { openKitchen } from "../../open-kitchen";
import { pathId } from "../../path-id";
import { withdrawDish } from "../actions";
import { PassedOn } from "../passed-on";

type Params = { readonly params: Promise<{ readonly dish: string }> };

export async function generateMetadata({ params }: Params): Promise<Metadata> {
  const { live } = await openKitchen("see money");
  return { title: live.book.shelves.dish.get(pathId((await params).dish))?.name ?? "Dish" };
}

export default async function DishPage({ params }: Params) {
  const id = pathId((await params).dish);
  const { store, kitchenId, live, kitchen } = await openKitchen("see money");
  const { cascade } = live;
  const opened = explainDish(cascade, id);
  if (opened === null) notFound();
  const { figures, explanation } = opened;
  const dish = cascade.book.shelves.dish.get(id);
  const ways = byChannel(cascade, id);
  if (dish === undefined || ways === null) notFound();
  const bothWays = differsByChannel(dish);
  const tree = costTree(cascade, id) ?? [];
  const at = encodeURIComponent(id);
  const currency = currencySign(kitchen);
  const asked = figures.state === "over" || figures.state === "near" ? priceAtTarget(figures) : null;
  const tips = headroom(cascade, id);
  const over = figures.state === "over";
  const whose = whoseTarget(cascade.book, id);
  // Over target, the price that would have to fall least comes first; a price that cannot bring it back is left out by its room.
  const nearest = (over ? [...tips].reverse() : tips).slice(0, 6);
  const history = (await store.costHistory(kitchenId, { kind: "dish", id })).slice(-8).reverse();
  return (
    <>
      <PageTop title={figures.name} trail={[{ name: "Dishes", href: "/dishes" }]} of={<>{figures.section !== "" && <>{figures.section} · </>}as of {printDay(live.today, kitchen)}</>}
        answer={<>{figures.plateCost.missing.length > 0
          ? <>The plate costs <Missing atLeast={printMoney(figures.plateCost.amount, kitchen)} missing={figures.plateCost.missing} />.</>
          : figures.foodCost === null ? <>The plate costs {printMoney(figures.plateCost.amount, kitchen)}; it has no menu price yet.</>
          : <>The food is <strong className={figures.state === "over" ? "over" : figures.state === "near" ? "near" : undefined}>{printShare(figures.foodCost, kitchen)} %</strong> of the price, {figures.state === "over" ? "over" : figures.state === "near" ? "near" : "under"} its target of {targetText(figures, kitchen)}.{asked !== null && <> At {printMoney(asked.gross, kitchen)} on the menu it would stand at its target.</>}</>}<RestsOnBorrowed borrowed={figures.plateCost.borrowed} /></>}>
        <IfMay deed="change dishes and menu prices"><ButtonLink href={`/dishes/${at}/edit`} plain>Change the plate</ButtonLink></IfMay>
        <IfMay deed="change dishes and menu prices"><ButtonLink href={`/dishes/${at}/price`}>Change the price</ButtonLink></IfMay>
      </PageTop>
      <dl className="facts">
        <dt><Term of="plate cost">Plate cost</Term></dt><dd><Figure of={{ figure: printMoney(figures.plateCost.amount, kitchen), unit: "" }} href={figureHref({ kind: "dish", id })} label={`Plate cost of ${figures.name}`} strong /></dd>
        <dt>Menu price</dt><dd>{figures.gross === null ? "none yet" : <>{printMoney(figures.gross, kitchen)} <span className="quiet">{opened.tax === null || opened.tax.isZero() ? "as printed, no tax in it" : `as printed, with ${shareText(figures.taxRate, kitchen)} tax in it`}</span></>}</dd>
        {figures.net !== null && opened.tax !== null && !opened.tax.isZero() && <><dt><Term of="net price">Net price</Term></dt><dd>{printMoney(figures.net, kitchen)} <span className="quiet">without the tax in it</span><span className="quiet">, {printMoney(opened.tax, kitchen)}</span></dd></>}
        <dt><Term of="food cost">Food cost</Term></dt><dd>{figures.foodCost === null ? "–" : <><Figure of={{ figure: printShare(figures.foodCost, kitchen), unit: "%" }} strong /> <StateWord state={figures.state} shape /> <TargetGauge now={pointsOff(figures)} was={null} state={figures.state} label={gaugeLabel(null, figures, kitchen)} /></>}</dd>
        <dt><Term of="target">Target</Term></dt><dd>{targetText(figures, kitchen)} <span className="quiet">{whose === "dish" ? "its own" : <Link href="/house">{whose === "section" ? `that of ${figures.section}` : "the kitchen’s"}</Link>}; near it from {printShare(figures.target.minus(figures.near), kitchen)} %</span></dd>
        <dt><Term of="contribution">Contribution</Term></dt><dd>{figures.contribution === null ? "–" : printMoney(figures.contribution, kitchen)} <span className="quiet">a plate, net price less food</span></dd>
        {opened.toSpare !== null && <><dt>{opened.toSpare.lt(0) ? "Too much by" : "To spare"}</dt><dd>{printMoney(opened.toSpare.abs(), kitchen)} <span className="quiet">of food on the plate, until it meets its target</span></dd></>}
      </dl>
      {bothWays && <><h2>At the table, and taken away</h2><BothWays ways={[ways.table, ways.away]} kitchen={kitchen} currency={currency} /></>}
      <h2>What is on the plate</h2>
      {dish.lines.length === 0 && explanation.steps.length === 0 ? <p>Nothing is on the plate yet. <IfMay deed="change dishes and menu prices"><Link href={`/dishes/${at}/edit`}>Put something on it</Link></IfMay></p> : (
        <>
          <PlateLedger dish={dish} explanation={explanation} away={onlyAway(cascade, dish)} takenAway={bothWays ? { amount: ways.away.plateCost.amount, atLeast: ways.away.plateCost.missing.length > 0 } : null} kitchen={kitchen} currency={currency} />
          {tree.length > 0 && (
            <>
              <h2>Down to the dealer and the scale</h2>
              <p className="quiet">What each adds to one plate{bothWays && " at the table"}, {currency} and share, largest first. Open a line to what it is made of, down to the price and its age.</p>
              <CostTree branches={tree} kitchen={kitchen} label={`What the plate of ${figures.name} costs, line by line`} />
            </>
          )}
        </>
      )}
      {nearest.length > 0 && (
        <>
          <h2>Where it tips: <Term of="headroom">headroom</Term> in each price</h2>
          <TipsFirst row={nearest[0]} kitchen={kitchen} over={over} />
          <HeadroomTable rows={nearest} kitchen={kitchen} currency={currency} over={over} />
        </>
      )}
      <PassedOn figures={figures} history={history} kitchen={kitchen} />
      <h2>How its cost has moved</h2>
      {history.length === 0 ? <p className="quiet">Nothing has moved it since it was put in the book.</p> : (
        <Table narrow caption={`The last ${history.length === 1 ? "change that moved it" : `${history.length} changes that moved it`}, newest first`} rows={history} rowKey={(point) => String(point.changeNo)} columns={[
          { key: "at", head: "When", cell: (point) => printMoment(point.at, kitchen) },
          { key: "cost", head: `Plate cost, ${currency}`, figure: true, width: 6, cell: (point) => point.amount === null ? "off the book" : <>{point.atLeast && <span className="quiet small">at least </span>}{moneyFigure(point.amount, kitchen)}<BorrowedWord borrowed={point.borrowed} /></> },
          { key: "change", head: "By", figure: true, width: 6, cell: (point) => <Link href={`/record/${point.changeNo}`}>change {point.changeNo}</Link> },
        ]} />
      )}
      <AllergensOf found={allergensOf(cascade.book, { kind: "dish", id })} what="this dish" />
      <p className="quiet">Meat, fish, eggs or shellfish that a guest may have raw, or cooked less than your food code asks, must be named on the menu in many places, with a reminder of the risk: ask your food authority what the menu has to say of this dish. When a portion is cut smaller, look whether the menu promises a weight.</p>
      <details>
        <summary>Take this dish off the menu</summary>
        <p>It stays in the record, with its price.</p>
        <ChangeForm action={withdrawDish} basedOn={basedOn(live, [{ kind: "dish", id }, { kind: "menuPrice", id }])} hidden={{ id }} recordLabel="Take it off" id="withdraw"><></></ChangeForm>
      </details>
    </>
  );
}

/** The price that needs the smallest move, in a sentence. */
function TipsFirst({ row, kitchen, over }: { readonly row: Headroom | undefined; readonly kitchen: Awaited<ReturnType<typeof openKitchen>>["kitchen"]; readonly over: boolean }) {
  if (row === undefined || row.headroom === null) return null;
  const price = costText({ amount: row.breakEven, per: row.per, missing: [], borrowed: [] }, kitchen);
  const far = `${printShare(row.headroom.abs(), kitchen)} %`;
  return <p>{over ? <>It would be back at its target if {row.name} fell to {price}, {far} below today.</> : <>It tips when {row.name} passes {price}, {far} above today.</>}</p>;
}

function HeadroomTable({ rows, kitchen, currency, over }: { readonly rows: readonly Headroom[]; readonly kitchen: Awaited<ReturnType<typeof openKitchen>>["kitchen"]; readonly currency: string; readonly over: boolean }) {
  const unitOf = (row: Headroom) => (row.per === "g" ? customaryUnit("mass", kitchen) : row.per === "mL" ? customaryUnit("volume", kitchen) : "each");
  const columns: readonly Column<Headroom>[] = [
    { key: "name", head: "If the price of", cell: (row) => <Link href={`/items/${encodeURIComponent(row.itemId)}`}>{row.name}</Link> },
    { key: "now", head: "stands at", figure: true, fold: "phone", label: "now", cell: (row) => <Figure of={{ figure: moneyFigure(perUnit(row.price, unitOf(row)), kitchen), unit: `${currency}/${unitOf(row)}` }} /> },
    { key: "tips", head: over ? "it would have to fall to" : "it tips at", figure: true, width: 7, cell: (row) => <Figure of={{ figure: moneyFigure(perUnit(row.breakEven, unitOf(row)), kitchen), unit: `${currency}/${unitOf(row)}` }} /> },
    { key: "room", head: "that is", figure: true, width: 5, cell: (row) => row.headroom === null ? "" : <Figure of={{ figure: `${row.headroom.lt(0) ? "−" : "+"}${printShare(row.headroom.abs(), kitchen)}`, unit: "%" }} /> },
    { key: "share", head: "of the plate", figure: true, fold: "phone", cell: (row) => row.share === null ? "" : <Figure of={{ figure: printShare(row.share, kitchen), unit: "%" }} /> },
  ];
  return <Table caption="Each price by itself, all others as they are; least room first" columns={columns} rows={rows} rowKey={(row) => row.itemId} narrow />;
}
