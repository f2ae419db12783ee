/** One by-product of the house: what it comes off, what it goes into, what it may cost there, and how it is passed on. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import type { FactOf } from "@/lib/book";
import { type HouseByProduct, byProducts } from "@/lib/buying";
import { customaryUnit, printDay, printShare, quantityText, ratio } from "@/lib/measure";
import { basedOn } from "@/lib/store";
import { TransferForm } from "@/components/byproduct/ByProductForms";
import { Figure, figureHref } from "@/components/figure/Figure";
import { MissingWords } from "@/components/figure/Missing";
import { ButtonLink } from "@/components/form";
import { behindWords } from "@/components/explanation/ExplanationLedger";
import { IfMay } from "@/components/kitchen/IfMay";
import { PageTop } from "@/components/sheet/PageTop";
import { Told } from "@/components/sheet/Told";
import { Table } from "@/components/table/Table";
import { explain } from "@/lib/cascade";
import { printNodeCost } from "../../change-flow/ripple-view";
import { type Asked } from "../../find";
import { openKitchen } from "../../open-kitchen";
import { pathId } from "../../path-id";
import { quantityInput } from "../../tests/sheet-props";
import { passOn } from "../actions";
import { transferValues } from "../read-transfer";
import { BALANCE_WORDS, asRecorded, moneyOf, perUnitText, weekAmount, weekText } from "../view";

type Params = { readonly params: Promise<{ readonly product: string }>; readonly searchParams: Promise<Asked> };
type Kitchen = FactOf["kitchen"];

export async function generateMetadata({ params }: Params): Promise<Metadata> {
  const { live } = await openKitchen("see money");
  return { title: live.book.shelves.item.get(pathId((await params).product))?.name ?? "By-product" };
}

export default async function ByProductPage({ params, searchParams }: Params) {
  const id = pathId((await params).product);
  const { live, kitchen } = await openKitchen("see money");
  const { book, cascade } = live;
  const found = byProducts(cascade);
  const one = found.house.find(({ item }) => item.id === id);
  const opened = one && explain(cascade, { kind: "item", id });
  if (one === undefined || !opened || opened.about.kind !== "item") notFound();
  const { item, transfer, cost, produced, used, reckoned, recorded } = one;
  const week = `a usual week of ${found.weeks === 1 ? "one" : `the last ${found.weeks}`}`;
  const fromWeek = (await searchParams)["use"] === "week" && produced !== null && used !== null;
  const values = {
    ...transferValues(transfer, book),
    ...(fromWeek ? { "transfer.use.produced": quantityInput(asRecorded(produced, item.kind, kitchen)), "transfer.use.used": quantityInput(asRecorded(used, item.kind, kitchen)), "transfer.use.over": `${week}, to ${printDay(found.to ?? live.today, kitchen)}` } : {}),
  };
  const at = encodeURIComponent(id);
  return (
    <>
      <PageTop title={item.name} trail={[{ name: "By-products", href: "/by-products" }]} of={opened.about.transfer !== null && behindWords(opened.about.transfer, kitchen)}
        answer={cost.missing.length > 0 ? <>Its price is not known: <MissingWords missing={cost.missing} />.</> : <>It is passed on at <Figure of={printNodeCost(cost, kitchen)} href={figureHref({ kind: "item", id })} strong label={`What ${item.name} is passed on at`} />{transfer.use === null ? ". Nobody has counted how much of it is used, so all of it is credited." : <>, and {printShare(ratio.toDecimal(recorded), kitchen)} % of it is credited: {quantityText(transfer.use.produced, kitchen)} come off{transfer.use.over !== "" && <> ({transfer.use.over})</>}, {quantityText(transfer.use.used, kitchen)} are used.</>}</>}>
        <IfMay deed="change items and prices"><ButtonLink href={`/items/${at}`} plain>Its page among the items</ButtonLink></IfMay>
      </PageTop>

      <Warnings one={one} kitchen={kitchen} />

      <h2>Where it comes from</h2>
      {one.from.length === 0 ? <p className="quiet">No test that a cut stands on has a part worth this. Open <Link href="/by-products">the by-products</Link> and link one.</p> : (
        <Table narrow caption={found.weeks === 0 ? "The cuts that are credited with it" : `The cuts that are credited with it, ${week}`} rows={one.from} rowKey={(part) => `${part.testId} ${part.key}`} columns={[
          { key: "cut", head: "Cut", cell: (part) => <>{part.cuts.map((cut, index) => <span key={cut.id}>{index > 0 && ", "}<Link href={`/cuts/${encodeURIComponent(cut.id)}`}>{cut.name}</Link></span>)}<span className="from">its {part.name.toLowerCase()}, <Link href={`/tests/${encodeURIComponent(part.testId)}`}>as weighed {printDay(book.shelves.test.get(part.testId)?.on ?? live.today, kitchen)}</Link></span></> },
          { key: "week", head: "Comes off", label: "comes off", figure: true, fold: "phone", cell: (part) => part.perWeek === null ? "" : <Figure of={weekAmount(part.perWeek, part.kind, kitchen)} /> },
          { key: "worth", head: "Credited at", label: "at", figure: true, fold: "phone", cell: (part) => part.worth === null ? <span className="quiet">not known</span> : perUnitText(part.worth, part.kind, kitchen) },
          { key: "credited", head: "Credited", figure: true, width: 6, cell: (part) => part.credited === null ? "" : moneyOf(part.credited, kitchen) },
        ]} />
      )}

      <h2>Where it goes</h2>
      {transfer.destination !== "" && <p>{transfer.destination}</p>}
      {one.to.length === 0 ? <p className="quiet">{transfer.destination === "" ? "No recipe or dish takes it yet, so what is credited is charged nowhere. Put it in a recipe in the place of what would be bought." : "No recipe or dish of this book takes it: whoever takes it there is charged."}</p> : (
        <Table narrow caption={found.weeks === 0 ? "What takes it" : `What takes it, ${week}`} rows={one.to} rowKey={({ by }) => `${by.ref.kind} ${by.ref.id}`} columns={[
          { key: "by", head: "Into", cell: ({ by }) => <Link href={`/${by.ref.kind === "dish" ? "dishes" : by.ref.kind === "recipe" ? "recipes" : by.ref.kind === "cut" ? "cuts" : by.ref.kind === "spec" ? "specs" : "items"}/${encodeURIComponent(by.ref.id)}`}>{by.name}</Link> },
          { key: "week", head: "Takes", figure: true, width: 7, cell: ({ perWeek }) => perWeek === null ? "" : <Figure of={weekAmount(perWeek, item.kind, kitchen)} /> },
        ]} />
      )}

      {produced !== null && used !== null && (
        <>
          <h2>Counted and reckoned</h2>
          <dl className="facts">
            <dt>Comes off, {week}</dt><dd>{weekText(produced, item.kind, kitchen)}{one.atLeast && <span className="quiet"> or more</span>}</dd>
            <dt>Is used</dt><dd>{weekText(used, item.kind, kitchen)}{reckoned !== null && <span className="quiet"> {printShare(ratio.toDecimal(reckoned), kitchen)} %</span>}</dd>
            <dt>As recorded</dt><dd>{transfer.use === null ? <span className="quiet">nobody has counted</span> : <>{quantityText(transfer.use.used, kitchen)} of {quantityText(transfer.use.produced, kitchen)} <span className="quiet">{printShare(ratio.toDecimal(recorded), kitchen)} %</span></>}</dd>
            {one.balance !== null && <><dt>Credited and charged</dt><dd>{moneyOf(one.balance.credited, kitchen)} and {moneyOf(one.balance.charged, kitchen)} a week <span className="quiet">{BALANCE_WORDS[one.balance.says]}</span></dd></>}
          </dl>
          {!fromWeek && one.balance !== null && one.balance.says !== "same" && one.balance.says !== "outside" && <p><IfMay deed="change items and prices"><Link href={`/by-products/${at}?use=week#pass-on`}>Put the week’s figures into the form below</Link></IfMay></p>}
        </>
      )}

      <h2 id="pass-on">How it is passed on</h2>
      {fromWeek && <Told><p>The figures of {week} stand in the form. Try it, and see what moves.</p></Told>}
      <TransferForm key={fromWeek ? "week" : "own"} action={passOn} basedOn={basedOn(live, [{ kind: "item", id }])} hidden={{ id }} deed="change items and prices" values={values} kind={item.kind} unit={customaryUnit(item.kind, kitchen)}
        items={[...book.shelves.item.values()].filter((other) => other.id !== id).map(({ name }) => name)} />
    </>
  );
}

function Warnings({ one, kitchen }: { readonly one: HouseByProduct; readonly kitchen: Kitchen }) {
  const dear = one.bears.filter(({ exceeded }) => exceeded);
  if (dear.length === 0) return null;
  return (
    <Told adverse>
      <p><strong>It costs more than it is worth in use.</strong> A credit may not be more than what the use can bear: what the dish’s target leaves for it, less everything else on the plate.</p>
      <ul>{dear.map(({ dishId, name, most }) => <li key={dishId}><Link href={`/dishes/${encodeURIComponent(dishId)}`}>{name}</Link> {ratio.sign(most) > 0 ? <>can bear {perUnitText(most, one.item.kind, kitchen)}</> : "is over its target even with it for nothing"}</li>)}</ul>
    </Told>
  );
}
