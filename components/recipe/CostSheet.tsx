/** A recipe costed on paper: each line with how it is measured, at what, and what it comes to; allowances; the batch and a unit of it. */
import type { FactOf } from "@/lib/book";
import type { Explanation, Step } from "@/lib/cascade";
import { type Decimal, UNITS, moneyFigure, moneyPlaces, oneOf, printMoney } from "@/lib/measure";
import { allowanceWords } from "@/components/explanation/ExplanationLedger";
import { Fractions } from "@/components/figure/Figure";
import { missingText } from "@/components/figure/Missing";
import type { PaperSize } from "@/components/paper/paper-size";
import "@/components/paper/paper.css";
import "./recipe.css";
import { LineWords } from "./RecipeCard";
import type { LineAtSize } from "./scaled";

type Kitchen = FactOf["kitchen"];

export interface CostSheetProps {
  readonly name: string;
  readonly kitchen: Kitchen;
  readonly opened: Explanation;
  readonly lines: readonly LineAtSize[];
  /** Times the batch. */
  readonly times: Decimal;
  readonly yields: string;
  readonly size: string | null;
  readonly care: string | null;
  readonly asOf: string;
  readonly printed: string;
  readonly paper: PaperSize;
}

export function CostSheet({ name, kitchen, opened, lines, times, yields, size, care, asOf, printed, paper }: CostSheetProps) {
  const byKey = new Map(lines.map((line) => [line.key, line]));
  const missing = opened.cost.missing.length > 0;
  return (
    <div className="paper-room" role="region" aria-label="The cost sheet" tabIndex={0}>
      <article className={`paper read paper-${paper}`}>
        <header><h2>{name}</h2><p>Cost sheet · {kitchen.name}</p></header>
        <dl className="written">
          <div className="wide"><dt>Yields</dt><dd><Fractions text={yields} />{size === null ? ", measured after cooking" : ", reckoned from the batch that was measured"}</dd></div>
          {size !== null && <div className="wide"><dt>Size</dt><dd><Fractions text={size} /></dd></div>}
          <div className="wide"><dt>Prices</dt><dd>as of {asOf}, in {kitchen.currency}</dd></div>
        </dl>
        {care !== null && <p className="care">{care}</p>}
        <table className="sheet-lines">
          <caption className="visually-hidden">Each line at its price of the day</caption>
          <thead><tr><th scope="col" className="words">What goes in</th><th scope="col" className="n">Quantity</th><th scope="col" className="n">For one</th><th scope="col" className="n">Amount</th></tr></thead>
          <tbody>
            {opened.steps.map((step) => <SheetRow key={step.key} step={step} line={byKey.get(step.key)} times={times} kitchen={kitchen} />)}
            <tr className="sum"><th scope="row">The batch</th><td /><td /><td className="n">{missing && "at least "}{moneyFigure(opened.cost.amount.mul(times), kitchen)}</td></tr>
            {opened.costOf.map((one) => <tr key={one.quantity.unit}><th scope="row" className="words">{UNITS[one.quantity.unit].kind === "count" ? "A portion" : `One ${UNITS[one.quantity.unit].one}`}</th><td /><td /><td className="n">{missing && "at least "}{printMoney(one.amount, kitchen)} {oneOf(one.quantity.unit)}</td></tr>)}
          </tbody>
        </table>
        {missing && <p className="care">Missing {missingText(opened.cost.missing)}: what rests on it is told as “at least”.</p>}
        {times.eq(1) ? null : <p className="small-words">Money reckoned for a batch is taken as many times as the batch.</p>}
        <footer>
          <p>As purchased: paid for before trimming. Edible portion: its yield stands in its cost, so nothing is divided twice. Confidential.</p>
          <p>{kitchen.name} · {printed}</p>
        </footer>
      </article>
    </div>
  );
}

function SheetRow({ step, line, times, kitchen }: { readonly step: Step; readonly line: LineAtSize | undefined; readonly times: Decimal; readonly kitchen: Kitchen }) {
  const small = moneyPlaces(kitchen.currency);
  const fine = (amount: Decimal): string => moneyFigure(amount, kitchen, { places: amount.isZero() || amount.abs().gte("0.1") ? small : small + 2 });
  return (
    <tr>
      <th scope="row" className="words">{line === undefined ? step.name : <LineWords line={line} />}{step.detail?.of === "allowance" && <span className="small-words"> {allowanceWords(step.detail.allowance, kitchen)}</span>}</th>
      <td className="n">{line !== undefined && <>{!line.exact && "about "}<Fractions text={line.quantity} /></>}</td>
      <td className="n">{step.rate !== null && `${fine(step.rate.amount)} / ${UNITS[step.rate.per].one}`}</td>
      <td className="n">{step.amount === null ? "unknown" : <>{step.missing.length > 0 && "at least "}{fine(step.amount.mul(times))}</>}</td>
    </tr>
  );
}
