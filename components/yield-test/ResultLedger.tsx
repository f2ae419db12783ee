/**
 * The result of a yield test laid out as the trade's form: every part with its weight, ratio to the whole, worth a
 * pound and in all; the loss by difference; the usable weight ruled as a total. Then what it comes to.
 */
import { Figure } from "@/components/figure/Figure";
import { type Column, Table } from "@/components/table/Table";
import type { ResultFigure, ResultRow, ResultView } from "./result-view";

export function ResultLedger({ view }: { readonly view: ResultView }) {
  const columns: readonly Column<ResultRow>[] = [
    { key: "name", head: "From the invoice and the scale", cell: (row) => <>{row.rule === "in" && row.note !== "by difference" && "less "}{row.name}{row.note !== null && <span className="quiet">, {row.note}</span>}</> },
    { key: "weight", head: "Weight", figure: true, width: 7, cell: (row) => <Figure of={row.weight} /> },
    { key: "share", head: "Of the whole", figure: true, fold: "phone", label: "", cell: (row) => <Figure of={{ figure: row.share, unit: "%" }} /> },
    ...(view.valueHead === "" ? [] : MONEY(view)),
  ];
  return <Table caption={view.caption} columns={columns} rows={view.rows} rowKey={(row) => row.key} rowRule={(row) => (row.rule === "of" ? "in" : row.rule)} />;
}

/** The columns that tell money; left out for whoever sees none. */
const MONEY = (view: ResultView): readonly Column<ResultRow>[] => [
  { key: "rate", head: view.rateHead, figure: true, fold: "phone", cell: (row) => row.rate },
  { key: "value", head: view.valueHead, figure: true, width: 5, cell: (row) => row.value },
];

/** Value of the usable part, cost per usable unit, factor. */
export function ComesTo({ view }: { readonly view: ResultView }) {
  if (view.comes.length === 0) return null;
  const columns: readonly Column<ResultFigure>[] = [
    { key: "what", head: "What it comes to", cell: (row) => row.what },
    { key: "figure", head: <span className="visually-hidden">Figure</span>, figure: true, width: 8, cell: (row) => <Figure of={row.figure} strong /> },
  ];
  return <Table caption="What the usable part costs" quietCaption columns={columns} rows={view.comes} rowKey={(row) => row.what} narrow />;
}

/** What was forgiven, what should be asked about, and what is not known yet. */
export function ResultNotes({ view }: { readonly view: ResultView }) {
  if (view.notes.length === 0 && view.missing.length === 0) return null;
  return (
    <ul>
      {view.notes.map((note) => <li key={note}>{note}</li>)}
      {view.missing.map((note) => <li key={note} className="quiet">{note}</li>)}
    </ul>
  );
}

/** The result of a sheet that was typed and tried, above what it would move. */
export function TriedResult({ view }: { readonly view: ResultView }) {
  return (
    <>
      <h2>What the test says</h2>
      <p className="say"><strong>{view.usable}</strong>{view.rest}</p>
      <ResultNotes view={view} />
      <ResultLedger view={view} />
      <ComesTo view={view} />
    </>
  );
}
