/** A claim on a dealer on one sheet of paper: what was billed, what came, what is asked back. */
import type { PaperSize } from "@/components/paper/paper-size";
import "@/components/paper/paper.css";
import "@/components/recipe/recipe.css";
import "./delivery.css";

export interface ClaimLine {
  readonly key: string;
  /** "Invoice 4711, Tue 3 Nov 2026". */
  readonly paper: string;
  readonly item: string;
  /** "billed 13 lb, received 12 lb 6 oz: 10 oz short". */
  readonly what: string;
  readonly amount: string;
}

export interface ClaimLetterProps {
  readonly kitchen: string;
  readonly place: string;
  readonly dealer: string;
  readonly printed: string;
  readonly currency: string;
  readonly lines: readonly ClaimLine[];
  readonly total: string;
  /** Lines of credit memos since, already given back. */
  readonly credited: readonly ClaimLine[];
  readonly creditedTotal: string | null;
  readonly left: string | null;
  readonly paper: PaperSize;
}

export function ClaimLetter({ kitchen, place, dealer, printed, currency, lines, total, credited, creditedTotal, left, paper }: ClaimLetterProps) {
  return (
    <div className="paper-room" role="region" aria-label="The letter" tabIndex={0}>
      <article className={`paper read paper-${paper}`}>
        <header><h2>To {dealer}</h2><p>{kitchen}{place === "" ? "" : `, ${place}`}</p></header>
        <p className="ask-back">Of what you billed, the following did not come as billed or as quoted. What is claimed as short was weighed when it came. Please send a credit memo.</p>
        <table className="sheet-lines">
          <caption className="visually-hidden">What is claimed</caption>
          <thead><tr><th scope="col">Paper</th><th scope="col">Item</th><th scope="col">What</th><th scope="col" className="n">{currency}</th></tr></thead>
          <tbody>
            {lines.map((line) => <tr key={line.key}><td className="words">{line.paper}</td><td className="words">{line.item}</td><td className="words">{line.what}</td><td className="n">{line.amount}</td></tr>)}
            <tr className="sum"><th scope="row" colSpan={3}>In all</th><td className="n">{total}</td></tr>
            {credited.map((line) => <tr key={line.key}><td className="words">{line.paper}</td><td className="words">{line.item}</td><td className="words">{line.what}</td><td className="n">{line.amount}</td></tr>)}
            {creditedTotal !== null && <tr className="sum"><th scope="row" colSpan={3}>Credited since</th><td className="n">{creditedTotal}</td></tr>}
            {left !== null && <tr className="sum"><th scope="row" colSpan={3}>Still open</th><td className="n">{left}</td></tr>}
          </tbody>
        </table>
        <footer><p>{printed}</p></footer>
      </article>
    </div>
  );
}
