/**
 * The sales mix: what a usual week sells, and what the menu's food costs as a whole. The weighted (composite)
 * food-cost ratio is Σ n·c / Σ n·p over what was sold (Dittmer & Keefe): it moves with the mix alone. A dish without
 * a menu price has no share in it; a dish whose cost is only a lower bound makes the whole a lower bound; with
 * nothing sold it is undefined, not zero.
 */
import type { SalesWeek } from "@/lib/book";
import type { Cascade } from "@/lib/cascade";
import { Decimal, toDecimal } from "@/lib/measure";
import { type DishFigures, dishFigures } from "./figures";

/** How many weeks a usual week is taken from: a quarter of a year. */
export const USUAL_WEEKS = 12;

export interface AverageWeek {
  /** How many recorded weeks stand behind it; 0 when none. */
  readonly weeks: number;
  /** Monday of the first and of the last week, "2026-08-31"; null when there are none. */
  readonly from: string | null;
  readonly to: string | null;
  /** Plates sold in a week on average, by dish. */
  readonly sold: ReadonlyMap<string, Decimal>;
}

/** The newest recorded weeks that had begun by the day `on`, at most `weeks`, oldest first. */
export function lastWeeks(sales: Iterable<SalesWeek>, on: string, weeks: number = USUAL_WEEKS): SalesWeek[] {
  const begun = [...sales].filter((week) => week.id <= on);
  begun.sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0));
  return begun.slice(Math.max(0, begun.length - weeks));
}

/** Plates a week by dish: the counts of the given weeks over how many weeks there are. A dish not sold in a week counts 0 there. */
export function averageWeek(sales: readonly SalesWeek[]): AverageWeek {
  const totals = new Map<string, Decimal>();
  for (const { dishId, count } of sales.flatMap((week) => week.sold)) {
    totals.set(dishId, (totals.get(dishId) ?? new Decimal(0)).plus(toDecimal(count)));
  }
  const days = sales.map((week) => week.id).sort();
  return {
    weeks: sales.length,
    from: days[0] ?? null,
    to: days.at(-1) ?? null,
    sold: new Map([...totals].map(([dishId, total]) => [dishId, total.div(sales.length)])),
  };
}

/** The usual week of a cascade's own book: its last 12 recorded weeks. */
export function usualWeek(cascade: Cascade, weeks: number = USUAL_WEEKS): AverageWeek {
  return averageWeek(lastWeeks(cascade.book.shelves.sales.values(), cascade.book.on, weeks));
}

/** A dish that was sold but has no place in the weighted figure, or only an uncertain one, and why. */
export interface UncertainSale {
  readonly dishId: string;
  readonly name: string;
  readonly count: Decimal;
  /** "gone": the book has no such dish; "unpriced": left out; "incomplete": counted at its lower bound. */
  readonly why: "gone" | "unpriced" | "incomplete";
}

export interface WeightedFoodCost {
  /** Σ n·c / Σ n·p, a ratio; null when nothing priced was sold. */
  readonly ratio: Decimal | null;
  /** Σ n·τ·p / Σ n·p: what the targets of the dishes sold allow together; null likewise. */
  readonly target: Decimal | null;
  /** True when some plate cost is a lower bound, so that the ratio is one too. */
  readonly atLeast: boolean;
  /** Money over the weeks: Σ n·c of priced dishes, Σ n·p, and what remains. */
  readonly cost: Decimal;
  readonly net: Decimal;
  readonly contribution: Decimal;
  readonly uncertain: readonly UncertainSale[];
}

/** The food cost of everything sold in the given weeks, at the costs and prices of this cascade. */
export function weightedFoodCost(cascade: Cascade, sales: readonly SalesWeek[]): WeightedFoodCost {
  const counts = new Map<string, Decimal>();
  for (const { dishId, count } of sales.flatMap((week) => week.sold)) {
    counts.set(dishId, (counts.get(dishId) ?? new Decimal(0)).plus(toDecimal(count)));
  }
  let cost = new Decimal(0);
  let net = new Decimal(0);
  let allowed = new Decimal(0);
  const uncertain: UncertainSale[] = [];
  for (const [dishId, count] of counts) {
    if (count.isZero()) continue;
    const figures: DishFigures | null = dishFigures(cascade, dishId);
    const why = figures === null ? "gone"
      : figures.net === null || !figures.net.gt(0) ? "unpriced"
      : figures.plateCost.missing.length > 0 || figures.state === "incomplete" ? "incomplete" : null;
    if (why) uncertain.push({ dishId, name: figures?.name ?? dishId, count, why });
    if (figures === null || figures.net === null || why === "unpriced") continue;
    cost = cost.plus(count.mul(figures.plateCost.amount));
    net = net.plus(count.mul(figures.net));
    allowed = allowed.plus(count.mul(figures.net).mul(figures.target));
  }
  return {
    ratio: net.gt(0) ? cost.div(net) : null,
    target: net.gt(0) ? allowed.div(net) : null,
    atLeast: uncertain.some((sale) => sale.why === "incomplete"),
    cost,
    net,
    contribution: net.minus(cost),
    uncertain,
  };
}
