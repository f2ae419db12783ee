/** The ripple of a recorded change, as it was told when it was recorded: the same report, digit for digit. */
import type { BorrowedCut, Missing, Moved, NodeCost, NodeKind } from "@/lib/cascade";
import { Decimal, exact } from "@/lib/measure";
import { type Crossing, type DishFigures, type DishMove, type RippleReport, sortCrossings } from "@/lib/menu";
import { Prisma } from "@/prisma/generated/client";
import { type Reader, readJson } from "./read-revisions";

export interface MissingRow {
  readonly what: Missing["what"];
  readonly kind: NodeKind;
  readonly id: string;
  readonly name: string;
}

export function missingFrom(rows: readonly MissingRow[]): Missing[] {
  return rows.map(({ what, kind, id, name }) => ({ what, of: { kind, id }, name }));
}

/** As stored: null where nothing was borrowed. */
export type BorrowedRows = readonly BorrowedCut[] | null;

/** The report of a change; null when the kitchen has no such change. */
export async function readReport(reader: Reader, kitchenId: string, changeNo: number): Promise<RippleReport | null> {
  const [told] = await readJson<[number, string | null, string | null, number, string | null, string | null]>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(unmoved, money_a_week::text, takings_a_week::text, usual_weeks,
      to_char(usual_from, 'YYYY-MM-DD'), to_char(usual_to, 'YYYY-MM-DD')))::text AS rows
    FROM change WHERE kitchen_id = ${kitchenId} AND no = ${changeNo}`);
  if (!told) return null;
  const [unmoved, money, takings, weeks, from, to] = told;
  const moved = await readMoved(reader, kitchenId, changeNo);
  const of = (kind: NodeKind): Moved[] => moved.filter(({ ref }) => ref.kind === kind);
  const dishes = await readDishes(reader, kitchenId, changeNo);
  return {
    crossings: sortCrossings(dishes.flatMap(crossingFrom)),
    dishes,
    stands: { items: of("item"), cuts: of("cut"), specs: of("spec"), recipes: of("recipe") },
    unmoved,
    moneyAWeek: decimal(money),
    takingsAWeek: decimal(takings),
    // Of the usual week, what was sold of the dishes that moved is kept; of the others nobody asked.
    usualWeek: { weeks, from, to, sold: new Map(dishes.flatMap(({ dishId, soldAWeek }) => (soldAWeek ? [[dishId, soldAWeek]] : []))) },
    notInMoney: dishes.filter((move) => move.costChange === null).map((move) => move.dishId),
  };
}

type CostColumns = [amount: string | null, per: NodeCost["per"] | null, missing: MissingRow[] | null, borrowed: BorrowedRows];

async function readMoved(reader: Reader, kitchenId: string, changeNo: number): Promise<Moved[]> {
  const rows = await readJson<[NodeKind, string, string, CostColumns, CostColumns]>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(node_kind, node_id, name,
      json_build_array(before_amount::text, before_per, before_missing, before_borrowed),
      json_build_array(after_amount::text, after_per, after_missing, after_borrowed)) ORDER BY position)::text AS rows
    FROM ripple WHERE kitchen_id = ${kitchenId} AND change_no = ${changeNo}`);
  return rows.map(([kind, id, name, before, after]) => ({ ref: { kind, id }, name, before: costFrom(before), after: costFrom(after) }));
}

function costFrom([amount, per, missing, borrowed]: CostColumns): NodeCost | null {
  return amount === null || per === null ? null : { amount: new Decimal(amount), per, missing: missingFrom(missing ?? []), borrowed: borrowed ?? [] };
}

type DishRow = [
  position: number, dishId: string, name: string, crossing: DishMove["crossing"], costChange: string | null,
  points: string | null, soldAWeek: string | null, moneyAWeek: string | null,
];

async function readDishes(reader: Reader, kitchenId: string, changeNo: number): Promise<DishMove[]> {
  const figures = await readFigures(reader, kitchenId, changeNo);
  const rows = await readJson<DishRow>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(position, dish_id, name, crossing, cost_change::text, points::text, sold_a_week::text,
      money_a_week::text) ORDER BY position)::text AS rows
    FROM dish_ripple WHERE kitchen_id = ${kitchenId} AND change_no = ${changeNo}`);
  return rows.map(([position, dishId, name, crossing, costChange, points, soldAWeek, moneyAWeek]) => ({
    dishId, name,
    before: figuresFrom(dishId, figures.get(`${position} before`)),
    after: figuresFrom(dishId, figures.get(`${position} after`)),
    crossing, costChange: decimal(costChange), points: decimal(points), soldAWeek: decimal(soldAWeek), moneyAWeek: decimal(moneyAWeek),
  }));
}

interface FiguresRow {
  readonly position: number;
  readonly side: "before" | "after";
  readonly name: string;
  readonly section: string;
  readonly plate: string;
  readonly missing: readonly MissingRow[];
  readonly borrowed: BorrowedRows;
  readonly gross: string | null;
  readonly net: string | null;
  readonly tax: string;
  readonly taxOver: string;
  readonly foodCost: string | null;
  readonly target: string;
  readonly ownTarget: boolean;
  readonly near: string;
  readonly contribution: string | null;
  readonly state: DishFigures["state"];
}

async function readFigures(reader: Reader, kitchenId: string, changeNo: number): Promise<ReadonlyMap<string, FiguresRow>> {
  const rows = await readJson<FiguresRow>(reader, Prisma.sql`
    SELECT json_agg(json_build_object('position', position, 'side', side, 'name', name, 'section', section,
      'plate', plate_amount::text, 'missing', plate_missing, 'borrowed', plate_borrowed, 'gross', gross::text, 'net', net::text,
      'tax', tax_amount::text, 'taxOver', tax_over::text, 'foodCost', food_cost::text, 'target', target::text,
      'ownTarget', own_target, 'near', near::text, 'contribution', contribution::text, 'state', state))::text AS rows
    FROM dish_figures WHERE kitchen_id = ${kitchenId} AND change_no = ${changeNo}`);
  return new Map(rows.map((row) => [`${row.position} ${row.side}`, row]));
}

function figuresFrom(id: string, row: FiguresRow | undefined): DishFigures | null {
  if (!row) return null;
  return {
    id, name: row.name, section: row.section,
    plateCost: { amount: new Decimal(row.plate), per: "plate", missing: missingFrom(row.missing), borrowed: row.borrowed ?? [] },
    gross: decimal(row.gross), net: decimal(row.net),
    taxRate: exact(row.taxOver === "1" ? row.tax : `${row.tax}/${row.taxOver}`),
    foodCost: decimal(row.foodCost), target: new Decimal(row.target), ownTarget: row.ownTarget, near: new Decimal(row.near),
    contribution: decimal(row.contribution), state: row.state,
  };
}

function crossingFrom({ dishId, name, crossing, before, after }: DishMove): Crossing[] {
  return crossing && before && after ? [{ dishId, name, direction: crossing, before, after }] : [];
}

function decimal(digits: string | null): Decimal | null {
  return digits === null ? null : new Decimal(digits);
}
