/**
 * A yield test on one sheet of paper, filled in or blank: ruled by hairlines, black on white, with rows of 8 mm and more
 * where somebody writes with a pencil on a clipboard.
 */
import { Figure, Fractions } from "@/components/figure/Figure";
import type { FormLine, FormRow, YieldForm } from "./yield-form";
import type { PaperSize } from "./paper-size";
import "./paper.css";

export function PaperForm({ form, paper }: { readonly form: YieldForm; readonly paper: PaperSize }) {
  const { money, scaleColumns } = form;
  return (
    <div className="paper-room" role="region" aria-label="The form" tabIndex={0}>
      <article className={`paper paper-${paper}${form.blank ? " blank" : ""}`}>
        <header>
          <h2>{form.title}{form.of !== "" && <>: {form.of}</>}</h2>
          <p>{form.kitchen}</p>
        </header>
        {form.of === "" && <dl className="written"><Line line={{ label: "What is worked", value: "", wide: true }} /></dl>}
        <dl className="written">{form.lines.map((line) => <Line key={line.label} line={line} />)}</dl>
        {form.scales.length > 0 && <p className="ticks"><span>Scale reads</span>{form.scales.map((scale) => <span key={scale}><i aria-hidden="true" />{scale}</span>)}<span className="rest">smallest step</span></p>}
        <table>
          <caption className="visually-hidden">{form.title}, part by part</caption>
          <thead>
            <tr>
              <th scope="col">Part</th><th scope="col">What it is</th>
              {scaleColumns && <><th scope="col" className="n">Gross</th><th scope="col" className="n">Tub</th></>}
              <th scope="col" className="n">{scaleColumns ? "Net" : "Weight"}</th><th scope="col" className="n">% of the whole</th>
              {money !== null && <><th scope="col" className="n">{money.rate}</th><th scope="col" className="n">{money.value}</th></>}
            </tr>
          </thead>
          <tbody>{form.rows.map((row) => <Row key={row.key} row={row} scaleColumns={scaleColumns} money={money !== null} />)}</tbody>
        </table>
        {form.boxes > 0 && (
          <div className="pieces">
            <p>Pieces of the usable part, one by one</p>
            <ol>{Array.from({ length: form.boxes }, (_, index) => <li key={index}>{index + 1}</li>)}</ol>
          </div>
        )}
        {form.pieces.length > 0 && <dl className="written of-pieces">{form.pieces.map((line) => <Line key={line.label} line={line} />)}</dl>}
        {form.noteLines > 0 && <div className="note"><p>Note</p>{Array.from({ length: form.noteLines }, (_, index) => <div key={index} className="rule" />)}</div>}
        {form.note !== "" && <div className="note"><p>Note</p><p className="prose">{form.note}</p></div>}
        {typeof form.recorded === "string" ? <p className="recorded">{form.recorded}</p> : <dl className="written">{form.recorded.map((line) => <Line key={line.label} line={line} />)}</dl>}
        <footer>
          <p>{form.caution}</p>
          <p>{form.kitchen} · {form.printed}</p>
        </footer>
      </article>
    </div>
  );
}

function Line({ line }: { readonly line: FormLine }) {
  return <div className={line.wide ? "wide" : undefined}><dt>{line.label}</dt><dd><Fractions text={line.value} /></dd></div>;
}

function Row({ row, scaleColumns, money }: { readonly row: FormRow; readonly scaleColumns: boolean; readonly money: boolean }) {
  return (
    <tr className={row.sum ? "sum" : undefined}>
      <th scope="row">{row.name}</th><td>{row.what}</td>
      {scaleColumns && <><td className="n"><Fractions text={row.gross} /></td><td className="n"><Fractions text={row.tub} /></td></>}
      <td className="n">{row.net.length > 0 && <Figure of={row.net} />}</td><td className="n">{row.share}</td>
      {money && <><td className="n">{row.rate}</td><td className="n">{row.value}</td></>}
    </tr>
  );
}
