/**
 * Nothing is made of itself: stock → demi-glace → stock has no cost. One depth-first search from all the facts in
 * question along what they are made of (white, grey, black: not seen, on the way, done), with its own stack, so that no
 * depth of recipes overflows anything and each fact is walked through once however many are asked about. The way round
 * is told by the names people gave.
 */
import { type Book, type FactKind, factKey } from "../book";
import { factName } from "./problem";
import { referencesIn } from "./references";

export interface FactRef {
  readonly kind: FactKind;
  readonly id: string;
}

interface Step extends FactRef {
  readonly key: string;
  readonly next: readonly FactRef[];
  at: number;
}

/** More ways round than anybody mends at one sitting. */
const MOST_CYCLES = 20;

/**
 * The ways from a fact back to itself that the given facts are on or lead to, each with the same fact first and last:
 * one of the given ones where the way holds one. Not every way there is, but at least one wherever there is any.
 */
export function cyclesFrom(book: Book, starts: readonly FactRef[]): readonly (readonly FactRef[])[] {
  const asked = new Set(starts.map(({ kind, id }) => factKey(kind, id)));
  const place = new Map<string, number>();
  const done = new Set<string>();
  const stack: Step[] = [];
  const cycles: FactRef[][] = [];
  const enter = (key: string, { kind, id }: FactRef): void => {
    place.set(key, stack.length);
    stack.push({ key, kind, id, next: referencesIn(book, kind, id).filter((reference) => reference.madeOf), at: 0 });
  };
  for (const start of starts) {
    const startKey = factKey(start.kind, start.id);
    if (done.has(startKey)) continue;
    enter(startKey, start);
    for (let top = stack.at(-1); top !== undefined; top = stack.at(-1)) {
      const to = top.next[top.at];
      if (to === undefined) {
        stack.pop();
        place.delete(top.key);
        done.add(top.key);
        continue;
      }
      top.at += 1;
      const key = factKey(to.kind, to.id);
      const from = place.get(key);
      if (from !== undefined) cycles.push(askedFirst(stack.slice(from), asked));
      else if (!done.has(key)) enter(key, to);
      if (cycles.length === MOST_CYCLES) return cycles;
    }
  }
  return cycles;
}

/** The way round turned so that it begins, and ends, at a fact that was asked about. */
function askedFirst(way: readonly Step[], asked: ReadonlySet<string>): FactRef[] {
  const first = Math.max(0, way.findIndex((step) => asked.has(step.key)));
  const turned = [...way.slice(first), ...way.slice(0, first)].map(({ kind, id }): FactRef => ({ kind, id }));
  return [...turned, ...turned.slice(0, 1)];
}

const MOST_NAMES = 12;

/**
 * "stock → demi-glace → stock"; tests are passed over, since people think of the cut they stand behind. A long way is
 * told by its beginning and its end.
 */
export function wayRound(book: Book, way: readonly FactRef[]): string {
  const told = way.filter((step) => step.kind !== "test");
  const names = (steps: readonly FactRef[]): readonly string[] => steps.map((step) => factName(book, step.kind, step.id));
  if (told.length <= MOST_NAMES) return names(told).join(" → ");
  return [...names(told.slice(0, 7)), `… (${told.length - 10} more) …`, ...names(told.slice(-3))].join(" → ");
}
