/**
 * Dishes that cross their target, in either direction: the first thing a change has to tell. A dish crosses over when
 * it was not over and now is (also when it was incomplete and even the lower bound is now over), and comes back under when it was
 * over and is now known to be at or under its target. A dish that turns from over to incomplete or unpriced has not
 * come back: nobody can say.
 */
import type { Cascade } from "@/lib/cascade";
import { type DishFigures, dishFigures } from "./figures";

export type CrossingDirection = "over" | "back under";

export interface Crossing {
  readonly dishId: string;
  readonly name: string;
  readonly direction: CrossingDirection;
  readonly before: DishFigures;
  readonly after: DishFigures;
}

/** How one dish crosses its target between two sets of figures; null when it does not. */
export function crossingOf(before: DishFigures, after: DishFigures): CrossingDirection | null {
  if (before.state !== "over" && after.state === "over") return "over";
  if (before.state === "over" && (after.state === "under" || after.state === "near")) return "back under";
  return null;
}

/**
 * Every dish on both menus that crosses its target, those that go over first, each group by how far it moved.
 * `dishIds` limits the search to dishes that may have moved; without it the whole menu is looked at.
 */
export function crossings(before: Cascade, after: Cascade, dishIds?: Iterable<string>): Crossing[] {
  const found: Crossing[] = [];
  for (const dishId of dishIds ?? before.book.shelves.dish.keys()) {
    const was = dishFigures(before, dishId);
    const is = was && dishFigures(after, dishId);
    const direction = was && is ? crossingOf(was, is) : null;
    if (was && is && direction) found.push({ dishId, name: is.name, direction, before: was, after: is });
  }
  return sortCrossings(found);
}

/** Over before back under; within each, the greatest move of the food cost first, then by name. */
export function sortCrossings(found: Crossing[]): Crossing[] {
  return found.sort((a, b) =>
    Number(a.direction === "back under") - Number(b.direction === "back under")
    || moveOf(b).comparedTo(moveOf(a))
    || (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
}

function moveOf(crossing: Crossing) {
  const was = crossing.before.foodCost ?? crossing.before.target;
  return (crossing.after.foodCost ?? crossing.after.target).minus(was).abs();
}
