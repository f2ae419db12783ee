/**
 * A ripple read for people: which dishes cross their target (told first), how every dish that moves stood and stands,
 * what moved on the way (items, cuts, specs, recipes), how many dishes stay as they are, and what it comes to in a
 * usual week. A new menu price or target moves no cost but does move a dish, so those are looked for beside the
 * ripple of costs.
 */
import { kitchenOf } from "@/lib/book";
import type { Cascade, Moved, Ripple } from "@/lib/cascade";
import { Decimal } from "@/lib/measure";
import { type Crossing, type CrossingDirection, crossingOf, sortCrossings } from "./crossings";
import { type DishFigures, dishFigures } from "./figures";
import { type AverageWeek, usualWeek } from "./sales";

/** One dish that moves. `before` is null for a dish that is new, `after` for one that is gone. */
export interface DishMove {
  readonly dishId: string;
  readonly name: string;
  readonly before: DishFigures | null;
  readonly after: DishFigures | null;
  readonly crossing: CrossingDirection | null;
  /** Change of the plate cost, money a plate; null for a new or gone dish, or where what is missing changed and the bounds do not compare. */
  readonly costChange: Decimal | null;
  /** Change of the food-cost ratio ("0.013" is 1.3 points up); null where either is unknown or the bounds do not compare. */
  readonly points: Decimal | null;
  /** Plates sold in a usual week; null when no sales are recorded. */
  readonly soldAWeek: Decimal | null;
  /** Change of the plate cost over a usual week, money, up is dearer; null where either factor is. */
  readonly moneyAWeek: Decimal | null;
}

export interface RippleReport {
  readonly crossings: readonly Crossing[];
  /** Crossing dishes first (over, then back under), then by the size of the change. */
  readonly dishes: readonly DishMove[];
  /** What moved on the way to the dishes, in the order of the chain. */
  readonly stands: {
    readonly items: readonly Moved[];
    readonly cuts: readonly Moved[];
    readonly specs: readonly Moved[];
    readonly recipes: readonly Moved[];
  };
  /** Dishes on the menu afterwards that the change leaves as they were. */
  readonly unmoved: number;
  /** What the dearer (or cheaper, below zero) plates cost in a usual week, money; null when no sales are recorded. */
  readonly moneyAWeek: Decimal | null;
  /** What new menu prices bring in a usual week, net, money, if the guests order as before; null likewise. */
  readonly takingsAWeek: Decimal | null;
  /** The weeks that the usual week is taken from. */
  readonly usualWeek: AverageWeek;
  /** Dishes whose change could not be put in money: new or gone, or with other things missing than before. */
  readonly notInMoney: readonly string[];
}

/** Reads a ripple against the cascades before and after it. */
export function readRipple(before: Cascade, after: Cascade, ripple: Ripple): RippleReport {
  const week = usualWeek(after);
  const dishes: DishMove[] = [];
  const found: Crossing[] = [];
  for (const dishId of dishesTouched(before, after, ripple)) {
    const was = dishFigures(before, dishId);
    const is = dishFigures(after, dishId);
    if (!differs(was, is)) continue;
    const move = moveOf(dishId, was, is, week);
    dishes.push(move);
    if (was && is && move.crossing) found.push({ dishId, name: move.name, direction: move.crossing, before: was, after: is });
  }
  const still = dishes.filter((move) => move.after !== null).length;
  const known = week.weeks > 0;
  return {
    crossings: sortCrossings(found),
    dishes: inTellingOrder(dishes),
    stands: standsOf(ripple),
    unmoved: after.book.shelves.dish.size - still,
    moneyAWeek: known ? total(dishes.map((move) => move.moneyAWeek)) : null,
    takingsAWeek: known ? total(dishes.map(takingsAWeek)) : null,
    usualWeek: week,
    notInMoney: dishes.filter((move) => move.costChange === null).map((move) => move.dishId),
  };
}

/** Every dish whose cost, price, target or tax may have changed. */
function dishesTouched(before: Cascade, after: Cascade, ripple: Ripple): Set<string> {
  const touched = new Set<string>();
  for (const { ref } of ripple.moved) if (ref.kind === "dish") touched.add(ref.id);
  const was = before.book.shelves;
  const is = after.book.shelves;
  if (was.menuPrice !== is.menuPrice) {
    for (const id of new Set([...was.menuPrice.keys(), ...is.menuPrice.keys()])) {
      if (was.menuPrice.get(id) !== is.menuPrice.get(id)) touched.add(id);
    }
  }
  if (was.dish !== is.dish) {
    for (const id of new Set([...was.dish.keys(), ...is.dish.keys()])) {
      if (was.dish.get(id) !== is.dish.get(id)) touched.add(id);
    }
  }
  // The kitchen's own tax, target and margin reach every dish that has none of its own.
  const old = kitchenOf(before.book);
  const now = kitchenOf(after.book);
  if (old.taxRate !== now.taxRate || old.target !== now.target || old.near !== now.near || old.sectionTargets !== now.sectionTargets) {
    for (const id of is.dish.keys()) touched.add(id);
  }
  return touched;
}

function differs(was: DishFigures | null, is: DishFigures | null): boolean {
  if (was === null || is === null) return was !== is;
  return !was.plateCost.amount.eq(is.plateCost.amount)
    || !sameMissing(was, is)
    || !same(was.gross, is.gross)
    || !same(was.net, is.net)
    || !was.target.eq(is.target)
    || was.state !== is.state;
}

function moveOf(dishId: string, was: DishFigures | null, is: DishFigures | null, week: AverageWeek): DishMove {
  const comparable = was !== null && is !== null && sameMissing(was, is);
  const costChange = comparable ? is.plateCost.amount.minus(was.plateCost.amount) : null;
  const soldAWeek = week.weeks > 0 ? week.sold.get(dishId) ?? new Decimal(0) : null;
  return {
    dishId,
    name: (is ?? was)?.name ?? dishId,
    before: was,
    after: is,
    crossing: was && is ? crossingOf(was, is) : null,
    costChange,
    points: comparable && was.foodCost && is.foodCost ? is.foodCost.minus(was.foodCost) : null,
    soldAWeek,
    moneyAWeek: costChange && soldAWeek ? costChange.mul(soldAWeek) : null,
  };
}

function takingsAWeek(move: DishMove): Decimal | null {
  const was = move.before?.net;
  const is = move.after?.net;
  return was && is && move.soldAWeek ? is.minus(was).mul(move.soldAWeek) : null;
}

function total(amounts: readonly (Decimal | null)[]): Decimal {
  return amounts.reduce<Decimal>((sum, amount) => (amount ? sum.plus(amount) : sum), new Decimal(0));
}

/** Crossing over, then back under, then by points moved, then by money a plate, then by name. */
function inTellingOrder(moves: readonly DishMove[]): DishMove[] {
  // How far each moves is worked out before sorting, not at every comparison; the exact figure decides what the quick one cannot.
  const placed = moves.map((move) => {
    const [points, cost] = [move.points?.abs() ?? NONE, move.costChange?.abs() ?? NONE];
    return { move, rank: move.crossing === "over" ? 0 : move.crossing === "back under" ? 1 : 2, points, cost, aboutPoints: points.toNumber(), aboutCost: cost.toNumber() };
  });
  placed.sort((a, b) => a.rank - b.rank
    || b.aboutPoints - a.aboutPoints || b.points.comparedTo(a.points)
    || b.aboutCost - a.aboutCost || b.cost.comparedTo(a.cost)
    || (a.move.name < b.move.name ? -1 : a.move.name > b.move.name ? 1 : 0));
  return placed.map(({ move }) => move);
}

const NONE = new Decimal(0);

function standsOf(ripple: Ripple): RippleReport["stands"] {
  const of = (kind: Moved["ref"]["kind"]): Moved[] => ripple.moved.filter((moved) => moved.ref.kind === kind);
  return { items: of("item"), cuts: of("cut"), specs: of("spec"), recipes: of("recipe") };
}

function same(a: Decimal | null, b: Decimal | null): boolean {
  return a === null || b === null ? a === b : a.eq(b);
}

/** Whether the same leaves are missing, so that one lower bound may be compared with the other. */
function sameMissing(was: DishFigures, is: DishFigures): boolean {
  const names = (figures: DishFigures): string =>
    figures.plateCost.missing.map((missing) => `${missing.what} ${missing.of.kind}:${missing.of.id}`).sort().join("\n");
  return was.plateCost.missing.length === is.plateCost.missing.length && names(was) === names(is);
}
