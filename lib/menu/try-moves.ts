/**
 * A try-out laid over a costed book: which moves stand, what they do to every dish, and what the whole menu's food costs
 * before and after. The figures come from the same cascade and the same ripple as those of a recorded change.
 */
import { type LaidMoves, type Move, changesOf } from "@/lib/book";
import { type Cascade, belowNothing, tryOut } from "@/lib/cascade";
import type { Decimal, Problem } from "@/lib/measure";
import { type DishMove, type RippleReport, readRipple } from "./ripple";
import { type WeightedFoodCost, lastWeeks, weightedAfterwards, weightedFoodCost } from "./sales";

export interface TriedMoves {
  readonly laid: LaidMoves;
  /** What is wrong with all of it together, so that there are no figures of it; [] when all is well. */
  readonly problems: readonly Problem[];
  /** null where there are problems. */
  readonly report: RippleReport | null;
  /** The food cost of the whole menu by the sales of the last weeks, as it is and as it would be. */
  readonly menu: { readonly before: WeightedFoodCost; readonly after: WeightedFoodCost | null };
}

/** What a dish leaves over more in a usual week, money, below zero for less: n·(Δp − Δc), n plates a week. null where a cost or the sales are not known. */
export function leftAWeek({ before, after, costChange, soldAWeek }: DishMove): Decimal | null {
  if (costChange === null || soldAWeek === null) return null;
  const price = before?.net && after?.net ? after.net.minus(before.net) : null;
  return (price === null ? costChange.neg() : price.minus(costChange)).mul(soldAWeek);
}

/** The menu as it is, worked out once for each cascade. */
const known = new WeakMap<Cascade, WeightedFoodCost>();

export function tryMoves(cascade: Cascade, moves: readonly Move[]): TriedMoves {
  const laid = changesOf(cascade.book, moves);
  const before = wholeMenu(cascade);
  const tried = tryOut(cascade, laid.changes);
  if (!tried.ok) return { laid, problems: tried.problems, report: null, menu: { before, after: null } };
  const { after, ripple } = tried.value;
  const nonsense = belowNothing(ripple);
  if (nonsense.length > 0) return { laid, problems: nonsense, report: null, menu: { before, after: null } };
  const report = readRipple(cascade, after, ripple);
  // Other sales make another whole; of the same ones only the dishes that move make a difference.
  const sold = weeksOf(after);
  const sameSales = after.book.shelves.sales === cascade.book.shelves.sales;
  return { laid, problems: [], report, menu: { before, after: sameSales ? weightedAfterwards(before, sold, report.dishes) : weightedFoodCost(after, sold) } };
}

function wholeMenu(cascade: Cascade): WeightedFoodCost {
  let menu = known.get(cascade);
  if (menu === undefined) known.set(cascade, (menu = weightedFoodCost(cascade, weeksOf(cascade))));
  return menu;
}

function weeksOf(cascade: Cascade): ReturnType<typeof lastWeeks> {
  return lastWeeks(cascade.book.shelves.sales.values(), cascade.book.on);
}
