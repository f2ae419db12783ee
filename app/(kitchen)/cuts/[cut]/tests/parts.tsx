/** Parts of a cut's yield history: the tests as a table, flagged ones, what they cost today, the two intervals. */
import Link from "next/link";
import type { Cut } from "@/lib/book";
import { type Cascade, costOf } from "@/lib/cascade";
import { type Ratio, customaryUnit, moneyFigure, oneOf, printDay, printPoints, printQuantity, printShare, ratio, toDecimal } from "@/lib/measure";
import { TESTS_FOR_OUTLIERS, type MeanInterval, type NextInterval, costPer, intervalName, sayInterval, sayOutlier } from "@/lib/yield";
import { Figure, figureHref } from "@/components/figure/Figure";
import { Term } from "@/components/glossary/Term";
import { type Column, Table } from "@/components/table/Table";
import { currencySign, printNodeCost } from "../../../change-flow/ripple-view";
import type { OpenKitchen } from "../../../open-kitchen";
import type { CutHistory, HistoryRow } from "./history";
import "@/components/yield-test/yield-test.css";

type Kitchen = OpenKitchen["kitchen"];
interface Of { readonly history: CutHistory; readonly kitchen: Kitchen }

export function Tests({ history, kitchen, seesMoney }: Of & { readonly seesMoney: boolean }) {
  const { rows, today } = history;
  const share = (of: Ratio | null) => (of === null ? "–" : <Figure of={{ figure: printShare(ratio.toDecimal(of), kitchen), unit: "%" }} />);
  const unit = customaryUnit(today.measure ?? "mass", kitchen);
  const money = (test: HistoryRow["test"]): string => {
    const cost = today.alone.get(test.id) ?? null;
    return cost === null ? "–" : moneyFigure(ratio.toDecimal(costPer(cost, unit)), kitchen);
  };
  const columns: readonly Column<HistoryRow>[] = [
    { key: "on", head: "Test", cell: ({ test }) => <Link href={`/tests/${encodeURIComponent(test.id)}`} style={{ whiteSpace: "nowrap" }}>{printDay(test.on, kitchen)}</Link> },
    { key: "dealer", head: "Dealer", fold: "narrow", label: "", cell: ({ dealer }) => dealer },
    { key: "cutter", head: "Cut by", fold: "narrow", label: "", cell: ({ test }) => test.cutter },
    { key: "pieces", head: "Pieces", figure: true, fold: "narrow", cell: ({ test }) => toDecimal(test.pieces).toString() },
    { key: "billed", head: "Billed", figure: true, fold: "narrow", cell: ({ test }) => <Figure of={printQuantity(test.billed, kitchen)} /> },
    { key: "yield", head: "Usable", figure: true, width: 4.5, cell: (row) => share(row.yield?.yield ?? null) },
    { key: "loss", head: "Loss", figure: true, width: 4, fold: "phone", cell: (row) => share(row.loss) },
    ...(seesMoney ? [{ key: "cost", head: `Today, ${currencySign(kitchen)} ${oneOf(unit)}`, label: `${currencySign(kitchen)} ${oneOf(unit)} today`, figure: true, width: 6.5, fold: "phone", cell: ({ test }: HistoryRow) => money(test) } as const] : []),
    { key: "standing", head: "Stands", fold: "narrow", label: "", cell: (row) => <Standing row={row} /> },
  ];
  return <Table caption={`${rows.length} ${rows.length === 1 ? "test" : "tests"}, newest first${seesMoney ? "; each valued at today’s prices" : ""}`} columns={columns} rows={rows} rowKey={({ test }) => test.id} />;
}

function Standing({ row: { standing, flagged } }: { readonly row: HistoryRow }) {
  const flag = flagged ? <strong className="near">, far from the others</strong> : null;
  switch (standing.kind) {
    case "behind": return <>behind it{flag}</>;
    case "left-out": return <><strong>left out:</strong> {standing.reason}</>;
    case "undecided": return <><span className="quiet">not decided</span>{flag}</>;
  }
}

/** Tests that stand far from the others: asked about, never taken away. */
export function Outliers({ history: { outliers, counted }, kitchen }: Of) {
  if (!outliers.ok) return counted.length > 0 && counted.length < TESTS_FOR_OUTLIERS ? <p className="quiet">{outliers.problems[0]?.sentence}</p> : null;
  return outliers.value.flagged.map((one) => <p key={one.test.id}>{sayOutlier(one, outliers.value, kitchen)}</p>);
}

/** What a usable unit costs by the tests together, at one date's prices. */
export function CostToday({ cascade, cut, history, kitchen }: Of & { readonly cascade: Cascade; readonly cut: Cut }) {
  const cost = costOf(cascade, { kind: "cut", id: cut.id });
  if (cost === null || history.behind.length === 0) return null;
  const { pooled } = history;
  return (
    <p>
      Pooled by weight and valued at today’s prices, {history.behind.length === 1 ? "its one test says" : `its ${history.behind.length} tests say`} {cost.missing.length > 0 && "at least "}<Figure of={printNodeCost(cost, kitchen)} href={figureHref({ kind: "cut", id: cut.id })} label={`What ${cut.name} costs`} strong /> of usable weight
      {pooled.ok && <>, at a <Term of="yield">yield</Term> of {printShare(ratio.toDecimal(pooled.value.pooled), kitchen)} %</>}. Weights are pooled, percentages and factors of different weeks never averaged.
    </p>
  );
}

/** Spread, and the two intervals that are easily taken for each other. */
export function Intervals({ history, kitchen }: Of) {
  const { spread, mean, next, meanBehind, behind, counted } = history;
  if (!spread.ok) return <p className="quiet">{spread.problems[0]?.sentence}</p>;
  const { value } = spread;
  const share = (of: Ratio): string => `${printShare(ratio.toDecimal(of), kitchen)}\u00a0%`;
  const day = (on: string | null): string => (on === null ? "" : ` (${printDay(on, kitchen)})`);
  if (!mean.ok || !next.ok) return [mean, next].flatMap((one) => (one.ok ? [] : one.problems)).slice(0, 1).map(({ sentence }) => <p key={sentence} className="quiet">{sentence}</p>);
  return (
    <>
      <p>
        {value.tests} tests that are not left out yield from {share(value.least.yield)}{day(value.least.on)} to {share(value.greatest.yield)}{day(value.greatest.on)}.
        {value.deviation !== null && <> Their <Term of="spread">spread</Term>, as a standard deviation, is {printPoints(value.deviation, kitchen)} points{value.variation !== null && <>, {printShare(value.variation, kitchen)} % of their mean</>}.</>}
        {counted.length !== behind.length && <> All of them pooled would yield {share(value.pooled)}.</>}
      </p>
      <div className="intervals">
        <IntervalOf interval={mean.value} kitchen={kitchen} what="For prices: where the yield of many pieces lies." term="interval of the mean" />
        <IntervalOf interval={next.value} kitchen={kitchen} what="For ordering: what one piece may give you, so how many to order for a function." term="interval of the next piece" />
      </div>
      {meanBehind?.ok && <p>By the {behind.length} tests it stands on alone, {inMidSentence(sayInterval(meanBehind.value, kitchen))}</p>}
      <p className="quiet">Both hold for tests that are alike and made apart from each other.</p>
    </>
  );
}

function IntervalOf({ interval, kitchen, what, term }: { readonly interval: MeanInterval | NextInterval; readonly kitchen: Kitchen; readonly what: string; readonly term: "interval of the mean" | "interval of the next piece" }) {
  return (
    <div>
      <h3><Term of={term}>{intervalName(interval)}</Term></h3>
      <p>{what}</p>
      <p>{sayInterval(interval, kitchen)}</p>
    </div>
  );
}

/** A sentence as it goes on after a comma. */
export function inMidSentence(sentence: string): string {
  return `${sentence.slice(0, 1).toLowerCase()}${sentence.slice(1)}`;
}
