/** The price-by-portion chart as one sheet of paper; on a narrow screen it scrolls sideways inside its own box. */
import { Fractions } from "@/components/figure/Figure";
import type { PaperSize } from "@/components/paper/paper-size";
import "@/components/paper/paper.css";
import "./spec.css";
import type { PriceChartView } from "./price-chart-view";

export function PriceChartPaper({ view, paper }: { readonly view: PriceChartView; readonly paper: PaperSize }) {
  return (
    <div className="paper-room" role="region" aria-label="The chart" tabIndex={0}>
      <article className={`paper paper-${paper} price-paper`}>
        <header><h2>{view.title}</h2></header>
        <p className="says">{view.lines}</p>
        <table>
          <caption className="visually-hidden">{view.title}: what a portion costs at each price and size</caption>
          <thead>
            <tr>
              <th scope="col">{view.priceHead}</th><th scope="col" className="n">{view.cutHead}</th>
              {view.sizes.map((size) => (
                <th key={size.text} scope="col" className={size.mark === "" ? "n" : "n own"}>
                  {size.mark !== "" && <span className="mark">{size.mark}</span>}<span className="visually-hidden">{view.sizeHead}: </span><Fractions text={size.text} />
                </th>
              ))}
              {view.otherHead !== null && <th scope="col" className="n"><Fractions text={view.otherHead} /></th>}
            </tr>
          </thead>
          <tbody>
            {view.rows.map((row) => (
              <tr key={row.key} className={row.today ? "today" : undefined}>
                <th scope="row">{row.price}{row.today && " today"}</th><td className="n">{row.cut}</td>
                {row.portions.map((cost, at) => <td key={view.sizes[at]?.text} className={row.today && view.sizes[at]?.inUse === true ? "n now" : "n"}>{cost}</td>)}
                {view.otherHead !== null && <td className="n">{row.other}</td>}
              </tr>
            ))}
          </tbody>
        </table>
        {view.says.map((sentence) => <p key={sentence} className="says"><Fractions text={sentence} /></p>)}
        <footer><p>{view.sizeHead}. Prices step around today’s. {view.printed}.</p></footer>
      </article>
    </div>
  );
}
