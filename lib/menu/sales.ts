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
  let sums = NO_SUMS;
  const uncertain: UncertainSale[] = [];
  for (const [dishId, count] of soldIn(sales)) {
    if (count.isZero()) continue;
    const sale = saleOf(dishId, dishFigures(cascade, dishId), count);
    if (sale.uncertain !== null) uncertain.push(sale.uncertain);
    sums = { cost: sums.cost.plus(sale.cost), net: sums.net.plus(sale.net), allowed: sums.allowed.plus(sale.allowed) };
  }
  return wholeOf(sums, uncertain);
}

/** A dish as it was and as it is. */
export interface MovedDish {
  readonly dishId: string;
  readonly before: DishFigures | null;
  readonly after: DishFigures | null;
}

/** The food cost of the same sales after some dishes have moved: what they came to is taken out, what they come to is put in. */
export function weightedAfterwards(before: WeightedFoodCost, sales: readonly SalesWeek[], moved: readonly MovedDish[]): WeightedFoodCost {
  const counts = soldIn(sales);
  let sums = exactly.get(before);
  if (sums === undefined) throw new Error("expected the food cost before to be one that was added up here");
  const touched = new Set(moved.map(({ dishId }) => dishId));
  const uncertain = before.uncertain.filter(({ dishId }) => !touched.has(dishId));
  for (const dish of moved) {
    const count = counts.get(dish.dishId);
    if (count === undefined || count.isZero()) continue;
    const [was, is] = [saleOf(dish.dishId, dish.before, count), saleOf(dish.dishId, dish.after, count)];
    sums = { cost: sums.cost.plus(is.cost).minus(was.cost), net: sums.net.plus(is.net).minus(was.net), allowed: sums.allowed.plus(is.allowed).minus(was.allowed) };
    if (is.uncertain !== null) uncertain.push(is.uncertain);
  }
  return wholeOf(sums, uncertain);
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

/** What so many plates of a dish bring into the whole; nothing of one without a menu price. */
function saleOf(dishId: string, figures: DishFigures | null, count: Decimal): Sale {
  const why: UncertainSale["why"] | null = figures === null ? "gone"
    : figures.net === null || !figures.net.gt(0) ? "unpriced"
    : figures.plateCost.missing.length > 0 || figures.state === "incomplete" ? "incomplete" : null;
  const uncertain: UncertainSale | null = why === null ? null : { dishId, name: figures?.name ?? dishId, count, why };
  if (figures === null || figures.net === null || why === "unpriced") return { cost: NOTHING, net: NOTHING, allowed: NOTHING, uncertain };
  const net = count.mul(figures.net);
  return { cost: count.mul(figures.plateCost.amount), net, allowed: net.mul(figures.target), uncertain };
}

/**
 * Sums are taken with room for every digit of every term: with the usual digits, one dish taken out and another put in left a
 * trace of rounding, and a menu that costs nothing came to -0.0 %.
 */
const Roomy = Decimal.clone({ precision: 250 });

interface Sums {
  readonly cost: Decimal;
  readonly net: Decimal;
  readonly allowed: Decimal;
}

const NO_SUMS: Sums = { cost: new Roomy(0), net: new Roomy(0), allowed: new Roomy(0) };

/** The sums that a whole was made of. */
const exactly = new WeakMap<WeightedFoodCost, Sums>();

function wholeOf(sums: Sums, uncertain: readonly UncertainSale[]): WeightedFoodCost {
  const [cost, net, allowed] = [rounded(sums.cost), rounded(sums.net), rounded(sums.allowed)];
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
  exactly.set(whole, sums);
  return whole;
}

/** To the usual digits, once. */
function rounded(sum: Decimal): Decimal {
  return new Decimal(sum).plus(0);
}
