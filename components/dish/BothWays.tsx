/** A dish that goes two ways: what its plate costs, what share of the price that is and what is left, side by side. */
import type { ReactNode } from "react";
import type { FactOf } from "@/lib/book";
import { moneyFigure, printShare } from "@/lib/measure";
import type { ChannelFigures } from "@/lib/menu";
import { Term } from "@/components/glossary/Term";
import { Missing } from "@/components/figure/Missing";
import { Table } from "@/components/table/Table";
import { StateWord } from "@/components/target/StateWord";

type Kitchen = FactOf["kitchen"];

interface BothWaysProps {
  readonly ways: readonly [ChannelFigures, ChannelFigures];
  readonly kitchen: Kitchen;
  readonly currency: string;
}

export function BothWays({ ways, kitchen, currency }: BothWaysProps) {
  const NAMES = { table: "At the table", away: "Taken away" } as const;
  const cost = ({ plateCost }: ChannelFigures): ReactNode => (plateCost.missing.length > 0 ? <Missing atLeast={moneyFigure(plateCost.amount, kitchen)} missing={plateCost.missing} /> : moneyFigure(plateCost.amount, kitchen));
  return (
    <Table narrow caption="The same price at the table and taken away, against the same target" rows={ways} rowKey={(way) => way.way} columns={[
      { key: "way", head: "How it leaves", cell: (way) => <>{NAMES[way.way]} <StateWord state={way.state} /></> },
      { key: "cost", head: <><Term of="plate cost">Plate cost</Term>, {currency}</>, figure: true, width: 6, cell: cost },
      { key: "food", head: <><Term of="food cost">Food cost</Term>, %</>, figure: true, width: 5, cell: (way) => (way.foodCost === null ? "–" : <strong className={way.state === "over" ? "over" : way.state === "near" ? "near" : undefined}>{printShare(way.foodCost, kitchen)}</strong>) },
      { key: "left", head: <><Term of="contribution">Contribution</Term>, {currency}</>, label: "contribution", figure: true, fold: "phone", width: 6, cell: (way) => (way.contribution === null ? "–" : moneyFigure(way.contribution, kitchen).replace("-", "−")) },
    ]} />
  );
}
