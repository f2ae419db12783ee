/** One yield test: its result in a line for the cook, the whole form for the chef, and the cut it stands behind. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { factKey, factName } from "@/lib/book";
import { costOf } from "@/lib/cascade";
import { printDay, printShare, quantityText, ratio } from "@/lib/measure";
import { type Revision, basedOn, newId } from "@/lib/store";
import { ChangeForm } from "@/components/change/ChangeForm";
import { RestsOnBorrowed } from "@/components/figure/Borrowed";
import { Figure, figureHref } from "@/components/figure/Figure";
import { ButtonLink } from "@/components/form";
import { IfMay } from "@/components/kitchen/IfMay";
import { PageTop } from "@/components/sheet/PageTop";
import { AdoptForm } from "@/components/yield-test/AdoptFields";
import { CookingLedger } from "@/components/yield-test/CookingLedger";
import { ComesTo, ResultLedger, ResultNotes } from "@/components/yield-test/ResultLedger";
import { KINDS } from "@/components/yield-test/kinds";
import type { ResultView } from "@/components/yield-test/result-view";
import { currencySign, printNodeCost } from "../../change-flow/ripple-view";
import { dayOf } from "../../moment";
import { type OpenKitchen, openKitchen } from "../../open-kitchen";
import { pathId } from "../../path-id";
import { PhotosOf } from "../../../photos/photos-of";
import { adoptTest, withdrawTest } from "../actions";
import { resultView } from "../result-view";
import { cutChoices, factsAdopted } from "../sheet-props";
import { JointShares, OtherTests, Portions, Repriced } from "./parts";
import { type TestResult, resultOf } from "./result";

export const metadata: Metadata = { title: "Test" };

export default async function Test({ params, searchParams }: { readonly params: Promise<{ readonly test: string }>; readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>> }) {
  const id = pathId((await params).test);
  const open = await openKitchen("read the book");
  const { live, kitchen, store, kitchenId, may } = open;
  const seesMoney = may("see money");
  const { book, cascade } = live;
  const test = book.shelves.test.get(id);
  if (test === undefined) notFound();
  const result = resultOf(cascade, test);
  const view = resultView(cascade, test, kitchen, seesMoney);
  const standsBehind = result.cuts.length > 0;
  const name = factName(book, test.of.kind, test.of.id);
  const figures = result.figures.ok ? result.figures.value : null;
  const currency = currencySign(kitchen);
  const dealer = test.dealerId === null ? undefined : book.shelves.dealer.get(test.dealerId)?.name;
  const carried = test.of.kind === "cut" ? costOf(cascade, test.of) : null;
  const revisions = await store.revisionsOf(kitchenId, "test", id);
  const at = encodeURIComponent(id);
  const mains = test.parts.filter((part) => part.role === "main").map((part) => ({ value: part.key, label: part.name }));
  return (
    <>
      <PageTop title={`${name}, ${printDay(test.on, kitchen)}`} trail={[{ name: "Tests", href: "/tests" }]}
        of={<>{KINDS[test.kind].name}{dealer !== undefined && <> · {dealer}</>}{test.cutter !== "" && <> · cut by {test.cutter}</>} · {test.pieces} {test.pieces === "1" ? "piece" : "pieces"}{test.scaleStep && <> · scale to {quantityText(test.scaleStep, kitchen)}</>}</>}
        answer={view === null ? "These weights give no result." : <InOneLine view={view} result={result} kitchen={kitchen} />}>
        {may(standsBehind ? "change tests and cuts" : "record a test") && <ButtonLink href={`/tests/${at}/edit`} plain>Correct</ButtonLink>}
        {may("change tests and cuts") && result.cuts[0] !== undefined && test.kind !== "cooking" && <ButtonLink href={`/tests/new?kind=cooking&cut=${encodeURIComponent(result.cuts[0].id)}&follows=${at}`} plain>Add its cooking-loss test</ButtonLink>}
      </PageTop>

      {!result.figures.ok && <ul>{result.figures.problems.map((problem) => <li key={problem.code} className="wrong">{problem.sentence}</li>)}</ul>}
      {figures !== null && view !== null && (
        <>
          <ResultNotes view={view} />
          <h2>The form</h2>
          {seesMoney && carried !== null && (
            <p>Carries in the net cost of <Link href={`/cuts/${encodeURIComponent(test.of.id)}`}>{name}</Link>, after its by-products: {carried.missing.length > 0 && "at least "}<Figure of={printNodeCost(carried, kitchen)} href={figureHref(test.of)} label={`What ${name} costs`} />.<RestsOnBorrowed borrowed={carried.borrowed} /></p>
          )}
          <ResultLedger view={view} />
          {result.cooking !== null && (
            <>
              <h2>At the heat</h2>
              {test.cooking !== null && <p className="quiet">{[test.cooking.method, test.cooking.temperature, test.cooking.endPoint, test.cooking.time].filter((word) => word !== "").join(" · ")}</p>}
              <CookingLedger figures={result.cooking} kitchen={kitchen} unit={figures.unit} step={test.scaleStep} />
              <p>Yield of the cooking <Figure of={{ figure: printShare(ratio.toDecimal(result.cooking.processYield), kitchen), unit: "%" }} />, cooked over trimmed; overall <Figure of={{ figure: printShare(ratio.toDecimal(result.cooking.overallYield), kitchen), unit: "%" }} />, saleable over what was first bought.</p>
            </>
          )}
          <ComesTo view={view} />
          {seesMoney && <JointShares result={result} kitchen={kitchen} currency={currency} unit={figures.unit} />}
          {seesMoney && <Portions result={result} kitchen={kitchen} currency={currency} unit={figures.unit} />}
          {seesMoney && <Repriced result={result} kitchen={kitchen} unit={figures.unit} />}
          <OtherTests test={test} figures={figures} result={result} kitchen={kitchen} />
        </>
      )}

      {result.cuts.map((cut) => <p key={cut.id}>All of them side by side: <Link href={`/cuts/${encodeURIComponent(cut.id)}/tests`}>Tests behind {cut.name}</Link>.</p>)}
      {seesMoney && <StandsOnIt />}

      {test.note !== "" && <><h2>Note</h2><p>{test.note}</p></>}
      <PhotosOf open={open} testId={id} from="test" refused={(await searchParams)["photo"]} />
      <p className="quiet">For the folder at the block it can be <Link href={`/tests/${at}/paper`}>printed on one page</Link>.</p>
      <IfMay deed="change tests and cuts">
        <details className="stands">
          <summary>Take this test off the book</summary>
          <p>It stays in the record. It cannot be taken off while a cut stands on it.</p>
          <ChangeForm action={withdrawTest} basedOn={basedOn(live, [{ kind: "test", id }])} hidden={{ id }} recordLabel="Take it off" id="withdraw"><></></ChangeForm>
        </details>
      </IfMay>
      <Recorded revision={book.provenance.get(factKey("test", id))?.revision} revisions={revisions} kitchen={kitchen} seesMoney={seesMoney} />
    </>
  );

  function StandsOnIt() {
    return (
      <>
        <h2>What stands on it</h2>
        {result.cuts.length === 0
          ? <p>Nothing is costed by this test yet. Adopted for a cut, it decides what the cut costs from the day you choose{test?.kind !== "cooking" && ", and a cooking-loss test can follow it"}.</p>
          : <ul>{result.cuts.map((cut) => <li key={cut.id}><Link href={`/cuts/${encodeURIComponent(cut.id)}`}>{cut.name}</Link>{cut.testIds.length > 1 && <span className="quiet">, pooled with {cut.testIds.length - 1} other {cut.testIds.length === 2 ? "test" : "tests"}</span>}</li>)}</ul>}
        {result.cuts.length === 0
          ? <Adopt />
          : <details className="stands"><summary>Adopt it for {test?.of.kind === "item" ? "another cut" : "another"}, or alone where it is pooled</summary><Adopt /></details>}
      </>
    );
  }

  function Adopt() {
    return test && <AdoptForm action={adoptTest} hidden={{ testId: id, cutId: newId("cut") }} basedOn={basedOn(live, factsAdopted(book, id, test.of))} cuts={cutChoices(book, test.of)} parts={mains} id="adopt" />;
  }
}

type Kitchen = OpenKitchen["kitchen"];

function InOneLine({ view, result, kitchen }: { readonly view: ResultView; readonly result: TestResult; readonly kitchen: Kitchen }) {
  const share = (one: TestResult["others"][number]): string => `${printShare(ratio.toDecimal(one.figures.yield), kitchen)} %`;
  const first = result.portions.find((one) => one.whole !== null);
  const { others } = result;
  return (
    <>
      <strong>{view.usable}</strong>{view.rest}
      {first?.whole && <> It gives {first.whole.portions.toString()} portions of {quantityText(first.spec.size, kitchen)}.</>}
      {others.length > 0 && <> The {others.length === 1 ? "other test" : `other ${others.length} tests`} gave {others.map(share).join(", ")}.</>}
    </>
  );
}

/** Who recorded it, and what it corrects. */
function Recorded({ revision, revisions, kitchen, seesMoney }: { readonly seesMoney: boolean; readonly revision: number | undefined; readonly revisions: readonly Revision[]; readonly kitchen: Kitchen }) {
  const now = revisions.find((one) => one.revision === revision);
  if (now === undefined) return null;
  const corrected = revisions.find((one) => one.revision === now.replaces);
  const day = (one: Revision): string => printDay(dayOf(one.recordedAt, kitchen), kitchen);
  const when = (one: Revision) => (seesMoney ? <Link href={`/record/${one.changeNo}`}>{day(one)}</Link> : day(one));
  return (
    <p className="quiet">
      Recorded by {now.by} on {when(now)}, as of {printDay(now.validFrom, kitchen)}{now.why !== "" && <>: {now.why}</>}.
      {corrected !== undefined && <> It takes the place of what {corrected.by} recorded on {when(corrected)}.</>}
    </p>
  );
}
