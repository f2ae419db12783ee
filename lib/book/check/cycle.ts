/**
 * Nothing is made of itself: stock → demi-glace → stock has no cost. Depth-first search from one fact along what it is
 * made of, with its own stack, so that no depth of recipes overflows anything; the way round is told by the names
 * people gave.
 */
import type { Book, FactKind } from "../book";
import { factName } from "./problem";
import { referencesIn } from "./references";

interface Step {
  readonly kind: FactKind;
  readonly id: string;
  readonly next: readonly { readonly kind: FactKind; readonly id: string }[];
  at: number;
}

/** The way from a fact back to itself, the fact first and last; null when there is none. */
export function cycleThrough(book: Book, kind: FactKind, id: string): readonly { readonly kind: FactKind; readonly id: string }[] | null {
  const seen = new Set<string>([`${kind}:${id}`]);
  const stack: Step[] = [stepOf(book, kind, id)];
  for (let top = stack.at(-1); top !== undefined; top = stack.at(-1)) {
    const to = top.next[top.at];
    if (to === undefined) {
      stack.pop();
      continue;
    }
    top.at += 1;
    if (to.kind === kind && to.id === id) return [...stack.map((step) => ({ kind: step.kind, id: step.id })), { kind, id }];
    const name = `${to.kind}:${to.id}`;
    if (seen.has(name)) continue;
    seen.add(name);
    stack.push(stepOf(book, to.kind, to.id));
  }
  return null;
}

function stepOf(book: Book, kind: FactKind, id: string): Step {
  return { kind, id, next: referencesIn(book, kind, id).filter((reference) => reference.madeOf), at: 0 };
}

/** "stock → demi-glace → stock"; tests are passed over, since people think of the cut they stand behind. */
export function wayRound(book: Book, way: readonly { readonly kind: FactKind; readonly id: string }[]): string {
  const told = way.filter((step) => step.kind !== "test");
  return told.map((step) => factName(book, step.kind, step.id)).join(" → ");
}
