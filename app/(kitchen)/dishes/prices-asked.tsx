/**
 * Prices that something asks for, side by side: to the cent, up to the house's next ending, and what the food comes to at
 * that. The house's ending is on the gross price, as printed.
 */
import type { ReactNode } from "react";
import type { FactOf } from "@/lib/book";
import { Decimal, moneyFigure, moneyPlaces, printShare, toDecimal } from "@/lib/measure";
import { type DishFigures, type PriceAsked, contributionMargin, endedPrice, foodCostRatio } from "@/lib/menu";
import { Term } from "@/components/glossary/Term";
import { Table } from "@/components/table/Table";
import { currencySign } from "../change-flow/ripple-view";

export interface AskedRow {
  readonly key: string;
  readonly name: ReactNode;
  readonly what: ReactNode;
  readonly asked: PriceAsked | null;
  /** Why nothing is asked. */
  readonly lack: ReactNode | null;
}

export function PricesAsked({ figures, kitchen, caption, rows }: { readonly figures: DishFigures; readonly kitchen: FactOf["kitchen"]; readonly caption: string; readonly rows: readonly AskedRow[] }) {
  const sign = currencySign(kitchen);
  const at = ({ asked }: AskedRow) => {
    if (asked === null) return null;
    const gross = endedPrice(Decimal.max(asked.gross, 0), kitchen.endings, moneyPlaces(kitchen.currency));
    const net = gross.div(toDecimal(figures.taxRate).plus(1));
    return { gross, foodCost: foodCostRatio(figures.plateCost.amount, net), contribution: contributionMargin(figures.plateCost.amount, net) };
  };
  const cell = (row: AskedRow, say: (ended: NonNullable<ReturnType<typeof at>>) => ReactNode): ReactNode => {
    const ended = at(row);
    return ended === null ? "" : say(ended);
  };
  return (
    <Table narrow quietCaption caption={caption} rows={rows} rowKey={(row) => row.key} columns={[
      { key: "name", head: "To", cell: (row) => <>{row.name} <span className="quiet small">{row.lack ?? row.what}</span></> },
      { key: "asked", head: `Asks, ${sign}`, label: "asks", figure: true, fold: "phone", width: 5, cell: (row) => (row.asked === null ? <span className="quiet">–</span> : moneyFigure(row.asked.gross, kitchen)) },
      { key: "ended", head: kitchen.endings.length === 0 ? `Printed, ${sign}` : `House ending, ${sign}`, figure: true, width: 6, cell: (row) => cell(row, ({ gross }) => <strong>{moneyFigure(gross, kitchen)}</strong>) },
      { key: "food", head: <><Term of="food cost">Food cost</Term>, %</>, label: "food cost", figure: true, fold: "phone", cell: (row) => cell(row, ({ foodCost }) => foodCost && <span className={foodCost.gt(figures.target) ? "over" : undefined}>{printShare(foodCost, kitchen)}{foodCost.gt(figures.target) && <span className="small"> over</span>}</span>) },
      { key: "left", head: <><Term of="contribution">Left over</Term>, {sign}</>, label: "left over", figure: true, fold: "phone", cell: (row) => cell(row, ({ contribution }) => moneyFigure(contribution, kitchen)) },
    ]} />
  );
}
