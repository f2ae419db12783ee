/** Parts of the page of a test: shares of joint cost, portions, both repricings, the tests beside it. */
import Link from "next/link";
import type { JointMethod, YieldTest } from "@/lib/book";
import { type Ratio, type Unit, UNITS, moneyFigure, oneOf, printDay, printFactor, printMoney, printQuantity, printShare, ratio } from "@/lib/measure";
import { type YieldFigures, JOINT_COST_METHODS, costPer, totalLoss, weightIn } from "@/lib/yield";
import { JOINT } from "@/components/cut/choices";
import { Figure } from "@/components/figure/Figure";
import { type Column, Table } from "@/components/table/Table";
import "@/components/yield-test/yield-test.css";
import type { OpenKitchen } from "../../open-kitchen";
import type { TestResult } from "./result";

type Kitchen = OpenKitchen["kitchen"];

/** Several usable parts: what each costs under each way of sharing. The total never changes. */
export function JointShares({ result, kitchen, currency, unit }: { readonly result: TestResult; readonly kitchen: Kitchen; readonly currency: string; readonly unit: Unit }) {
  const { joint } = result;
  const mains = result.figures.ok ? result.figures.value.parts.filter((part) => part.role === "main") : [];
  if (joint === null) return null;
  const rows = JOINT_COST_METHODS.map((method) => ({ method, shares: joint.methods[method] }));
  const columns: readonly Column<(typeof rows)[number]>[] = [
    { key: "method", head: "Shared", cell: ({ method }) => <>{wordOf(method)}{method === joint.inForce && <span className="quiet">, in force</span>}</> },
    ...mains.map((part): Column<(typeof rows)[number]> => ({
      key: part.key, head: `${part.name}, ${currency} a ${UNITS[unit].one}`, label: part.name, figure: true, fold: "phone",
      cell: ({ shares }) => {
        const share = shares.ok ? shares.value.find((one) => one.key === part.key) : undefined;
        return share === undefined ? "–" : moneyFigure(ratio.toDecimal(costPer(share.costPerUnit, unit)), kitchen);
      },
    })),
    { key: "total", head: `Together, ${currency}`, figure: true, width: 5, cell: ({ shares }) => shares.ok ? moneyFigure(ratio.toDecimal(ratio.sum(shares.value.map((one) => one.value))), kitchen) : "–" },
  ];
  const lacking = [...new Set(rows.flatMap(({ shares }) => (shares.ok ? [] : shares.problems.map((problem) => problem.sentence))))];
  return (
    <>
      <h2>How the cost is shared among the usable parts</h2>
      <Table caption="The choice moves cost from one dish to another; the total stays. It is no reason to keep or to sell a part." columns={columns} rows={rows} rowKey={({ method }) => method} />
      {lacking.map((sentence) => <p key={sentence} className="quiet">{sentence}</p>)}
    </>
  );
}

function wordOf(method: JointMethod): string {
  return JOINT.find((choice) => choice.value === method)?.label ?? method;
}

export function Portions({ result, kitchen, currency, unit }: { readonly result: TestResult; readonly kitchen: Kitchen; readonly currency: string; readonly unit: Unit }) {
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
      <p className="quiet">A factor per portion is a hidden weight: the {UNITS[unit].kind === "mass" ? `${per}s` : UNITS[unit].many} as purchased that are paid for with each portion. It holds for this size and unit only.</p>
    </>
  );
}

/** Both ways to today's cost, where the price has moved since the test. */
export function Repriced({ result, kitchen, unit }: { readonly result: TestResult; readonly kitchen: Kitchen; readonly unit: Unit }) {
  const { repriced } = result;
  if (repriced === null) return null;
  const money = (of: Ratio): string => printMoney(ratio.toDecimal(costPer(of, unit)), kitchen);
  const byFactor = money(repriced.byFactor);
  const atOwnPrices = money(repriced.atOwnPrices);
  if (byFactor === atOwnPrices) return <p className="say">At today’s {money(repriced.price)} {oneOf(unit)} it costs <strong>{byFactor}</strong> {oneOf(unit)} usable, by the factor and with by-products at their own prices alike.</p>;
  return (
    <>
      <p className="say">At today’s {money(repriced.price)} {oneOf(unit)} the factor says <strong>{byFactor}</strong> {oneOf(unit)} usable; with by-products at their own prices it is <strong>{atOwnPrices}</strong>.</p>
      <details className="why">
        <summary>Why two?</summary>
        <p>The textbooks multiply the new price by the factor, which lets the worth of every by-product rise and fall with the dealer’s price. If a by-product is worth what it was worth before, only the paid weight gets dearer, and that by more than the factor says. The cut says which of the two is in force.</p>
      </details>
    </>
  );
}

/** The tests of the same thing, this one among them. */
export function OtherTests({ test, figures, result, kitchen }: { readonly test: YieldTest; readonly figures: YieldFigures; readonly result: TestResult; readonly kitchen: Kitchen }) {
  if (result.others.length === 0) return null;
  const rows = [{ test, figures }, ...result.others].sort((a, b) => (a.test.on < b.test.on ? 1 : a.test.on > b.test.on ? -1 : 0));
  const share = (of: Ratio) => <Figure of={{ figure: printShare(ratio.toDecimal(of), kitchen), unit: "%" }} />;
  const columns: readonly Column<(typeof rows)[number]>[] = [
    { key: "on", head: "Day", cell: (row) => row.test.id === test.id ? <strong>{printDay(row.test.on, kitchen)}, this one</strong> : <Link href={`/tests/${encodeURIComponent(row.test.id)}`}>{printDay(row.test.on, kitchen)}</Link> },
    { key: "billed", head: "Weight", figure: true, fold: "phone", label: "", cell: (row) => <Figure of={printQuantity(row.test.billed, kitchen)} /> },
    { key: "yield", head: "Usable", figure: true, width: 5, cell: (row) => share(row.figures.yield) },
    { key: "loss", head: "Loss", figure: true, width: 4, cell: (row) => share(totalLoss(row.figures)) },
    { key: "cutter", head: "Cut by", fold: "phone", label: "", cell: (row) => row.test.cutter },
  ];
  return (
    <>
      <h2>Beside the other tests</h2>
      <Table caption={`${rows.length} tests of the same thing, newest first; they are pooled by weight, never averaged`} columns={columns} rows={rows} rowKey={(row) => row.test.id} narrow />
    </>
  );
}
