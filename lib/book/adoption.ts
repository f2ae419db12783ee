/**
 * Since when a cut stands on its tests, and the cut as it was before. Which tests stand behind a cut is the cut's own
 * revision, so an adoption is found in its history: the first of the latest states that name the same tests. Taking
 * it back is one more state, which gives the cut the tests, the part and the ways of costing it had before; its name and
 * specification, which an adoption does not decide, stay as they are now.
 */
import { type Checked, bad, good } from "@/lib/measure";
import type { Cut } from "./cut";

/** A recorded state of a cut; a revision of the store is one. */
export interface CutState {
  readonly revision: number;
  /** Calendar day from which it applies. */
  readonly validFrom: string;
  /** Corrected by another one, so that it counts no more; null while it counts. */
  readonly replacedBy: number | null;
  /** null: from that day the cut is off the book. */
  readonly fact: Cut | null;
}

export interface Adoption<S extends CutState> {
  /** The state with which these tests came to stand behind the cut. */
  readonly since: S;
  /** The state before it; null when it was the first. */
  readonly before: S | null;
  /** The states after it: something else was changed since. */
  readonly later: readonly S[];
  /** The cut as it stands. */
  readonly cut: Cut;
}

/** The adoption in force on a day; null when the cut is not on the book then. */
export function adoptionOn<S extends CutState>(states: readonly S[], on: string): Adoption<S> | null {
  const standing = states
    .filter((state) => state.replacedBy === null && state.validFrom <= on)
    .sort((a, b) => (a.validFrom === b.validFrom ? a.revision - b.revision : a.validFrom < b.validFrom ? -1 : 1));
  const cut = standing.at(-1)?.fact ?? null;
  if (cut === null) return null;
  let at = standing.length - 1;
  while (at > 0 && sameTests(standing[at - 1]?.fact ?? null, cut)) at -= 1;
  const since = standing[at];
  if (since === undefined) throw new Error("expected the state that was found a line above");
  return { since, before: standing[at - 1] ?? null, later: standing.slice(at + 1), cut };
}

/** What an adoption decides besides the tests. */
const DECIDED = ["leftOut", "partKey", "joint", "repricing"] as const;
const DECIDED_WORDS: Readonly<Record<(typeof DECIDED)[number], string>> = {
  leftOut: "which tests are left out and why", partKey: "which part of the test it is", joint: "how joint cost is shared", repricing: "how a new price reaches it",
};

/**
 * The cut with the adoption taken back. Problems: nothing-before, when it was the first state, or the cut was off the
 * book before it.
 */
export function takenBack<S extends CutState>(adoption: Adoption<S>): Checked<Cut> {
  const before = adoption.before?.fact ?? null;
  if (before === null) return bad("", "nothing-before", "It has stood on these tests for as long as it has been on the book: there is nothing before to go back to. Untick a test instead, or take the cut off the book.");
  const { testIds, leftOut, partKey, joint, repricing } = before;
  return good({ ...adoption.cut, testIds, leftOut, partKey, joint, repricing });
}

/** What was changed after the adoption and would be put back with it, in words; empty when nothing was. */
export function alsoPutBack<S extends CutState>({ since, cut }: Adoption<S>): readonly string[] {
  const then = since.fact;
  return then === null ? [] : DECIDED.filter((field) => !same(then[field], cut[field])).map((field) => DECIDED_WORDS[field]);
}

/** The same tests, in whatever order: pooling does not know one. */
export function sameTests(a: Pick<Cut, "testIds"> | null, b: Pick<Cut, "testIds"> | null): boolean {
  if (a === null || b === null) return a === b;
  return same([...a.testIds].sort(), [...b.testIds].sort());
}

function same(a: unknown, b: unknown): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}
