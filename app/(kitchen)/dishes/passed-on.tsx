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
import { PricesAsked } from "./prices-asked";

interface PassedOnProps {
  readonly figures: DishFigures;
  readonly history: readonly CostPoint[];
  readonly kitchen: FactOf["kitchen"];
}

/** `history` newest first, as the store tells it turned round. */
export function PassedOn({ figures, history, kitchen }: PassedOnProps) {
  const moved = lastPassedOn(figures, history);
  if (moved === null) return null;
  const { keepsPercentage, keepsMargin, meetsTarget } = moved.asked;
  return (
    <>
      <h2>To pass the last move on</h2>
      <p>The plate became {printMoney(moved.by.abs(), kitchen)} {moved.by.gt(0) ? "dearer" : "cheaper"} on {printMoment(moved.at, kitchen)}, by <Link href={`/record/${moved.changeNo}`}>change {moved.changeNo}</Link>. Reckoned from today’s menu price, that asks for:</p>
      <PricesAsked figures={figures} kitchen={kitchen} caption="What passing the last move on asks of the menu price" rows={[
        { key: "percentage", name: "Keep the percentage", what: "the food the same share of the price as before", asked: keepsPercentage, lack: null },
        { key: "margin", name: "Keep the margin", what: "the same money left over from each plate as before", asked: keepsMargin, lack: null },
        { key: "target", name: "Meet the target", what: `the food exactly ${targetText(figures, kitchen)} of the price`, asked: meetsTarget, lack: null },
      ]} />
    </>
  );
}

function lastPassedOn(figures: DishFigures, history: readonly CostPoint[]): { readonly by: Decimal; readonly at: string; readonly changeNo: number; readonly asked: PassThrough } | null {
  const [now, before] = history;
  if (!now?.amount || !before?.amount || now.atLeast || before.atLeast || figures.net === null || !now.amount.eq(figures.plateCost.amount) || now.amount.eq(before.amount)) return null;
  return { by: now.amount.minus(before.amount), at: now.at, changeNo: now.changeNo, asked: passThrough(before.amount, now.amount, figures.net, figures.target, figures.taxRate) };
}
