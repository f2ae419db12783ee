/**
 * The sales mix: what a usual week sells, and what the menu's food costs as a whole. The weighted (composite)
 * food-cost ratio is Σ n·c / Σ n·p over what was sold (Dittmer & Keefe): it moves with the mix alone. A dish without
 * a menu price has no share in it; a dish whose cost is only a lower bound makes the whole a lower bound; with
 * nothing sold it is undefined, not zero.
 */
import type { SalesWeek, Shelf } from "@/lib/book";
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

/** Most changes leave the sales alone: what they come to is added up once for each state of their shelf. */
const usual = new WeakMap<Shelf<SalesWeek>, Map<string, AverageWeek>>();

/** The usual week of a cascade's own book: its last 12 recorded weeks. */
export function usualWeek(cascade: Cascade, weeks: number = USUAL_WEEKS): AverageWeek {
  const { on, shelves: { sales } } = cascade.book;
  const known = usual.get(sales) ?? new Map<string, AverageWeek>();
  usual.set(sales, known);
  const asked = `${on} ${weeks}`;
  let week = known.get(asked);
  if (week === undefined) known.set(asked, (week = averageWeek(lastWeeks(sales.values(), on, weeks))));
  return week;
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
  /** Σ n·τ·p, money: what the targets allow the food to cost. */
  readonly allowed: Decimal;
  readonly uncertain: readonly UncertainSale[];
}

/** The food cost of everything sold in the given weeks, at the costs and prices of this cascade. */
export function weightedFoodCost(cascade: Cascade, sales: readonly SalesWeek[]): WeightedFoodCost {
  return wholeOf(new Map([...soldIn(sales)].map(([dishId, count]) => [dishId, saleOf(dishId, count.isZero() ? null : dishFigures(cascade, dishId), count)])));
}

/** A dish as it was and as it is. */
export interface MovedDish {
  readonly dishId: string;
  readonly before: DishFigures | null;
  readonly after: DishFigures | null;
}

/** What each dish brought into a whole, to make another whole of when some of them move. */
const parts = new WeakMap<WeightedFoodCost, ReadonlyMap<string, Sale>>();

/**
 * The food cost of the same sales after some dishes have moved. Every dish is added up anew, in the same order: a sum from
 * which one is taken out and another put in keeps a trace of rounding, and would differ from the whole in its last digits.
 */
export function weightedAfterwards(before: WeightedFoodCost, sales: readonly SalesWeek[], moved: readonly MovedDish[]): WeightedFoodCost {
  const known = parts.get(before);
  if (known === undefined) throw new Error("expected the food cost before to be one that was added up here");
  const after = new Map(moved.map((dish) => [dish.dishId, dish.after]));
  return wholeOf(new Map([...soldIn(sales)].map(([dishId, count]): [string, Sale] => {
    const is = after.get(dishId);
    const stays = known.get(dishId);
    return [dishId, is === undefined && stays !== undefined ? stays : saleOf(dishId, is ?? null, count)];
  })));
}

/** How many were sold of each dish, added up once for each list of weeks. */
const added = new WeakMap<SalesWeek, { readonly weeks: readonly SalesWeek[]; readonly counts: ReadonlyMap<string, Decimal> }>();

function soldIn(sales: readonly SalesWeek[]): ReadonlyMap<string, Decimal> {
  const last = sales.at(-1);
  const known = last === undefined ? undefined : added.get(last);
  if (known !== undefined && known.weeks.length === sales.length && known.weeks.every((week, at) => week === sales[at])) return known.counts;
  const counts = new Map<string, Decimal>();
  for (const { dishId, count } of sales.flatMap((week) => week.sold)) counts.set(dishId, (counts.get(dishId) ?? new Decimal(0)).plus(toDecimal(count)));
  if (last !== undefined) added.set(last, { weeks: sales, counts });
  return counts;
}

interface Sale {
  readonly cost: Decimal;
  readonly net: Decimal;
  readonly allowed: Decimal;
  readonly uncertain: UncertainSale | null;
}

const NOTHING = new Decimal(0);

/** What so many plates of a dish bring into the whole; nothing of one without a menu price, or of none. */
function saleOf(dishId: string, figures: DishFigures | null, count: Decimal): Sale {
  if (count.isZero()) return { cost: NOTHING, net: NOTHING, allowed: NOTHING, uncertain: null };
  const why: UncertainSale["why"] | null = figures === null ? "gone"
    : figures.net === null || !figures.net.gt(0) ? "unpriced"
    : figures.plateCost.missing.length > 0 || figures.state === "incomplete" ? "incomplete" : null;
  const uncertain: UncertainSale | null = why === null ? null : { dishId, name: figures?.name ?? dishId, count, why };
  if (figures === null || figures.net === null || why === "unpriced") return { cost: NOTHING, net: NOTHING, allowed: NOTHING, uncertain };
  const net = count.mul(figures.net);
  return { cost: count.mul(figures.plateCost.amount), net, allowed: net.mul(figures.target), uncertain };
}

function wholeOf(sold: ReadonlyMap<string, Sale>): WeightedFoodCost {
  let [cost, net, allowed] = [NOTHING, NOTHING, NOTHING];
  const uncertain: UncertainSale[] = [];
  for (const sale of sold.values()) {
    cost = cost.plus(sale.cost);
    net = net.plus(sale.net);
    allowed = allowed.plus(sale.allowed);
    if (sale.uncertain !== null) uncertain.push(sale.uncertain);
  }
  const whole: WeightedFoodCost = {
    ratio: net.gt(0) ? cost.div(net) : null,
    target: net.gt(0) ? allowed.div(net) : null,
    atLeast: uncertain.some((sale) => sale.why === "incomplete"),
    cost,
    net,
    allowed,
    contribution: net.minus(cost),
    uncertain,
  };
  parts.set(whole, sold);
  return whole;
}
