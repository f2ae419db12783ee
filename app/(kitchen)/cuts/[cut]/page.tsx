/** One cut: what a usable pound of it costs and by which tests, its portions, what rests on it, and its edit form. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { type Cut, type YieldTest, borrowedInUse, factName, matchingTests } from "@/lib/book";
import { type RateOf, type TwoRepricings, costOf, explain, usersOf, valuedSheet, yieldOfCut } from "@/lib/cascade";
import { oneOf, printDay, printFactor, printMoney, printQuantity, printShare, ratio } from "@/lib/measure";
import { basedOn } from "@/lib/store";
import { figuresOf, totalLoss } from "@/lib/yield";
import { ChangeForm } from "@/components/change/ChangeForm";
import { CutForm } from "@/components/cut/CutForm";
import { BorrowedWord, RestsOnBorrowed } from "@/components/figure/Borrowed";
import { Figure, figureHref } from "@/components/figure/Figure";
import { Missing } from "@/components/figure/Missing";
import { UsedBy } from "@/components/figure/UsedBy";
import { ButtonLink } from "@/components/form";
import { IfMay } from "@/components/kitchen/IfMay";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { KINDS } from "@/components/yield-test/kinds";
import { printNodeCost } from "../../change-flow/ripple-view";
import { type Asked, askedFor } from "../../find";
import { openKitchen } from "../../open-kitchen";
import { pathId } from "../../path-id";
import { saveCut, withdrawCut } from "../actions";
import { poolChoices } from "../pool-choices";
import { Adoption } from "./adoption";
import { Borrowed } from "./borrowed";

export const metadata: Metadata = { title: "Cut" };

export default async function CutPage({ params, searchParams }: { readonly params: Promise<{ readonly cut: string }>; readonly searchParams: Promise<Asked> }) {
  const id = pathId((await params).cut);
  const asked = askedFor((await searchParams)["find"]);
  const open = await openKitchen("see money");
  const { live, kitchen } = open;
  const { book, cascade } = live;
  const cut = book.shelves.cut.get(id);
  const cost = cut && costOf(cascade, { kind: "cut", id });
  if (!cut || !cost) notFound();
  const tests = cut.testIds.flatMap((testId) => book.shelves.test.get(testId) ?? []);
  const specs = [...book.shelves.spec.values()].filter((spec) => spec.cutId === id);
  const opened = explain(cascade, { kind: "cut", id });
  const about = opened?.about.kind === "cut" ? opened.about : null;
  const share = yieldOfCut(cascade, id);
  const originName = factName(book, cut.of.kind, cut.of.id);
  const at = encodeURIComponent(id);
  const printed = printNodeCost(cost, kitchen);
  const facts = [{ kind: "cut", id }] as const;
  const borrowed = borrowedInUse(cut);
  const below = cost.borrowed.filter((one) => one.id !== id);
  return (
    <>
      <PageTop title={cut.name} trail={[{ name: "Cuts", href: "/cuts" }]}
        of={<>made from <Link href={`/${cut.of.kind === "item" ? "items" : "cuts"}/${encodeURIComponent(cut.of.id)}`}>{originName}</Link> · as of {printDay(live.today, kitchen)}</>}
        answer={cost.missing.length > 0
          ? <><Missing atLeast={`${printed.figure} ${printed.unit}`} missing={cost.missing} />{below.length > 0 && <>.<RestsOnBorrowed borrowed={below} /></>}</>
          : <>Usable, it costs <Figure of={printed} href={figureHref({ kind: "cut", id })} label={`What ${cut.name} costs`} strong />
            {share !== null && <>, at a {borrowed === null ? "yield" : "borrowed yield"} of {printShare(ratio.toDecimal(share), kitchen)} %</>}{about?.factor && <>: {printFactor(about.factor.factor, kitchen)} times the price of {about.factor.name}</>}.<RestsOnBorrowed borrowed={below} /></>}>
        <IfMay deed="change specs"><ButtonLink href={`/cuts/${at}/specs/new`} plain>Add a portion</ButtonLink></IfMay>
        <ButtonLink href={`/tests/new?${cut.of.kind}=${encodeURIComponent(cut.of.id)}${tests[0] === undefined ? "" : `&kind=${tests[0].kind}`}`}>Record a new test</ButtonLink>
      </PageTop>

      <h2>Stands on</h2>
      {tests.length === 0
        ? borrowed === null && <p>No yield test stands behind this cut yet, so nobody knows what of {originName} is usable. <IfMay deed="record a test"><Link href={`/tests/new?${cut.of.kind}=${encodeURIComponent(cut.of.id)}`}>Record a test</Link></IfMay> and adopt it.</p>
        : <TestTable tests={tests} cut={cut} cascade={cascade} kitchen={kitchen} />}
      {tests.length > 0 && <p><Link href={`/cuts/${at}/tests`}>Tests behind {cut.name}</Link>: how they lie, how sure the yield is, which are left out.</p>}
      <Borrowed open={open} cut={cut} asked={asked} />
      <Adoption open={open} cut={cut} />
      {about?.repricing && <Repricing told={about.repricing} kitchen={kitchen} />}
      {cut.specification !== "" && <p>{cut.specification}</p>}

      <h2>Portions</h2>
      {specs.length === 0 ? <p className="quiet">No portion of it is specified yet. <IfMay deed="change specs"><Link href={`/cuts/${at}/specs/new`}>Add a portion</Link></IfMay></p> : (
        <Table caption={`${specs.length} portion ${specs.length === 1 ? "spec" : "specs"} of ${cut.name}`} narrow rows={specs} rowKey={(spec) => spec.id} columns={[
          { key: "name", head: "Portion", cell: (spec) => <><Link href={`/specs/${encodeURIComponent(spec.id)}`}>{spec.name}</Link><BorrowedWord borrowed={costOf(cascade, { kind: "spec", id: spec.id })?.borrowed ?? []} /></> },
          { key: "size", head: "Size", figure: true, width: 5, cell: (spec) => <Figure of={printQuantity(spec.size, kitchen)} /> },
          { key: "cost", head: "Costs", figure: true, width: 8, cell: (spec) => {
            const one = costOf(cascade, { kind: "spec", id: spec.id });
            return one === null ? "" : <>{one.missing.length > 0 && <span className="quiet">at least </span>}<Figure of={printNodeCost(one, kitchen)} href={figureHref({ kind: "spec", id: spec.id })} label={spec.name} /></>;
          } },
          { key: "prices", head: <span className="visually-hidden">By price</span>, width: 5, cell: (spec) => <Link href={`/specs/${encodeURIComponent(spec.id)}/prices`}>by price<span className="visually-hidden"> and size: {spec.name}</span></Link> },
        ]} />
      )}

      <h2>Where it goes</h2>
      <UsedBy users={usersOf(book, { kind: "cut", id })} nothing="Nothing is made of it yet: use it, or a portion of it, in a recipe or a dish." />

      <h2>Change this cut</h2>
      <CutForm action={saveCut} basedOn={basedOn(live, facts)} recordLabel="Record the change" hidden={{ id }} origins={null}
        values={{ name: cut.name, specification: cut.specification, repricing: cut.repricing ?? "", joint: cut.joint, partKey: cut.partKey }}
        tests={poolChoices(book, cut.partKey, matchingTests(book, cut).filter(({ standing }) => standing.kind === "behind")).map((choice) => ({ ...choice, note: "" }))}
        parts={mainsOf(tests)} severalMains={mainsOf(tests).length > 1} />
      <IfMay deed="change tests and cuts">
        <details className="stands">
          <summary>Take this cut off the book</summary>
          <p>It stays in the record. It cannot be taken off while something is made of it.</p>
          <ChangeForm action={withdrawCut} basedOn={basedOn(live, facts)} hidden={{ id }} recordLabel="Take it off" id="withdraw"><></></ChangeForm>
        </details>
      </IfMay>
    </>
  );
}

type Open = Awaited<ReturnType<typeof openKitchen>>;

function mainsOf(tests: readonly YieldTest[]): readonly { readonly value: string; readonly label: string }[] {
  const first = tests[0];
  return (first?.parts ?? []).filter((part) => part.role === "main").map((part) => ({ value: part.key, label: part.name }));
}

/** Which of the two ways to a new cost is in force, and what both say where they differ. */
function Repricing({ told, kitchen }: { readonly told: TwoRepricings; readonly kitchen: Open["kitchen"] }) {
  const { inForce, chosen, byFactor, byProductsAtOwnPrice } = told;
  const money = (rate: RateOf): string => `${printMoney(rate.amount, kitchen)} ${oneOf(rate.per)}`;
  const both = byFactor && byProductsAtOwnPrice && printMoney(byFactor.amount, kitchen) !== printMoney(byProductsAtOwnPrice.amount, kitchen);
  return (
    <p>
      A new dealer’s price reaches it {inForce === "by-factor" ? "by the factor" : "with by-products at their own price"}, {chosen ? "as chosen here" : "as its by-products suggest"}.
      {both && <> By the factor it would cost {money(byFactor)} today, with by-products at their own price {money(byProductsAtOwnPrice)}.</>}
    </p>
  );
}

function TestTable({ tests, cut, cascade, kitchen }: { readonly tests: readonly YieldTest[]; readonly cut: Cut; readonly cascade: Open["live"]["cascade"]; readonly kitchen: Open["kitchen"] }) {
  const rows = tests.flatMap((test) => {
    const figures = figuresOf(valuedSheet(cascade, test));
    return figures.ok ? [{ test, part: figures.value.parts.find((part) => part.key === cut.partKey && part.role === "main"), loss: totalLoss(figures.value) }] : [];
  });
  const columns: readonly Column<(typeof rows)[number]>[] = [
    { key: "on", head: "Test", cell: ({ test }) => <Link href={`/tests/${encodeURIComponent(test.id)}`}>{KINDS[test.kind].name}, {printDay(test.on, kitchen)}</Link> },
    { key: "billed", head: "Worked", figure: true, fold: "phone", label: "", cell: ({ test }) => <Figure of={printQuantity(test.billed, kitchen)} /> },
    { key: "share", head: "Of the whole", figure: true, width: 5.5, cell: ({ part }) => part === undefined ? "" : <Figure of={{ figure: printShare(ratio.toDecimal(part.ratio), kitchen), unit: "%" }} /> },
    { key: "loss", head: "Loss", figure: true, fold: "phone", cell: ({ loss }) => <Figure of={{ figure: printShare(ratio.toDecimal(loss), kitchen), unit: "%" }} /> },
    { key: "cutter", head: "Cut by", fold: "phone", label: "", cell: ({ test }) => test.cutter },
  ];
  return <Table caption={`${tests.length} ${tests.length === 1 ? "test" : "tests, pooled by weight"}`} columns={columns} rows={rows} rowKey={({ test }) => test.id} narrow />;
}
