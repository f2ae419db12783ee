/** One dealer's order on a sheet of paper: what to order in whole packs, ruled, black on white, with room to tick off what came. */
import { Fractions } from "@/components/figure/Figure";
import type { PaperSize } from "@/components/paper/paper-size";
import "@/components/paper/paper.css";
import "./order.css";
import type { OrderRowView } from "./row-view";

export interface OrderPaperProps {
  readonly paper: PaperSize;
  readonly dealer: string;
  readonly ordering: string;
  readonly kitchen: string;
  readonly place: string;
  readonly order: string;
  readonly forDay: string;
  readonly rows: readonly OrderRowView[];
  readonly total: string;
  readonly minimum: string | null;
  readonly note: string;
  readonly caution: string;
  readonly printed: string;
}

export function OrderPaper({ paper, dealer, ordering, kitchen, place, order, forDay, rows, total, minimum, note, caution, printed }: OrderPaperProps) {
  return (
    <div className="paper-room order-sheet" role="region" aria-label={`Order to ${dealer}`} tabIndex={0}>
      <article className={`paper read paper-${paper}`}>
        <header><h2>{dealer}</h2><p>Order · {kitchen}{place !== "" && `, ${place}`}</p></header>
        <dl className="written">
          <div className="wide"><dt>For</dt><dd>{order}{forDay !== "" && `, ${forDay}`}</dd></div>
          {ordering !== "" && <div className="wide"><dt>How</dt><dd>{ordering}</dd></div>}
          <div><dt>Ordered by</dt><dd /></div><div><dt>On</dt><dd /></div><div><dt>Taken by</dt><dd /></div>
        </dl>
        <table className="order-lines">
          <caption className="visually-hidden">What is ordered from {dealer}</caption>
          <thead><tr><th scope="col">Code</th><th scope="col" className="words">Item</th><th scope="col" className="n">Order</th><th scope="col">Pack</th><th scope="col" className="n">In all</th><th scope="col" className="n">As asked</th><th scope="col" className="n">Amount</th><th scope="col" className="n">Came</th></tr></thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.key}>
                <td>{row.code}</td>
                <th scope="row" className="words">{row.name}{row.notes.length > 0 && <span className="small-words"> {row.notes.join(" ")}</span>}</th>
                <td className="n"><strong>{row.packs ?? ""}</strong></td>
                <td>{row.why === null ? <Fractions text={row.pack} /> : `not in packs: ${row.why}`}</td>
                <td className="n">{row.bought !== null && <Fractions text={row.bought} />}</td>
                <td className="n">{row.price ?? ""}</td>
                <td className="n">{row.cost ?? "not known"}</td>
                <td className="n" />
              </tr>
            ))}
            <tr className="sum"><td /><th scope="row">In all</th><td /><td /><td /><td /><td className="n">{total}</td><td /></tr>
          </tbody>
        </table>
        {minimum !== null && <p className="care">{minimum}</p>}
        {note !== "" && <div className="note"><p>Note</p><p className="prose">{note}</p></div>}
        <footer>
          <p>{caution}</p>
          <p>{kitchen} · {printed}</p>
        </footer>
      </article>
    </div>
  );
}
