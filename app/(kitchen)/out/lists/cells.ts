/** Cells that several lists have: a quantity as figure and unit, a cost per the unit a kitchen speaks of, what is missing. */
import { type Habits, type Kind, type Money, type Quantity, type Ratio, UNITS, customaryUnit, moneyPlaces, perUnit, ratio, toDecimal } from "@/lib/measure";
import type { NodeCost } from "@/lib/cascade";
import { type Cell, type ListColumn, numberCell } from "@/lib/exchange";
import { missingText } from "@/components/figure/Missing";

/** Figures that somebody stated show the decimals they have, up to six. */
const MOST_PLACES = 6;

export const words = <Row>(head: string, of: (row: Row) => string | null | undefined, width = 18): ListColumn<Row> => ({ head, width, of: (row) => of(row) ?? null });

export function exactCell(value: Quantity["amount"] | null | undefined): Cell | null {
  if (value === null || value === undefined) return null;
  const figure = toDecimal(value);
  return numberCell(figure, Math.min(figure.decimalPlaces(), MOST_PLACES));
}

export const ratioCell = (value: Ratio | null | undefined, places: number): Cell | null => (value === null || value === undefined ? null : numberCell(ratio.toDecimal(value), places));

/** Two columns: the figure, and its unit. */
export const quantityColumns = <Row>(head: string, of: (row: Row) => Quantity | null | undefined): readonly ListColumn<Row>[] => [
  { head, of: (row) => exactCell(of(row)?.amount) },
  { head: `${head}, unit`, width: 10, of: (row) => { const found = of(row); return found === null || found === undefined ? null : UNITS[found.unit].one; } },
];

export const moneyColumn = <Row>(head: string, habits: Habits, of: (row: Row) => Money | null | undefined): ListColumn<Row> => ({
  head, of: (row) => {
    const amount = of(row)?.amount;
    if (amount === undefined) return null;
    const figure = toDecimal(amount);
    return numberCell(figure, Math.max(moneyPlaces(habits.currency), Math.min(figure.decimalPlaces(), MOST_PLACES)));
  },
});

/** What something costs: the figure, what it is for one of, and whether something is missing. */
export const costColumns = <Row>(habits: Habits, of: (row: Row) => NodeCost | null): readonly ListColumn<Row>[] => [
  { head: `Costs, ${habits.currency}`, width: 14, of: (row) => { const cost = of(row); return cost === null ? null : numberCell(perUnitOf(cost, habits).amount, moneyPlaces(habits.currency) + 2); } },
  { head: "for one", width: 10, of: (row) => { const cost = of(row); return cost === null ? null : perUnitOf(cost, habits).unit; } },
  ...missingColumns(of),
];

export const missingColumns = <Row>(of: (row: Row) => NodeCost | null): readonly ListColumn<Row>[] => [
  words("At least", (row) => { const cost = of(row); return cost === null ? null : cost.missing.length > 0 ? "at least" : ""; }, 10),
  words("Missing", (row) => { const cost = of(row); return cost === null || cost.missing.length === 0 ? "" : missingText(cost.missing); }, 30),
];

const KIND_OF: Readonly<Partial<Record<NodeCost["per"], Kind>>> = { g: "mass", mL: "volume", each: "count" };

function perUnitOf({ amount, per }: NodeCost, habits: Habits): { readonly amount: NodeCost["amount"]; readonly unit: string } {
  const kind = KIND_OF[per];
  if (kind === undefined) return { amount, unit: per };
  const unit = customaryUnit(kind, habits);
  return { amount: perUnit(amount, unit), unit: UNITS[unit].one };
}

export const yesNo = (value: boolean): string => (value ? "yes" : "no");
