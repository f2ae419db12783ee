/**
 * The menu in the order in which it wants looking at: over target, near it, under it, not wholly known, without a price;
 * within each the dish farthest over its target first, then by name.
 */
import type { Cascade } from "@/lib/cascade";
import { type DishFigures, menuFigures } from "./figures";
import type { DishState } from "./state";

const WORST_FIRST: readonly DishState[] = ["over", "near", "under", "incomplete", "unpriced"];

/** As in menuFigures: worked out once for all who look at the same cascade. */
const known = new WeakMap<Cascade, readonly DishFigures[]>();

export function worstFirst(cascade: Cascade): readonly DishFigures[] {
  let dishes = known.get(cascade);
  if (dishes === undefined) known.set(cascade, dishes = inOrder(menuFigures(cascade)));
  return dishes;
}

function inOrder(figures: readonly DishFigures[]): readonly DishFigures[] {
  // How far each stands off is worked out before sorting, not at every comparison; the exact figure decides what the quick one cannot.
  const placed = figures.map((dish) => {
    const off = dish.foodCost?.minus(dish.target) ?? null;
    return { dish, place: WORST_FIRST.indexOf(dish.state), off, about: off?.toNumber() ?? Number.NEGATIVE_INFINITY };
  });
  placed.sort((a, b) => {
    if (a.place !== b.place) return a.place - b.place;
    if (a.about !== b.about) return a.about > b.about ? -1 : 1;
    if (a.off !== null && b.off !== null && !a.off.eq(b.off)) return b.off.comparedTo(a.off);
    return a.dish.name < b.dish.name ? -1 : a.dish.name > b.dish.name ? 1 : 0;
  });
  return placed.map(({ dish }) => dish);
}
