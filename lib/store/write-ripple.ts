/**
 * The ripple, recorded with the change that caused it: what moved on the way (items, cuts, specs, recipes), how every
 * dish that moved stood and stands, and a point in the history of every cost that moved. It is written as it was told
 * and read back to the digit (read-ripple.ts); the costs themselves are always computed anew from the facts.
 */
import type { BorrowedCut, Missing, NodeCost, Ripple } from "@/lib/cascade";
import type { Decimal } from "@/lib/measure";
import type { DishFigures, RippleReport } from "@/lib/menu";
import { exactRow } from "./tables/figures";
import { type RowSink, writeRows } from "./write-rows";

interface ChangeWithRipple {
  readonly kitchenId: string;
  readonly changeNo: number;
  readonly ripple: Ripple;
  readonly report: RippleReport;
}

export async function writeRipple(tx: RowSink, change: ChangeWithRipple): Promise<void> {
  const { kitchenId, changeNo, ripple, report } = change;
  const { items, cuts, specs, recipes } = report.stands;
  await writeRows(tx, "ripple", [...items, ...cuts, ...specs, ...recipes].map((moved, position) => ({
    kitchen_id: kitchenId, change_no: changeNo, position, node_kind: moved.ref.kind, node_id: moved.ref.id, name: moved.name,
    before_amount: digits(moved.before?.amount), before_per: moved.before?.per ?? null, before_missing: moved.before ? missingRows(moved.before.missing) : null,
    before_borrowed: borrowedRows(moved.before?.borrowed),
    after_amount: digits(moved.after?.amount), after_per: moved.after?.per ?? null, after_missing: moved.after ? missingRows(moved.after.missing) : null,
    after_borrowed: borrowedRows(moved.after?.borrowed),
  })));
  await writeRows(tx, "dish_ripple", report.dishes.map((move, position) => ({
    kitchen_id: kitchenId, change_no: changeNo, position, dish_id: move.dishId, name: move.name, crossing: move.crossing,
    cost_change: digits(move.costChange), points: digits(move.points), sold_a_week: digits(move.soldAWeek), money_a_week: digits(move.moneyAWeek),
  })));
  await writeRows(tx, "dish_figures", report.dishes.flatMap((move, position) => (["before", "after"] as const).flatMap((side) => {
    const figures = move[side];
    return figures ? [{ kitchen_id: kitchenId, change_no: changeNo, position, side, ...figuresRow(figures) }] : [];
  })));
  await writeRows(tx, "cost_point", ripple.moved.flatMap(({ ref, before, after }) => {
    const told: NodeCost | null = after ?? before;
    return told ? [{
      kitchen_id: kitchenId, node_kind: ref.kind, node_id: ref.id, change_no: changeNo, amount: digits(after?.amount),
      per: told.per, missing: missingRows(after?.missing ?? []), borrowed: borrowedRows(after?.borrowed),
    }] : [];
  }));
}

function figuresRow(figures: DishFigures) {
  return {
    name: figures.name, section: figures.section,
    plate_amount: figures.plateCost.amount.toFixed(), plate_missing: missingRows(figures.plateCost.missing), plate_borrowed: borrowedRows(figures.plateCost.borrowed),
    gross: digits(figures.gross), net: digits(figures.net), ...exactRow("tax", figures.taxRate),
    food_cost: digits(figures.foodCost), target: figures.target.toFixed(), own_target: figures.ownTarget,
    near: figures.near.toFixed(), contribution: digits(figures.contribution), state: figures.state,
  };
}

/** All digits of an amount, without an exponent. */
function digits(amount: Decimal | null | undefined): string | null {
  return amount ? amount.toFixed() : null;
}

function missingRows(missing: readonly Missing[]): readonly object[] {
  return missing.map(({ what, of, name }) => ({ what, kind: of.kind, id: of.id, name }));
}

/** Most costs rest on the kitchen's own tests, and their rows say nothing of it. */
function borrowedRows(borrowed: readonly BorrowedCut[] | undefined): readonly object[] | null {
  return borrowed === undefined || borrowed.length === 0 ? null : borrowed;
}
