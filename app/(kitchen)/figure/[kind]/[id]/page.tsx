/** Any cost opened to its arithmetic, on today's book or as it stood on another day. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { isDay } from "@/lib/book";
import { type Cascade, type Explanation, NODE_KINDS, type NodeRef, compile, explain } from "@/lib/cascade";
import { UNITS, good, oneOf, printDay, printFactor, printMoney, printQuantity, printShare, quantityText, toDecimal } from "@/lib/measure";
import { explainDish } from "@/lib/menu";
import { DateField, Button } from "@/components/form";
import { ExplanationLedger, RecordedBy, behindWords } from "@/components/explanation/ExplanationLedger";
import { RestsOnBorrowed } from "@/components/figure/Borrowed";
import { Figure, figureHref } from "@/components/figure/Figure";
import { MissingWords } from "@/components/figure/Missing";
import { PageTop } from "@/components/sheet/PageTop";
import { Table } from "@/components/table/Table";
import { costText, currencySign } from "../../../change-flow/ripple-view";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";

export const metadata: Metadata = { title: "A figure opened" };

const PLACES = { item: ["Items", "/items"], cut: ["Cuts", "/cuts"], spec: ["Cuts", "/cuts"], recipe: ["Recipes", "/recipes"], dish: ["Dishes", "/dishes"] } as const;
const OWN = { item: "/items", cut: "/cuts", spec: "/specs", recipe: "/recipes", dish: "/dishes" } as const;

type Kitchen = Awaited<ReturnType<typeof openKitchen>>["kitchen"];

export default async function FigurePage({ params, searchParams }: {
  readonly params: Promise<{ readonly kind: string; readonly id: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>>;
}) {
  const { kind: asked, id: escaped } = await params;
  const kind = NODE_KINDS.find((known) => known === asked);
  if (kind === undefined) notFound();
  const ref: NodeRef = { kind, id: pathId(escaped) };
  const { store, kitchenId, live, kitchen } = await openKitchen("see money");
  const wanted = (await searchParams)["on"];
  const on = typeof wanted === "string" && isDay(wanted) && wanted !== live.today ? wanted : null;
  const costed = on === null ? good(live.cascade) : compile(await store.bookAsOf(kitchenId, { on }));
  if (!costed.ok) {
    // A day gone by is looked at as it was filled in since, and may hold what no change of today could make.
    return <PageTop title="That day has no costs" answer={<>{costed.problems[0]?.sentence} Recorded since for {printDay(on ?? live.today, kitchen)}, it cannot be costed. <Link href={figureHref(ref)}>See it today</Link></>} />;
  }
  const cascade = costed.value;
  const explanation = explain(cascade, ref);
  if (explanation === null) {
    if (on === null) notFound();
    return <PageTop title="Not in the book on that day" answer={<>On {printDay(on, kitchen)} the book did not hold this yet. <Link href={figureHref(ref)}>See it today</Link></>} />;
  }
  const [place, placeHref] = PLACES[kind];
  return (
    <>
      <PageTop title={<>{explanation.name} costs {explanation.cost.missing.length > 0 && "at least "}{costText(explanation.cost, kitchen)}</>}
        trail={[{ name: place, href: placeHref }, { name: explanation.name, href: `${OWN[kind]}/${encodeURIComponent(ref.id)}` }]}
        of={<>standard on {printDay(on ?? live.today, kitchen)} · {on === null ? <a href="#another-day">as it stood on another day</a> : <Link href={figureHref(ref)}>as it stands today</Link>}</>}
        answer={<><Sentence explanation={explanation} kitchen={kitchen} past={on !== null} />{explanation.cost.borrowed.some((cut) => cut.id !== ref.id) && <RestsOnBorrowed borrowed={explanation.cost.borrowed} />}</>} />
      <ExplanationLedger explanation={explanation} kitchen={kitchen} currency={currencySign(kitchen)} on={on} />
      {explanation.costOf.length > 0 && kind !== "spec" && <p>{explanation.costOf.map((one, index) => <span key={one.quantity.unit}>{index > 0 && " · "}{quantityText(one.quantity, kitchen)} costs <strong>{printMoney(one.amount, kitchen, { places: one.amount.abs().lt("0.1") ? 4 : undefined })}</strong></span>)}</p>}
      <About explanation={explanation} cascade={cascade} kitchen={kitchen} />
      <RecordedBy provenance={explanation.provenance} kitchen={kitchen} />
      <form className="form" method="get" id="another-day">
        <div className="fields"><DateField name="on" label="As it stood on another day" start={on ?? live.today} /></div>
        <Button type="submit" plain>Show that day</Button>
      </form>
    </>
  );
}

function Sentence({ explanation, kitchen, past }: { readonly explanation: Explanation; readonly kitchen: Kitchen; readonly past: boolean }) {
  const { about, cost } = explanation;
  if (cost.missing.length > 0) return <>This is a lower bound: <MissingWords missing={cost.missing} />.</>;
  switch (about.kind) {
    case "item": return about.transfer !== null ? <>{behindWords(about.transfer, kitchen)}.</> : about.quote === null ? <>Nobody has recorded a price for it yet.</> : <>{behindWords(about.quote, kitchen)}.</>;
    case "cut": {
      const billed = explanation.steps.find((step) => step.kind === "billed");
      const credits = explanation.steps.filter((step) => step.kind === "by-product").length;
      if (!billed?.amount || !billed.quantity || explanation.divisor === null) return null;
      return <>{quantityText(billed.quantity, kitchen)} bought for {printMoney(billed.amount, kitchen)} at {past ? "that day’s" : "today’s"} price{credits > 0 && <>, less what the by-products are worth,</>} leaves {quantityText(explanation.divisor, kitchen)} usable{about.borrowed !== null && <>, by a borrowed yield of {printShare(toDecimal(about.borrowed.share), kitchen)} %</>}.</>;
    }
    case "spec": return about.costing === "whole" ? <>Portions counted whole from each piece, the end left over taken into account.</> : <>{quantityText(about.size, kitchen)} of {about.cutName}.</>;
    case "recipe": return <>A batch yields {about.yields.map((one) => quantityText(one, kitchen)).join(", or ")}.</>;
    case "dish": return <>Everything on one guest’s plate, largest first.</>;
  }
}

function About({ explanation, cascade, kitchen }: { readonly explanation: Explanation; readonly cascade: Cascade; readonly kitchen: Kitchen }) {
  const { about } = explanation;
  if (about.kind === "cut") {
    const { repricing, factor } = about;
    const two = repricing?.byFactor && repricing.byProductsAtOwnPrice && repricing.gap && !repricing.gap.amount.isZero() ? repricing : null;
    return (
      <>
        {factor !== null && <p className="say">Cost factor <strong>{printFactor(factor.factor, kitchen)}</strong>: a usable {factor.price.per} costs so many times the {printMoney(factor.price.amount, kitchen)} of {factor.name}.</p>}
        {two?.byFactor && two.byProductsAtOwnPrice && (
          <>
            <p>By the factor it is {printMoney(two.byFactor.amount, kitchen)} {oneOf(two.byFactor.per)}; with by-products at their own prices {printMoney(two.byProductsAtOwnPrice.amount, kitchen)}. In force: {two.inForce === "by-factor" ? "the factor" : "their own prices"}.</p>
            <details><summary>Why two?</summary><p>The textbooks multiply the new price by the factor, which lets the worth of every by-product move with the dealer’s price. With by-products at their own prices only the paid weight gets dearer or cheaper.</p></details>
          </>
        )}
        {about.joint !== null && <p>The cost is shared among the usable parts {{ "sales-value": "by what each would cost bought ready trimmed", "net-realizable": "by what each would cost ready trimmed, less further work", weight: "by weight" }[about.joint.method]}: {about.joint.shares.map((part) => `${part.name} ${printShare(part.share, kitchen)} %`).join(", ")}.</p>}
        <h2>{about.borrowed === null ? "Read from the scale" : "Borrowed, not read from this kitchen’s scale"}</h2>
        {about.borrowed !== null && <p>{printShare(toDecimal(about.borrowed.share), kitchen)} % usable of what is bought: {about.borrowed.what}. {about.borrowed.source}. Taken up on {printDay(about.borrowed.on, kitchen)}. A yield differs with the dealer, the season and the hand that cuts: a test of your own should replace it. <Link href={`/tests/new?${about.cut.of.kind}=${encodeURIComponent(about.cut.of.id)}`}>Record a test</Link></p>}
        {about.tests.map((told) => (
          <section key={told.test.id}>
            <h3><Link href={`/tests/${encodeURIComponent(told.test.id)}`}>Test of {printDay(told.test.on, kitchen)}</Link><span className="quiet">{told.dealerName !== null && <>, {told.dealerName}</>}{told.test.cutter !== "" && <>, cut by {told.test.cutter}</>}{told.provenance !== null && <>, recorded by {told.provenance.by}</>}</span></h3>
          <Table narrow quietCaption caption={`What the scale read on ${printDay(told.test.on, kitchen)}`}
            rows={[{ key: "billed", name: "Billed weight", quantity: told.test.billed }, ...told.test.parts.map((part) => ({ key: part.key, name: part.name, quantity: part.weight }))]} rowKey={(row) => row.key}
            columns={[
              { key: "name", head: "On the scale", cell: (row) => row.name },
              { key: "weight", head: "Weight", figure: true, width: 7, cell: (row) => <Figure of={printQuantity(row.quantity, kitchen)} /> },
              { key: "typed", head: "Typed as", figure: true, width: 6, cell: (row) => <span className="quiet">{row.quantity.typed ?? `${row.quantity.amount} ${UNITS[row.quantity.unit].one}`}</span> },
            ]} />
          </section>
        ))}
      </>
    );
  }
  if (about.kind === "spec") {
    return about.factor === null ? null : <p className="say">Factor per portion <strong>{printFactor(about.factor.perPortion, kitchen)}</strong>: {about.factor.unit} of {about.factor.name} paid for with each portion.{about.costing === "whole" && about.byWeight !== null && <> By weight alone it would be {printMoney(about.byWeight, kitchen)}.</>}</p>;
  }
  if (about.kind === "dish") {
    const opened = explainDish(cascade, explanation.ref.id);
    const figures = opened?.figures;
    if (!figures || figures.gross === null || figures.net === null || figures.foodCost === null) return <p>It has no menu price yet, so no percentage.</p>;
    return (
      <dl className="facts">
        <dt>Menu price</dt><dd>{printMoney(figures.gross, kitchen)}</dd>
        {opened.tax !== null && !opened.tax.isZero() && <><dt>less tax</dt><dd>{printMoney(opened.tax, kitchen)}</dd></>}
        <dt>Net price</dt><dd>{printMoney(figures.net, kitchen)}</dd>
        <dt>Food cost</dt><dd><strong>{printShare(figures.foodCost, kitchen)} %</strong> of the net price, against {printShare(figures.target, kitchen)} %</dd>
        <dt>Contribution</dt><dd>{figures.contribution && printMoney(figures.contribution, kitchen)}</dd>
      </dl>
    );
  }
  return null;
}
