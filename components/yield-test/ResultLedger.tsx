/**
 * The result of a yield test laid out as the trade's form: every part with its weight, ratio to the whole, worth a
 * pound and in all; the loss by difference; the usable weight ruled as a total. Figures are exact and printed here.
 */
import type { ReactNode } from "react";
import type { FactOf } from "@/lib/book";
import { type Ratio, UNITS, moneyFigure, printQuantity, printShare, ratio } from "@/lib/measure";
import { type YieldFigures, costPer, weightIn } from "@/lib/yield";
import { Figure } from "@/components/figure/Figure";
import { type Column, Table } from "@/components/table/Table";
import { ROLE_WORDS } from "./kinds";

type Kitchen = FactOf["kitchen"];

interface Row {
  readonly key: string;
  readonly name: ReactNode;
  readonly weight: Ratio;
  readonly share: Ratio;
  readonly perUnit: Ratio | null;
  readonly value: Ratio | null;
  readonly rule: "sum" | "in" | null;
}

export function ResultLedger({ figures, kitchen, currency, caption, billedName, usableName }: {
  readonly figures: YieldFigures;
  readonly kitchen: Kitchen;
  readonly currency: string;
  readonly caption: string;
  readonly billedName: string;
  readonly usableName: string;
}) {
  const { unit, money } = figures;
  const rows: Row[] = [
    { key: "billed", name: billedName, weight: figures.billed, share: ratio.ONE, perUnit: money?.price ?? null, value: money?.paid ?? null, rule: null },
    ...figures.parts.filter((part) => part.role !== "main").map((part): Row => ({
      key: part.key, name: <>less {part.name}{part.role !== "by-product" && <span className="quiet">, {ROLE_WORDS[part.role]}</span>}</>,
      weight: part.weight, share: part.ratio, perUnit: part.perUnit, value: part.value === null ? null : ratio.neg(part.value), rule: "in",
    })),
    ...figures.losses.map((loss): Row => ({
      key: `loss-${loss.key}`, name: <>{loss.name}<span className="quiet">, by difference</span></>, weight: loss.weight, share: loss.ratio, perUnit: null, value: null, rule: "in",
    })),
    ...mains(figures, usableName),
  ];
  const columns: readonly Column<Row>[] = [
    { key: "name", head: "From the invoice and the scale", cell: (row) => row.name },
    { key: "weight", head: "Weight", figure: true, width: 7, cell: (row) => <Figure of={printQuantity(weightIn(row.weight, unit), kitchen)} /> },
    { key: "share", head: "Of the whole", figure: true, fold: "phone", label: "", cell: (row) => <Figure of={{ figure: printShare(ratio.toDecimal(row.share), kitchen, { places: 2 }), unit: "%" }} /> },
    { key: "rate", head: `${currency} a ${UNITS[unit].one}`, figure: true, fold: "phone", cell: (row) => row.perUnit === null ? "" : moneyFigure(ratio.toDecimal(costPer(row.perUnit, unit)), kitchen) },
    { key: "value", head: currency, figure: true, width: 5, cell: (row) => row.value === null ? "" : moneyFigure(ratio.toDecimal(row.value), kitchen).replace("-", "−") },
  ];
  return <Table caption={caption} columns={columns} rows={rows} rowKey={(row) => row.key} rowRule={(row) => row.rule} />;
}

function mains(figures: YieldFigures, usableName: string): Row[] {
  const parts = figures.parts.filter((part) => part.role === "main");
  const total: Row = {
    key: "usable", name: parts.length === 1 ? parts[0]?.name ?? usableName : usableName, weight: figures.usable, share: figures.yield,
    perUnit: figures.money?.costPerUnit ?? null, value: figures.money?.usableValue ?? null, rule: "sum",
  };
  if (parts.length === 1) return [total];
  return [total, ...parts.map((part): Row => ({ key: part.key, name: part.name, weight: part.weight, share: part.ratio, perUnit: part.perUnit, value: part.value, rule: "in" }))];
}
