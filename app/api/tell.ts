/** Figures and changes as programs are told them: every figure as the text of all its digits. */
import type { z } from "zod";
import type { Book } from "@/lib/book";
import { type Cascade, type Missing, type Moved, type NodeCost, compile } from "@/lib/cascade";
import type { Decimal } from "@/lib/measure";
import type { DishFigures, RippleReport } from "@/lib/menu";
import type { LiveBook, RecordEntry, Stale, Store } from "@/lib/store";
import { problem } from "./problem";
import type { ProblemTold } from "./problem";
import type { answers } from "./shapes";

const figure = (value: Decimal): string => value.toFixed();
const orNull = (value: Decimal | null): string | null => (value === null ? null : figure(value));
const missingTold = (missing: readonly Missing[]): Missing[] => missing.map(({ what, of, name }) => ({ what, of: { kind: of.kind, id: of.id }, name }));

type CostTold = z.infer<typeof answers.cost>["cost"];
type DishTold = z.infer<typeof answers.dishes>["dishes"][number];
type RippleTold = z.infer<typeof answers.tried>["ripple"];

export function tellCost({ amount, per, missing, borrowed }: NodeCost): CostTold {
  return { amount: figure(amount), per, atLeast: missing.length > 0, missing: missingTold(missing), borrowed: borrowed.map(({ id, name }) => ({ id, name })) };
}

export function tellDish({ id, name, section, plateCost, gross, net, taxRate, foodCost, target, ownTarget, near, contribution, state }: DishFigures): DishTold {
  return {
    id, name, section, plateCost: tellCost(plateCost), gross: orNull(gross), net: orNull(net), taxRate, foodCost: orNull(foodCost), target: figure(target), ownTarget,
    near: figure(near), contribution: orNull(contribution), state,
  };
}

const tellMoved = ({ ref, name, before, after }: Moved): RippleTold["moved"][number] => ({
  kind: ref.kind, id: ref.id, name, before: before === null ? null : tellCost(before), after: after === null ? null : tellCost(after),
});

export function tellRipple({ crossings, dishes, stands, unmoved, moneyAWeek, takingsAWeek }: RippleReport): RippleTold {
  return {
    crossings: crossings.map(({ dishId, name, direction }) => ({ dishId, name, direction })),
    dishes: dishes.map((move) => ({
      id: move.dishId, name: move.name, crossing: move.crossing, before: move.before === null ? null : tellDish(move.before), after: move.after === null ? null : tellDish(move.after),
      costChange: orNull(move.costChange), points: orNull(move.points), soldAWeek: orNull(move.soldAWeek), moneyAWeek: orNull(move.moneyAWeek),
    })),
    moved: [...stands.items, ...stands.cuts, ...stands.specs, ...stands.recipes].map(tellMoved),
    unmoved, moneyAWeek: orNull(moneyAWeek), takingsAWeek: orNull(takingsAWeek),
  };
}

export function tellEntry({ changeNo, at, by, why, factCount, facts, moved, crossings }: RecordEntry): z.infer<typeof answers.record>["changes"][number] {
  return {
    changeNo, at, by, why, factCount,
    facts: facts.map(({ kind, id, name, revision, validFrom, replaces }) => ({ kind, id, name, revision, validFrom, replaces })),
    moved: { ...moved }, crossings: crossings.map(({ dishId, name, direction }) => ({ dishId, name, direction })),
  };
}

export function tellStale(stale: readonly Stale[]): NonNullable<ProblemTold["stale"]> {
  return stale.map(({ kind, id, name, by, at, revision, mine, theirs }) => ({ kind, id, name, by, at, revision, mine, theirs }));
}

export interface AsOfAsked {
  readonly on?: string | undefined;
  readonly knownAt?: string | undefined;
  readonly afterChange?: number | undefined;
}

export interface BookRead {
  readonly book: Book;
  /** The last change that is in it. */
  readonly changeNo: number;
  readonly cascade: () => Cascade;
}

/** The book that is asked for: today's, or that of another day as known at another moment. A problem where nothing was known then. */
export async function bookRead(store: Store, live: LiveBook, { on, knownAt, afterChange }: AsOfAsked): Promise<BookRead | Response> {
  if (on === undefined && knownAt === undefined && (afterChange === undefined || afterChange >= live.changeNo)) return { book: live.book, changeNo: live.changeNo, cascade: () => live.cascade };
  const changeNo = await store.changeKnown(live.kitchenId, { on: on ?? live.today, knownAt, afterChange });
  if (changeNo === 0) return problem("not-known-yet", "Nothing was recorded in this kitchen by then.");
  const book = await store.bookAsOf(live.kitchenId, { on: on ?? live.today, afterChange: changeNo });
  return {
    book, changeNo,
    cascade: () => {
      const compiled = compile(book);
      if (!compiled.ok) throw new Error(`expected the book of ${book.on} to compile: ${compiled.problems.map(({ sentence }) => sentence).join(" ")}`);
      return compiled.value;
    },
  };
}

/** A page of a list: what comes after an id, so many at most. A problem where that id is not in it. */
export function pageOf<T extends { readonly id: string }>(all: readonly T[], { after, limit: asked = 200 }: { readonly after?: string | undefined; readonly limit?: number | undefined }): { readonly page: readonly T[]; readonly next: string | null } | Response {
  const from = after === undefined ? 0 : all.findIndex(({ id }) => id === after) + 1;
  if (after !== undefined && from === 0) return problem("bad-question", "There is nothing after that: it is not in the list.", { problems: [{ path: "after", code: "not-there", sentence: "This id is not in the list (any more). Begin anew, with `afterChange` so that the list stays as it is." }] });
  const limit = Math.max(1, asked);
  const page = all.slice(from, from + limit);
  return { page, next: from + limit < all.length ? page.at(-1)?.id ?? null : null };
}

export const notThere = (): Response => problem("not-there", "There is no such thing in this kitchen’s book.");
