/** The cooking-loss form's own lines: what went in to the heat, what came out, what could be sold, all on the original weight. */
import type { FactOf } from "@/lib/book";
import { type Quantity, type Ratio, type Unit, exact, printQuantity, printShare, ratio } from "@/lib/measure";
import { type CookingFigures, weightIn } from "@/lib/yield";
import { Figure } from "@/components/figure/Figure";
import { type Column, Table } from "@/components/table/Table";

interface Row {
  readonly name: string;
  readonly weight: Ratio;
  readonly share: Ratio;
  readonly rule: "sum" | "in" | null;
  /** Worked out from an earlier test, where there was one, rather than weighed here. */
  readonly derived?: boolean;
}

export function CookingLedger({ figures, kitchen, unit, step }: {
  readonly figures: CookingFigures;
  readonly kitchen: FactOf["kitchen"];
  readonly unit: Unit;
  /** The scale's step: what was worked out from an earlier test is told to it, as what was weighed is. */
  readonly step: Quantity | null;
}) {
  const told = step ?? (kitchen.measures === "us" ? { amount: exact("0.25"), unit: "oz" as const } : { amount: exact("1"), unit: "g" as const });
  const line = (name: string, of: { readonly weight: Ratio; readonly ratio: Ratio }, rule: Row["rule"] = null): Row => ({ name, weight: of.weight, share: of.ratio, rule });
  const rows: readonly Row[] = [
    { name: "Original weight", weight: figures.original, share: ratio.ONE, rule: null, derived: true },
    { ...line("loss in trimming", figures.lossInTrimming, "in"), derived: true },
    line("Trimmed weight, into the heat", figures.trimmed),
    line("loss in cooking", figures.lossInCooking, "in"),
    line("Cooked weight", figures.cooked),
    line("bones and trim", figures.bonesAndTrim, "in"),
    line("loss in carving", figures.carvingLoss, "in"),
    line("Saleable weight", figures.saleable, "sum"),
  ];
  const columns: readonly Column<Row>[] = [
    { key: "name", head: "From the oven and the board", cell: (row) => row.name },
    { key: "weight", head: "Weight", figure: true, width: 7, cell: (row) => <Figure of={printQuantity(weightIn(row.weight, unit), kitchen, { step: row.derived ? told : null })} /> },
    { key: "share", head: "Of the original", figure: true, width: 6, cell: (row) => <Figure of={{ figure: printShare(ratio.toDecimal(row.share), kitchen, { places: 2 }), unit: "%" }} /> },
  ];
  return <Table caption="Ratios on the original weight, as purchased" columns={columns} rows={rows} rowKey={(row) => row.name} rowRule={(row) => row.rule} narrow />;
}
