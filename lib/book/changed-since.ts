/**
 * Whether something said of a fact is said otherwise than on an earlier day, and from which day: what makes a test
 * doubtful. Only what stands counts; a specification that was changed and changed back has not changed.
 */
import type { CutState } from "./adoption";

/** A recorded state of any fact. */
export type FactState<F> = Omit<CutState, "fact"> & { readonly fact: F | null };

export interface SaidOtherwise {
  /** The day from which it is said as it is now. */
  readonly on: string;
  readonly before: string;
  readonly after: string;
}

/** null when it is said as it was on `since`, or the fact was or is not on the book. Days are "2026-11-25". */
export function changedSince<F>(states: readonly FactState<F>[], said: (fact: F) => string, since: string, today: string): SaidOtherwise | null {
  const standing = states
    .filter((state) => state.replacedBy === null && state.validFrom <= today)
    .sort((a, b) => (a.validFrom === b.validFrom ? a.revision - b.revision : a.validFrom < b.validFrom ? -1 : 1));
  const then = standing.filter((state) => state.validFrom <= since).at(-1)?.fact ?? null;
  const now = standing.at(-1)?.fact ?? null;
  if (then === null || now === null) return null;
  const [before, after] = [said(then), said(now)];
  if (before === after) return null;
  let on = today;
  for (const state of [...standing].reverse()) {
    if (state.fact === null || said(state.fact) !== after) break;
    on = state.validFrom;
  }
  return { on, before, after };
}
