/** One yield test: its result in a line for the cook, the whole form for the chef, and the cut it stands behind. */
import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { type YieldTest, factKey, factName } from "@/lib/book";
import { type Ratio, type Unit, UNITS, exact, moneyFigure, oneOf, printDay, printFactor, printMoney, printQuantity, printShare, quantityText, ratio } from "@/lib/measure";
import { basedOn, newId } from "@/lib/store";
import { type YieldFigures, costOfQuantity, costPer, totalLoss, weightIn } from "@/lib/yield";
import { ChangeForm } from "@/components/change/ChangeForm";
import { Figure } from "@/components/figure/Figure";
import { ButtonLink } from "@/components/form";
import { PageTop } from "@/components/sheet/PageTop";
import { type Column, Table } from "@/components/table/Table";
import { CookingLedger } from "@/components/yield-test/CookingLedger";
import { ResultLedger } from "@/components/yield-test/ResultLedger";
import { AdoptForm } from "@/components/yield-test/TestSheet";
import { KINDS } from "@/components/yield-test/kinds";
import { currencySign } from "../../change-flow/ripple-view";
import { openKitchen } from "../../open-kitchen";
import { adoptTest, withdrawTest } from "../actions";
import { cutChoices } from "../sheet-props";
import { type TestResult, resultOf } from "./result";

export const metadata: Metadata = { title: "Test" };

export default async function Test({ params }: { readonly params: Promise<{ readonly test: string }> }) {
  const id = decodeURIComponent((await params).test);
  const { live, kitchen } = await openKitchen();
  const { book, cascade } = live;
  const test = book.shelves.test.get(id);
  if (test === undefined) notFound();
  const result = resultOf(cascade, test);
  const name = factName(book, test.of.kind, test.of.id);
  const words = KINDS[test.kind];
  const figures = result.figures.ok ? result.figures.value : null;
  const currency = currencySign(kitchen);
  const dealer = test.dealerId === null ? undefined : book.shelves.dealer.get(test.dealerId)?.name;
  const provenance = book.provenance.get(factKey("test", id));
  const at = encodeURIComponent(id);
  const mains = test.parts.filter((part) => part.role === "main").map((part) => ({ value: part.key, label: part.name }));
  const newCut = newId("cut");
  return (
    <>
      <PageTop title={`${name}, ${printDay(test.on, kitchen)}`} trail={[{ name: "Tests", href: "/tests" }]}
        of={<>{words.name}{dealer !== undefined && <> · {dealer}</>}{test.cutter !== "" && <> · cut by {test.cutter}</>} · {test.pieces} {test.pieces === "1" ? "piece" : "pieces"}{test.scaleStep && <> · scale to {quantityText(test.scaleStep, kitchen)}</>}</>}
        answer={figures === null ? "These weights give no result." : <InOneLine figures={figures} result={result} kitchen={kitchen} />}>
        <ButtonLink href={`/tests/${at}/edit`} plain>Correct</ButtonLink>
        {result.cuts[0] !== undefined && test.kind !== "cooking" && <ButtonLink href={`/tests/new?kind=cooking&cut=${encodeURIComponent(result.cuts[0].id)}&follows=${at}`} plain>Add its cooking-loss test</ButtonLink>}
      </PageTop>

      {!result.figures.ok && <ul>{result.figures.problems.map((problem) => <li key={problem.code} className="wrong">{problem.sentence}</li>)}</ul>}
      {figures !== null && (
        <>
          {figures.notes.length > 0 && <ul>{figures.notes.map((note) => <li key={`${note.code} ${note.path}`}>{note.sentence}</li>)}</ul>}
          {figures.missing.length > 0 && <ul>{figures.missing.map((note) => <li key={`${note.code} ${note.path}`} className="quiet">{note.sentence}</li>)}</ul>}
          <h2>The form</h2>
          <ResultLedger figures={figures} kitchen={kitchen} currency={currency} billedName={`${name}${test.of.kind === "item" ? " as purchased" : ", at its net cost"}`} usableName={words.main}
            caption={test.of.kind === "item" ? `Dealer’s price and typed worth of ${printDay(test.on, kitchen)}; linked by-products at what they cost today` : "At the net cost carried in today, after the earlier test’s by-products"} />
          {result.cooking !== null && (
            <>
              <h2>At the heat</h2>
              {test.cooking !== null && <p className="quiet">{[test.cooking.method, test.cooking.temperature, test.cooking.endPoint, test.cooking.time].filter((word) => word !== "").join(" · ")}</p>}
              <CookingLedger figures={result.cooking} kitchen={kitchen} unit={figures.unit} />
              <p>Yield of the cooking <Figure of={{ figure: printShare(ratio.toDecimal(result.cooking.processYield), kitchen), unit: "%" }} />, cooked over trimmed; overall <Figure of={{ figure: printShare(ratio.toDecimal(result.cooking.overallYield), kitchen), unit: "%" }} />, saleable over what was first bought.</p>
            </>
          )}
          <Costs figures={figures} result={result} kitchen={kitchen} currency={currency} />
          <Portions result={result} kitchen={kitchen} currency={currency} unit={figures.unit} />
          <Repriced result={result} kitchen={kitchen} unit={figures.unit} />
          <Others test={test} figures={figures} result={result} kitchen={kitchen} />
        </>
      )}

      <h2>{result.cuts.length === 0 ? "Adopt it for a cut" : "What stands on it"}</h2>
      {result.cuts.length === 0
        ? <p>Nothing is costed by this test yet. Adopted for a cut, it decides what the cut costs from the day you choose.</p>
        : <ul>{result.cuts.map((cut) => <li key={cut.id}><Link href={`/cuts/${encodeURIComponent(cut.id)}`}>{cut.name}</Link>{cut.testIds.length > 1 && <span className="quiet">, pooled with {cut.testIds.length - 1} other {cut.testIds.length === 2 ? "test" : "tests"}</span>}</li>)}</ul>}
      <AdoptForm action={adoptTest} hidden={{ testId: id, cutId: newCut }} basedOn={{}} cuts={cutChoices(book, test.of)} parts={mains} id="adopt" />

      {test.note !== "" && <><h2>Note</h2><p>{test.note}</p></>}
      <details>
        <summary>Take this test off the book</summary>
        <p>It stays in the record. It cannot be taken off while a cut stands on it.</p>
        <ChangeForm action={withdrawTest} basedOn={basedOn(live, [{ kind: "test", id }])} hidden={{ id }} recordLabel="Take it off" id="withdraw"><></></ChangeForm>
      </details>
      {provenance !== undefined && <p className="quiet">Recorded by {provenance.by} as revision {provenance.revision}, valid from {printDay(provenance.validFrom, kitchen)}.</p>}
    </>
  );
}

type Kitchen = Awaited<ReturnType<typeof openKitchen>>["kitchen"];

function InOneLine({ figures, result, kitchen }: { readonly figures: YieldFigures; readonly result: TestResult; readonly kitchen: Kitchen }) {
  const share = (of: Ratio): string => printShare(ratio.toDecimal(of), kitchen);
  const loss = totalLoss(figures);
  const first = result.portions.find((one) => one.whole !== null);
  return (
    <>
      <strong>{share(figures.yield)} % usable</strong>, {share(loss)} % lost
      {first?.whole && <>, {first.whole.portions.toString()} portions of {quantityText(first.spec.size, kitchen)}</>}
      {figures.money && <>; <strong>{printMoney(ratio.toDecimal(costPer(figures.money.costPerUnit, figures.unit)), kitchen)}</strong> {oneOf(figures.unit)} of usable weight</>}.
      {result.others.length > 0 && <> The {result.others.length === 1 ? "other test" : `other ${result.others.length} tests`} gave {result.others.map(({ figures: other }) => `${share(other.yield)} %`).join(", ")}.</>}
    </>
  );
}

/** Cost per usable pound and ounce, or kilo and 100 g, and the factor. */
function Costs({ figures, result, kitchen, currency }: { readonly figures: YieldFigures; readonly result: TestResult; readonly kitchen: Kitchen; readonly currency: string }) {
  const { money } = figures;
  if (money === null) return null;
  const metric = kitchen.measures === "metric";
  const small: { readonly name: string; readonly cost: Ratio } = metric
    ? { name: "100 g", cost: costOfQuantity(money.costPerUnit, { amount: exact("100"), unit: "g" }) }
    : { name: "ounce", cost: costPer(money.costPerUnit, "oz") };
  const large: Unit = metric ? "kg" : "lb";
  if (figures.measure !== "mass") return <p>Cost per usable {UNITS[figures.unit].one}: <strong>{printMoney(ratio.toDecimal(costPer(money.costPerUnit, figures.unit)), kitchen)}</strong></p>;
  const factor = result.cooking?.factorOnDealerPrice ?? money.factor;
  const rows = [
    { what: "Value of the usable meat", figure: moneyFigure(ratio.toDecimal(money.usableValue), kitchen), unit: currency },
    { what: `Cost per usable ${metric ? "kilo" : "pound"}`, figure: moneyFigure(ratio.toDecimal(costPer(money.costPerUnit, large)), kitchen), unit: `${currency} / ${large}` },
    { what: `Cost per usable ${small.name}`, figure: moneyFigure(ratio.toDecimal(small.cost), kitchen, { places: 4 }), unit: `${currency} / ${metric ? "100 g" : "oz"}` },
    { what: "Cost factor per unit, on the dealer’s price", figure: factor === null ? "undefined" : printFactor(ratio.toDecimal(factor), kitchen), unit: "" },
  ];
  const columns: readonly Column<(typeof rows)[number]>[] = [
    { key: "what", head: "What it comes to", cell: (row) => row.what },
    { key: "figure", head: "", figure: true, width: 8, cell: (row) => <Figure of={row} strong /> },
  ];
  return <Table caption="The same per pound and per kilo: the factor is a pure number" columns={columns} rows={rows} rowKey={(row) => row.what} narrow />;
}

function Portions({ result, kitchen, currency, unit }: { readonly result: TestResult; readonly kitchen: Kitchen; readonly currency: string; readonly unit: Unit }) {
  if (result.portions.length === 0) return null;
  const per = kitchen.measures === "metric" ? "kilo" : "pound";
  const columns: readonly Column<TestResult["portions"][number]>[] = [
    { key: "name", head: "Portion", cell: ({ spec }) => <Link href={`/specs/${encodeURIComponent(spec.id)}`}>{spec.name}</Link> },
    { key: "size", head: "Size", figure: true, fold: "phone", label: "", cell: ({ spec }) => <Figure of={printQuantity(spec.size, kitchen)} /> },
    { key: "count", head: "Whole portions", figure: true, fold: "phone", cell: ({ whole }) => whole === null ? "" : whole.portions.toString() },
    { key: "end", head: "Left over", figure: true, fold: "phone", cell: ({ whole, spec }) => whole === null ? "" : <Figure of={printQuantity(weightIn(whole.ends, spec.size.unit), kitchen)} /> },
    { key: "cost", head: `Portion cost, ${currency}`, figure: true, width: 6, cell: ({ byWeight }) => byWeight === null ? "" : moneyFigure(ratio.toDecimal(byWeight.cost), kitchen) },
    { key: "factor", head: `Factor per portion, on a ${per}`, figure: true, fold: "phone", cell: ({ byWeight }) => byWeight?.factor ? printFactor(ratio.toDecimal(byWeight.factor), kitchen) : "" },
  ];
  return (
    <>
      <h2>Portions</h2>
      <Table caption={`${result.portions.length} portion ${result.portions.length === 1 ? "spec" : "specs"} of its cuts, by weight, at this test’s cost`} columns={columns} rows={result.portions} rowKey={({ spec }) => spec.id} />
      <p className="quiet">A factor per portion is a hidden weight: {UNITS[unit].many} as purchased paid for each portion. It holds for this size and unit only.</p>
    </>
  );
}

function Repriced({ result, kitchen, unit }: { readonly result: TestResult; readonly kitchen: Kitchen; readonly unit: Unit }) {
  const { repriced } = result;
  if (repriced === null) return null;
  const money = (of: Ratio): string => printMoney(ratio.toDecimal(costPer(of, unit)), kitchen);
  return (
    <>
      <p className="say">At today’s {money(repriced.price)} {oneOf(unit)} the factor says <strong>{money(repriced.byFactor)}</strong>; with by-products at their own prices it is <strong>{money(repriced.atOwnPrices)}</strong>.</p>
      <details>
        <summary>Why two?</summary>
        <p>The textbooks multiply the new price by the factor, which lets the worth of every by-product rise and fall with the dealer’s price. If a by-product is worth what it was worth before, only the paid weight gets dearer, and that by more than the factor says. The cut says which of the two is in force.</p>
      </details>
    </>
  );
}

function Others({ test, figures, result, kitchen }: { readonly test: YieldTest; readonly figures: YieldFigures; readonly result: TestResult; readonly kitchen: Kitchen }) {
  if (result.others.length === 0) return null;
  const rows = [{ test, figures }, ...result.others];
  const columns: readonly Column<(typeof rows)[number]>[] = [
    { key: "on", head: "Day", cell: (row) => row.test.id === test.id ? <strong>{printDay(row.test.on, kitchen)}, this one</strong> : <Link href={`/tests/${encodeURIComponent(row.test.id)}`}>{printDay(row.test.on, kitchen)}</Link> },
    { key: "billed", head: "Weight", figure: true, fold: "phone", label: "", cell: (row) => <Figure of={printQuantity(row.test.billed, kitchen)} /> },
    { key: "yield", head: "Usable", figure: true, width: 5, cell: (row) => <Figure of={{ figure: printShare(ratio.toDecimal(row.figures.yield), kitchen), unit: "%" }} /> },
    { key: "loss", head: "Loss", figure: true, width: 4, cell: (row) => <Figure of={{ figure: printShare(ratio.toDecimal(totalLoss(row.figures)), kitchen), unit: "%" }} /> },
    { key: "cutter", head: "Cut by", fold: "phone", label: "", cell: (row) => row.test.cutter },
  ];
  return (
    <>
      <h2>Beside the other tests</h2>
      <Table caption={`${rows.length} tests of the same thing, newest first; they are pooled by weight, never averaged`} columns={columns} rows={rows} rowKey={(row) => row.test.id} narrow />
    </>
  );
}
