/** Make or buy as a memo on one sheet: the verdict, both ways line by line, the break-evens, what was assumed, what money does not tell. */
import { Fractions } from "@/components/figure/Figure";
import type { PaperSize } from "@/components/paper/paper-size";
import "@/components/paper/paper.css";
import "./make-or-buy.css";
import type { MemoView } from "./memo-view";

export function Memo({ view, paper }: { readonly view: MemoView; readonly paper: PaperSize }) {
  return (
    <div className="paper-room" role="region" aria-label="The memo" tabIndex={0}>
      <article className={`paper read memo paper-${paper}`}>
        <header><h2>{view.title}</h2><p>Memo</p></header>
        <p className="memo-lines">{view.lines}</p>
        <p className="memo-says">{view.says}</p>
        <table className="memo-costs">
          <caption>A portion, both ways</caption>
          <thead><tr><th scope="col">What it takes</th><th scope="col" className="n">Avoidable cash</th><th scope="col" className="n">Full cost</th></tr></thead>
          <tbody>{view.costs.map((line) => <tr key={line.key} className={line.sum ? "sum" : undefined}><th scope="row">{line.name}</th><td className="n">{line.cash}</td><td className="n">{line.full}</td></tr>)}</tbody>
        </table>
        <table className="memo-evens">
          <caption>Where both are the same, all else as it is</caption>
          <thead><tr><th scope="col">Of what</th><th scope="col">Now</th><th scope="col">By avoidable cash</th><th scope="col">By full cost</th></tr></thead>
          <tbody>{view.breakEvens.map((one) => <tr key={one.key}><th scope="row">{one.name}<span className="memo-note"> {one.note}</span></th><td>{one.now}</td><td>{one.cash}</td><td>{one.full}</td></tr>)}</tbody>
        </table>
        <section><h3>Assumed</h3><ul>{view.assumptions.map((one) => <li key={one}><Fractions text={one} /></li>)}</ul></section>
        <section><h3>What money does not tell</h3><ul>{view.cautions.map((one) => <li key={one}>{one}</li>)}</ul></section>
        <footer><p>{view.printed}. Figures follow from the book of that day; confidential.</p></footer>
      </article>
    </div>
  );
}
