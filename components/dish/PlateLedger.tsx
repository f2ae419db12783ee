/**
 * What stands on a plate, largest first: its part on the plate, which way it goes, what it comes to; the allowances named;
 * then what goes only with a plate that is taken away.
 */
import type { ReactNode } from "react";
import Link from "next/link";
import type { Allowance, Dish, DishLine, FactOf } from "@/lib/book";
import type { Explanation, Step } from "@/lib/cascade";
import { type Decimal, UNITS, moneyFigure, moneyPlaces, printMoney, printQuantity, printShare, shareText, toDecimal } from "@/lib/measure";
import type { LineCost } from "@/lib/menu";
import { fromWords } from "@/components/explanation/ExplanationLedger";
import { Figure, figureHref } from "@/components/figure/Figure";
import { MissingWords } from "@/components/figure/Missing";
import { Table } from "@/components/table/Table";

type Kitchen = FactOf["kitchen"];

type Row =
  | { readonly is: "step"; readonly step: Step; readonly line: DishLine | undefined }
  | { readonly is: "plate" }
  | { readonly is: "away"; readonly cost: LineCost }
  | { readonly is: "taken away"; readonly amount: Decimal; readonly atLeast: boolean };

interface PlateLedgerProps {
  readonly dish: Dish;
  readonly explanation: Explanation;
  readonly away: readonly LineCost[];
  /** The plate taken away, where it differs. */
  readonly takenAway: { readonly amount: Decimal; readonly atLeast: boolean } | null;
  readonly kitchen: Kitchen;
  readonly currency: string;
}

export function PlateLedger({ dish, explanation, away, takenAway, kitchen, currency }: PlateLedgerProps) {
  const lines = new Map(dish.lines.map((line) => [line.key, line]));
  const rows: Row[] = [
    ...explanation.steps.map((step): Row => ({ is: "step", step, line: step.kind === "line" ? lines.get(step.key) : undefined })),
    ...(explanation.steps.length > 1 || takenAway !== null ? [{ is: "plate" } as const] : []),
    ...away.map((cost): Row => ({ is: "away", cost })),
    ...(takenAway === null ? [] : [{ is: "taken away", ...takenAway } as const]),
  ];
  return (
    <Table narrow caption="Each line at its price of the day, largest first" rows={rows} rowKey={(row) => (row.is === "step" ? row.step.key : row.is === "away" ? row.cost.line.key : row.is)}
      rowRule={(row) => (row.is === "plate" || row.is === "taken away" ? "sum" : null)} columns={[
        { key: "name", head: "What is on the plate", cell: (row) => nameCell(row, kitchen, takenAway !== null) },
        { key: "quantity", head: "Quantity", figure: true, fold: "phone", label: "", cell: (row) => quantityCell(row, kitchen) },
        { key: "rate", head: `${currency} for one`, label: "at", figure: true, fold: "phone", cell: (row) => row.is === "step" && row.step.rate !== null ? <Figure of={{ figure: money(row.step.rate.amount, kitchen, "0.1"), unit: `/ ${UNITS[row.step.rate.per].one}` }} /> : "" },
        { key: "amount", head: currency, figure: true, width: 5.5, cell: (row) => amountCell(row, explanation, kitchen) },
        { key: "share", head: "Share", label: "share", figure: true, fold: "phone", cell: (row) => row.is === "step" && row.step.share !== null ? <Figure of={{ figure: printShare(row.step.share, kitchen), unit: "%" }} /> : "" },
      ]} />
  );
}

const ROLE_WORDS: Readonly<Record<DishLine["role"], string>> = { main: "main", side: "side", garnish: "garnish", cover: "with every cover", packaging: "packaging" };
const WAY_WORDS: Readonly<Record<DishLine["channel"], string>> = { any: "", table: ", at the table only", away: ", taken away only" };

function roleWords(line: DishLine): string {
  return `${ROLE_WORDS[line.role]}${WAY_WORDS[line.channel]}`;
}

function nameCell(row: Row, kitchen: Kitchen, bothWays: boolean): ReactNode {
  if (row.is === "plate") return bothWays ? "The plate, at the table" : "The plate";
  if (row.is === "taken away") return "The plate, taken away";
  if (row.is === "away") {
    const { line, name, missing } = row.cost;
    return <><Link href={figureHref(line.of)}>{name}</Link><span className="from">{roleWords(line)}</span>{line.note !== "" && <span className="from">{line.note}</span>}{missing.length > 0 && <span className="from"><MissingWords missing={missing} most={2} /></span>}</>;
  }
  const { step, line } = row;
  return (
    <>
      {step.ref === null ? step.name : <Link href={figureHref(step.ref)}>{step.name}</Link>}
      {line !== undefined && <span className="from">{roleWords(line)}</span>}
      {step.detail?.of === "allowance" && <span className="from">{allowanceWords(step.detail.allowance, kitchen)}</span>}
      {fromWords(step, kitchen).map((words, index) => <span key={index} className="from">{words}</span>)}
      {step.missing.length > 0 && <span className="from"><MissingWords missing={step.missing} most={2} /></span>}
    </>
  );
}

/** "an allowance, 2 % on the cost of the lines". */
export function allowanceWords(allowance: Allowance, kitchen: Kitchen): string {
  if (allowance.kind === "money") return `an allowance, ${printMoney(toDecimal(allowance.amount.amount), kitchen)} a plate`;
  return `an allowance, ${shareText(allowance.share, kitchen)} ${allowance.basis === "on-cost" ? "on the cost of the lines" : "of the whole plate"}`;
}

function quantityCell(row: Row, kitchen: Kitchen): ReactNode {
  const quantity = row.is === "step" ? row.step.quantity : row.is === "away" ? row.cost.line.quantity : null;
  return quantity === null ? "" : <Figure of={printQuantity(quantity, kitchen)} />;
}

function amountCell(row: Row, explanation: Explanation, kitchen: Kitchen): ReactNode {
  if (row.is === "plate") return moneyFigure(explanation.total, kitchen);
  if (row.is === "taken away") return <>{row.atLeast && <span className="quiet small">at least </span>}{moneyFigure(row.amount, kitchen)}</>;
  const { amount, missing } = row.is === "step" ? row.step : row.cost;
  if (amount === null) return <span className="quiet">unknown</span>;
  return <>{missing.length > 0 && <span className="quiet small">at least </span>}{money(amount, kitchen, "0.005")}</>;
}

/** To the cent, or to two places more under `least`, where the cent would say nothing of it. */
function money(amount: Decimal, kitchen: Kitchen, least: string): string {
  const places = moneyPlaces(kitchen.currency);
  return moneyFigure(amount, kitchen, { places: amount.isZero() || amount.abs().gte(least) ? places : places + 2 }).replace("-", "−");
}
