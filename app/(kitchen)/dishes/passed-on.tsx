/**
 * What the last recorded move of a dish's plate cost asks of its menu price: to keep the percentage, to keep the margin,
 * to meet the target. Nothing is told where the move does not compare, a bound before or after it.
 */
import Link from "next/link";
import type { FactOf } from "@/lib/book";
import { type Decimal, printMoney } from "@/lib/measure";
import { type DishFigures, type PassThrough, passThrough } from "@/lib/menu";
import type { CostPoint } from "@/lib/store";
import { targetText } from "../change-flow/ripple-view";
import { printMoment } from "../moment";

/** `history` newest first, as the store tells it turned round. */
export function PassedOn({ figures, history, kitchen }: { readonly figures: DishFigures; readonly history: readonly CostPoint[]; readonly kitchen: FactOf["kitchen"] }) {
  const moved = lastPassedOn(figures, history);
  if (moved === null) return null;
  return (
    <>
      <h2>To pass the last move on</h2>
      <p>The plate became {printMoney(moved.by.abs(), kitchen)} {moved.by.gt(0) ? "dearer" : "cheaper"} on {printMoment(moved.at, kitchen)}, by <Link href={`/record/${moved.changeNo}`}>change {moved.changeNo}</Link>. On the menu that asks for:</p>
      <dl className="facts">
        {moved.asked.keepsPercentage !== null && <><dt>To keep the percentage</dt><dd><strong>{printMoney(moved.asked.keepsPercentage.gross, kitchen)}</strong> <span className="quiet">the food the same share of the price as before</span></dd></>}
        <dt>To keep the margin</dt><dd><strong>{printMoney(moved.asked.keepsMargin.gross, kitchen)}</strong> <span className="quiet">the same money left over from each plate as before</span></dd>
        {moved.asked.meetsTarget !== null && <><dt>To meet the target</dt><dd><strong>{printMoney(moved.asked.meetsTarget.gross, kitchen)}</strong> <span className="quiet">the food exactly {targetText(figures, kitchen)} of the price</span></dd></>}
      </dl>
      <p className="quiet">Reckoned from today’s menu price; before the house’s endings.</p>
    </>
  );
}

function lastPassedOn(figures: DishFigures, history: readonly CostPoint[]): { readonly by: Decimal; readonly at: string; readonly changeNo: number; readonly asked: PassThrough } | null {
  const [now, before] = history;
  if (!now?.amount || !before?.amount || now.atLeast || before.atLeast || figures.net === null || !now.amount.eq(figures.plateCost.amount) || now.amount.eq(before.amount)) return null;
  return { by: now.amount.minus(before.amount), at: now.at, changeNo: now.changeNo, asked: passThrough(before.amount, now.amount, figures.net, figures.target, figures.taxRate) };
}
