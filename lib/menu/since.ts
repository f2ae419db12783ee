/**
 * What moved the menu's food cost between two days, split by what caused it: prices, yields, portions, recipes, menu
 * prices, and the mix that was sold. One cause alone has no share of its own, since a dearer loin counts for more where
 * the portion is larger; so each cause is given what it adds on average over every order in which the causes could
 * have come (the Shapley value), and the parts add up to the whole move exactly. Between the days stand books in which
 * some causes have come and others not; what is new to the book is in all of them, for until something takes it, or it
 * is sold, it moves nothing.
 */
import { type Book, type Change, FACT_KINDS, type FactKind, type SalesWeek, factKey } from "@/lib/book";
import { type Cascade, advance, tryOut } from "@/lib/cascade";
import { type Checked, Decimal, good } from "@/lib/measure";
import { type WeightedFoodCost, weightedFoodCost } from "./sales";

export const CAUSES = ["price", "yield", "portion", "recipe", "menu price", "mix"] as const;
export type Cause = (typeof CAUSES)[number];

/** What a change of each kind of fact is; dealers' names and invoices move nothing. */
const CAUSE_OF: Readonly<Record<FactKind, Cause | null>> = {
  kitchen: "menu price", dealer: null, item: "price", quote: "price", delivery: null, test: "yield", cut: "yield", spec: "portion", recipe: "recipe", dish: "recipe", menuPrice: "menu price", sales: "mix",
};

/** A book compiled, and the weeks whose sales weigh its dishes. */
export interface MenuThen {
  readonly cascade: Cascade;
  readonly weeks: readonly SalesWeek[];
}

export interface Since {
  readonly then: WeightedFoodCost;
  readonly now: WeightedFoodCost;
  /** now − then of the food-cost ratio; null where either is undefined. */
  readonly points: Decimal | null;
  /** What each cause added to the ratio, in the order of CAUSES; together they are `points`. Causes without a change are left out. */
  readonly parts: readonly { readonly cause: Cause; readonly points: Decimal; readonly facts: number }[];
}

/** Everything that differs between two books of one kitchen: what each fact of the older becomes in the newer. Recorded facts are told apart by their revision. */
export function changesBetween(then: Book, now: Book): readonly Change[] {
  return FACT_KINDS.flatMap((kind) => {
    const was = then.shelves[kind];
    const is = now.shelves[kind];
    const differs = (id: string): boolean => {
      if (was.get(id) === is.get(id)) return false;
      const key = factKey(kind, id);
      const revision = now.provenance.get(key)?.revision;
      return revision === undefined || then.provenance.get(key)?.revision !== revision;
    };
    return [...new Set([...was.keys(), ...is.keys()])].filter(differs).map((id) => ({ kind, id, after: is.get(id) ?? null }) as Change);
  });
}

/** The cause of a change; null for one that moves no figure. A dish that is gone is a matter of the mix. */
export function causeOf(change: Change): Cause | null {
  return change.kind === "dish" && change.after === null ? "mix" : CAUSE_OF[change.kind];
}

/** Splits the move of the menu's food cost between two days. Fails where a book between them could not be costed, which happens when what was recorded since contradicts itself. */
export function since(then: MenuThen, now: MenuThen): Checked<Since> {
  const old = then.cascade.book.shelves;
  const isNew = (change: Change): boolean => change.after !== null && !(change.kind === "menuPrice" ? old.dish.has(change.id) : old[change.kind].has(change.id));
  const all = changesBetween(then.cascade.book, now.cascade.book);
  const fresh = all.filter((change) => change.kind !== "sales" && isNew(change));
  const moved = new Map<Cause, Change[]>();
  for (const change of all) {
    const cause = causeOf(change);
    // What nothing takes any more stays where it was: it moves nothing, and books in between may still take it.
    const stays = change.after === null && change.kind !== "dish" && change.kind !== "menuPrice";
    if (cause === null || change.kind === "sales" || stays || isNew(change)) continue;
    const own = moved.get(cause);
    if (own === undefined) moved.set(cause, [change]);
    else own.push(change);
  }
  const mixMoved = !sameWeeks(then.weeks, now.weeks);
  const causes = CAUSES.filter((cause) => moved.has(cause) || (cause === "mix" && mixMoved));

  const base = advance(then.cascade, fresh);
  if (!base.ok) return base;
  const worth: (Decimal | null)[] = [];
  for (let set = 0; set < 1 << causes.length; set += 1) {
    const laid = causes.filter((_, at) => (set >> at) % 2 === 1);
    const between = tryOut(base.value.cascade, laid.flatMap((cause) => moved.get(cause) ?? []));
    if (!between.ok) return between;
    worth.push(weightedFoodCost(between.value.after, laid.includes("mix") ? now.weeks : then.weeks).ratio);
  }
  const was = weightedFoodCost(then.cascade, then.weeks);
  const is = weightedFoodCost(now.cascade, now.weeks);
  const points = was.ratio === null || is.ratio === null ? null : is.ratio.minus(was.ratio);
  if (points === null || worth.includes(null)) return good({ then: was, now: is, points, parts: [] });
  return good({
    then: was, now: is, points,
    parts: causes.map((cause, at) => ({ cause, points: shareOf(at, causes.length, worth as readonly Decimal[]), facts: cause === "mix" ? now.weeks.length : moved.get(cause)?.length ?? 0 })),
  });
}

/** The Shapley value: Σ over the sets without the cause of |S|!·(n−|S|−1)!/n! · (v(S with it) − v(S)). */
function shareOf(at: number, count: number, worth: readonly Decimal[]): Decimal {
  let sum = new Decimal(0);
  for (let set = 0; set < worth.length; set += 1) {
    if ((set >> at) % 2 === 1) continue;
    const size = set.toString(2).replaceAll("0", "").length;
    const weight = factorial(size).mul(factorial(count - size - 1));
    sum = sum.plus(weight.mul((worth[set + (1 << at)] as Decimal).minus(worth[set] as Decimal)));
  }
  return sum.div(factorial(count));
}

function factorial(n: number): Decimal {
  let product = new Decimal(1);
  for (let factor = 2; factor <= n; factor += 1) product = product.mul(factor);
  return product;
}

function sameWeeks(then: readonly SalesWeek[], now: readonly SalesWeek[]): boolean {
  return then.length === now.length && then.every((week, at) => JSON.stringify(week) === JSON.stringify(now[at]));
}

export interface FactSince {
  readonly change: Change;
  readonly cause: Cause;
  /** What the menu's food-cost ratio would lack, or be spared, had this one fact not changed since; below zero: it brought the ratio down. */
  readonly points: Decimal;
}

/**
 * What each single fact moved: the menu of today against the same menu had that fact stayed as it was. Largest first.
 * Facts that are new, or that today's menu cannot be costed without, have no such figure and are left out.
 */
export function factsSince(then: Book, now: MenuThen, changes: readonly Change[]): readonly FactSince[] {
  const today = weightedFoodCost(now.cascade, now.weeks).ratio;
  if (today === null) return [];
  return changes.flatMap((change): readonly FactSince[] => {
    const cause = causeOf(change);
    const before = then.shelves[change.kind].get(change.id);
    if (cause === null || cause === "mix" || before === undefined || change.after === null) return [];
    const without = tryOut(now.cascade, [{ kind: change.kind, id: change.id, after: before } as Change]);
    const ratio = without.ok ? weightedFoodCost(without.value.after, now.weeks).ratio : null;
    return ratio === null ? [] : [{ change, cause, points: today.minus(ratio) }];
  }).sort((a, b) => b.points.abs().comparedTo(a.points.abs()));
}
