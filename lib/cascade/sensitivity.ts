/**
 * How a plate moves with a price, exactly: every cost is linear in every price, so ∂(plate cost)/∂(price) is a constant,
 * found for all prices at once by walking from the dish down to what is bought (the reverse sweep of algorithmic
 * differentiation), and the price at which a dish costs a given amount is where a line meets it. The other way round,
 * one price and every dish above it, is a forward sweep over the engine's own columns.
 */
import { type Decimal, type Ratio, ratio } from "@/lib/measure";
import type { Cascade } from "./cascade";
import { costOf } from "./cost";
import { ratioOf } from "./decimal-60";
import { DirtySet } from "./dirty-set";
import { CARRIED_DIGITS, type DoubleDouble, decimalOf, doubleDouble } from "./double-double";
import { costRows, keyOf, rowsBelow } from "./exact";
import { fractions } from "./fractions";
import type { NodeRef } from "./node";
import { DISH } from "./node-index";

/** d(plate cost)/d(price), the price being money per base unit (g, mL, each) of the item; items it does not rest on are left out. */
export function priceSensitivity(cascade: Cascade, dishId: string): ReadonlyMap<string, Decimal> {
  return new Map([...sensitivityExactly(cascade, dishId)].map(([item, slope]) => [item, ratio.toDecimal(slope)]));
}

function sensitivityExactly(cascade: Cascade, dishId: string): ReadonlyMap<string, Ratio> {
  return walkedDown(cascade, dishId)?.slopes ?? new Map<string, Ratio>();
}

/** A dish in fractions: every cost below it by `keyOf`, and how it moves with each price. */
interface Walked {
  readonly dishId: string;
  readonly costs: ReadonlyMap<string, Ratio>;
  readonly slopes: ReadonlyMap<string, Ratio>;
}

/** Slopes and break-evens of one dish are asked for one after the other; the walk down it is what takes time, so the last is kept. */
const lastWalk = new WeakMap<Cascade, Walked>();

/** null: the book has no such dish. */
function walkedDown(cascade: Cascade, dishId: string): Walked | null {
  const last = lastWalk.get(cascade);
  if (last?.dishId === dishId) return last;
  if (!cascade.book.shelves.dish.has(dishId)) return null;
  const ref = { kind: "dish", id: dishId } as const;
  const rows = rowsBelow(cascade, [ref]);
  const slopes = new Map<string, Ratio>();
  const weight = new Map<string, Ratio>([[keyOf(ref), ratio.ONE]]);
  for (let at = rows.length - 1; at >= 0; at -= 1) {
    const row = rows[at];
    const own = row && weight.get(keyOf(row.ref));
    if (!row || !own || ratio.sign(own) === 0) continue;
    // A by-product that takes the place of something bought has no price of its own: it moves with that one's.
    if (row.ref.kind === "item" && cascade.book.shelves.item.get(row.ref.id)?.transfer?.price.kind !== "item") slopes.set(row.ref.id, own);
    for (const line of row.lines) {
      const key = keyOf(line.of);
      weight.set(key, ratio.add(weight.get(key) ?? ratio.ZERO, ratio.mul(own, line.coefficient)));
    }
  }
  const walked = { dishId, costs: costRows(fractions, rows), slopes };
  lastWalk.set(cascade, walked);
  return walked;
}

/**
 * For every dish that rests on an item: how its plate cost moves with the item's price (money per its base unit), to the
 * digits the engine carries. In the order of costing.
 */
export function dishesPerPrice(cascade: Cascade, itemId: string): ReadonlyMap<string, Decimal> {
  const slopes = new Map<string, Decimal>();
  const item = cascade.book.shelves.item.has(itemId) ? cascade.numberOf({ kind: "item", id: itemId }) : -1;
  if (item < 0) return slopes;
  cascade.becomeRoot();
  const { graph, figures } = cascade.engine;
  const above = new DirtySet(graph.rows);
  const slopeAt = new Map<number, DoubleDouble>([[graph.rowOf[item] as number, doubleDouble.fromRatio(1n, 1n)]]);
  for (const user of graph.usersOf(graph.rowOf[item] as number)) above.add(user);
  for (let row = above.takeLowest(); row >= 0; row = above.takeLowest()) {
    const slope = slopeOf(row);
    if (slope === null) continue;
    slopeAt.set(row, slope);
    for (const user of graph.usersOf(row)) above.add(user);
    const node = graph.nodeAt[row] as number;
    if (graph.index.kinds[node] === DISH) slopes.set(graph.index.ids[node] as string, decimalOf(slope.hi, slope.lo).toSignificantDigits(CARRIED_DIGITS));
  }
  return slopes;

  /** null: no line of the row reaches the item. */
  function slopeOf(row: number): DoubleDouble | null {
    let sum: DoubleDouble | null = null;
    const stop = figures.lineStop[row] as number;
    for (let k = figures.lineStart[row] as number; k < stop; k += 1) {
      const below = slopeAt.get(figures.source[k] as number);
      if (below === undefined || figures.coefficientHi[k] === 0) continue;
      const coefficient = { hi: figures.coefficientHi[k] as number, lo: figures.coefficientLo[k] as number };
      sum = doubleDouble.multiplyAdd(sum ?? doubleDouble.zero, coefficient, below);
    }
    return sum && doubleDouble.settle(sum);
  }
}

/**
 * The price of an item, money per its base unit, at which a plate of the dish costs `affordable`, all other prices held:
 * P* = P + (affordable − c)/(∂c/∂P). Below zero when the plate costs more even with the item for nothing. null when the
 * dish does not rest on the item, or when anything else about the dish is not known.
 */
export function breakEvenPrice(cascade: Cascade, dishId: string, itemId: string, affordable: Decimal): Decimal | null {
  return breakEvenPrices(cascade, dishId, affordable).get(itemId) ?? null;
}

/** The break-even price of every item that a dish rests on, each as `breakEvenPrice` tells it, from one walk down the dish. */
export function breakEvenPrices(cascade: Cascade, dishId: string, affordable: Decimal): ReadonlyMap<string, Decimal> {
  const prices = new Map<string, Decimal>();
  const ref = { kind: "dish", id: dishId } as const;
  const cost = costOf(cascade, ref);
  const walked = walkedDown(cascade, dishId);
  if (cost === null || walked === null) return prices;
  const costExactly = (of: NodeRef): Ratio => walked.costs.get(keyOf(of)) ?? ratio.ZERO;
  const room = ratio.sub(ratioOf(affordable), costExactly(ref));
  for (const [itemId, slope] of walked.slopes) {
    if (ratio.sign(slope) === 0 || cost.missing.some((leaf) => leaf.what !== "price" || leaf.of.kind !== "item" || leaf.of.id !== itemId)) continue;
    prices.set(itemId, ratio.toDecimal(ratio.add(costExactly({ kind: "item", id: itemId }), ratio.div(room, slope))));
  }
  return prices;
}
