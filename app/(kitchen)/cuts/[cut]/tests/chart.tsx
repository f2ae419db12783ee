/** The individuals chart of a cut's tests, the points beyond its limits by name, and its table. */
import Link from "next/link";
import { type Decimal, type Ratio, printDay, printPoints, printShare, ratio } from "@/lib/measure";
import { type ChartPoint, TESTS_FOR_CHART } from "@/lib/yield";
import { Figure } from "@/components/figure/Figure";
import { Term } from "@/components/glossary/Term";
import { type Column, Table } from "@/components/table/Table";
import { ControlChart } from "@/components/yield-test/ControlChart";
import { printShortDay } from "../../../moment";
import type { OpenKitchen } from "../../../open-kitchen";
import type { CutHistory } from "./history";

export function Chart({ history: { chart }, kitchen }: { readonly history: CutHistory; readonly kitchen: OpenKitchen["kitchen"] }) {
  if (!chart.ok) return <p className="quiet">{chart.problems[0]?.sentence}</p>;
  const { mean, lower, upper, points, rangeUpper } = chart.value;
  const share = (of: Ratio): string => `${printShare(ratio.toDecimal(of), kitchen)}\u00a0%`;
  const day = (on: string | null): string => (on === null ? "no day" : printDay(on, kitchen));
  const signals = points.filter((point) => sayPoint(point) !== "");
  const columns: readonly Column<ChartPoint>[] = [
    { key: "on", head: "Test", cell: ({ test }) => <Link href={`/tests/${encodeURIComponent(test.id)}`}>{day(test.on)}</Link> },
    { key: "yield", head: "Usable", figure: true, width: 5, cell: ({ test }) => <Figure of={{ figure: printShare(ratio.toDecimal(test.yield), kitchen), unit: "%" }} /> },
    { key: "range", head: "Moved, points", figure: true, width: 6.5, cell: ({ movingRange }) => (movingRange === null ? "" : printPoints(ratio.toDecimal(movingRange), kitchen)) },
    { key: "signal", head: "Signal", fold: "phone", label: "", cell: (point) => sayPoint(point) },
  ];
  const line = (of: Ratio, word: string) => ({ height: heightOf(ratio.toDecimal(of)), label: `${word} ${share(of)}` });
  return (
    <>
      <p>
        The <Term of="control limits">control limits</Term> are {share(lower)} and {share(upper)}, about a mean of {share(mean)}; from one test to the next up to {printPoints(ratio.toDecimal(rangeUpper), kitchen)} points is chance (<Term of="moving range">moving range</Term>).{" "}
        {signals.length === 0 ? "Every test lies within them." : "A signal asks for a cause, it blames nobody:"}
      </p>
      {signals.length > 0 && <ul>{signals.map((point) => <li key={point.test.id}>{day(point.test.on)}, {share(point.test.yield)}: {sayPoint(point)}.</li>)}</ul>}
      <ControlChart label={`${points.length} tests in their order against control limits; the table below has every figure`} mean={line(mean, "mean")} lower={line(lower, "lower limit")} upper={line(upper, "upper limit")}
        points={points.map((point) => ({
          testId: point.test.id, day: point.test.on === null ? "" : printShortDay(`${point.test.on}T12:00:00Z`, kitchen, points.at(-1)?.test.on ?? point.test.on),
          height: heightOf(ratio.toDecimal(point.test.yield)), yield: share(point.test.yield), form: point.beyond !== null || point.rangeBeyond ? "beyond" : point.run !== null ? "run" : "within",
        }))} />
      <details className="stands">
        <summary>The chart as a table</summary>
        <Table narrow quietCaption caption={`${points.length} tests in their order, from ${TESTS_FOR_CHART} on against control limits`} columns={columns} rows={points} rowKey={({ test }) => test.id} />
      </details>
    </>
  );
}

/** For drawing only. */
function heightOf(share: Decimal): number {
  return share.toDecimalPlaces(6).toNumber();
}

function sayPoint({ beyond, rangeBeyond, run }: ChartPoint): string {
  return [
    beyond === null ? "" : `beyond the ${beyond === "above" ? "upper" : "lower"} limit`,
    rangeBeyond ? "further from the test before than chance goes" : "",
    run === null ? "" : `one of eight or more in a row ${run} the mean`,
  ].filter((words) => words !== "").join(", ");
}
