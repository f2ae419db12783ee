/**
 * How a plate moves with a price, exactly: every cost is linear in every price, so ∂(plate cost)/∂(price) is a constant,
 * found for all prices at once by walking from the dish down to what is bought (the reverse sweep of algorithmic
 * differentiation), and the price at which a dish costs a given amount is where a line meets it.
 */
import { type Decimal, type Ratio, exact, ratio } from "@/lib/measure";
import type { Cascade } from "./cascade";
import { costOf } from "./cost";
import { costExactly, keyOf, rowsBelow } from "./exact";

/** d(plate cost)/d(price), the price being money per base unit (g, mL, each) of the item; items it does not rest on are left out. */
export function priceSensitivity(cascade: Cascade, dishId: string): ReadonlyMap<string, Decimal> {
  return new Map([...sensitivityExactly(cascade, dishId)].map(([item, slope]) => [item, ratio.toDecimal(slope)]));
}

function sensitivityExactly(cascade: Cascade, dishId: string): ReadonlyMap<string, Ratio> {
  const slopes = new Map<string, Ratio>();
  const ref = { kind: "dish", id: dishId } as const;
  if (!cascade.book.shelves.dish.has(dishId)) return slopes;
  const weight = new Map<string, Ratio>([[keyOf(ref), ratio.ONE]]);
  const rows = rowsBelow(cascade, ref);
  for (let at = rows.length - 1; at >= 0; at -= 1) {
    const row = rows[at];
    const own = row && weight.get(keyOf(row.ref));
    if (!row || !own || ratio.sign(own) === 0) continue;
    if (row.ref.kind === "item") slopes.set(row.ref.id, own);
    for (const line of row.lines) {
      const key = keyOf(line.of);
      weight.set(key, ratio.add(weight.get(key) ?? ratio.ZERO, ratio.mul(own, line.coefficient)));
    }
  }
  return slopes;
}

/** For every dish that rests on an item: how its plate cost moves with the item's price. In the order of the dish shelf. */
export function dishesPerPrice(cascade: Cascade, itemId: string): ReadonlyMap<string, Decimal> {
  const slopes = new Map<string, Decimal>();
  for (const id of cascade.book.shelves.dish.keys()) {
    if (!restsOn(cascade, id, itemId)) continue;
    const slope = sensitivityExactly(cascade, id).get(itemId);
    if (slope !== undefined) slopes.set(id, ratio.toDecimal(slope));
  }
  return slopes;
}

/** The dishes above an item, found once for an item by walking the graph upwards. */
function restsOn(cascade: Cascade, dishId: string, itemId: string): boolean {
  const { graph } = cascade.engine;
  let above = reached.get(cascade);
  if (above?.itemId !== itemId) {
    const rows = new Set<number>();
    const first = cascade.numberOf({ kind: "item", id: itemId });
    const waiting = first < 0 ? [] : [graph.rowOf[first] as number];
    for (let row = waiting.pop(); row !== undefined; row = waiting.pop()) {
      if (rows.has(row)) continue;
      rows.add(row);
      waiting.push(...graph.usersOf(row));
    }
    above = { itemId, rows };
    reached.set(cascade, above);
  }
  const dish = cascade.numberOf({ kind: "dish", id: dishId });
  return dish >= 0 && above.rows.has(graph.rowOf[dish] as number);
}

const reached = new WeakMap<Cascade, { readonly itemId: string; readonly rows: ReadonlySet<number> }>();

/**
 * The price of an item, money per its base unit, at which a plate of the dish costs `affordable`, all other prices held:
 * P* = P + (affordable − c)/(∂c/∂P). Below zero when the plate costs more even with the item for nothing. null when the
 * dish does not rest on the item, or when anything else about the dish is not known.
 */
export function breakEvenPrice(cascade: Cascade, dishId: string, itemId: string, affordable: Decimal): Decimal | null {
  const ref = { kind: "dish", id: dishId } as const;
  const cost = costOf(cascade, ref);
  const slope = cost === null ? undefined : sensitivityExactly(cascade, dishId).get(itemId);
  if (cost === null || slope === undefined || ratio.sign(slope) === 0) return null;
  if (cost.missing.some((leaf) => leaf.what !== "price" || leaf.of.kind !== "item" || leaf.of.id !== itemId)) return null;
  const price = costExactly(cascade, { kind: "item", id: itemId });
  const room = ratio.sub(ratio.fromExact(exact(affordable.toFixed())), costExactly(cascade, ref));
  return ratio.toDecimal(ratio.add(price, ratio.div(room, slope)));
}
