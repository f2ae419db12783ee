/**
 * Undoing a recorded change, as a change of its own: every fact is said again as it was before, in a revision that
 * corrects the one to be undone, from the day on which that one applied (or, where it had itself corrected another, from
 * that one's day). So every day is as it would be had the change never been made, and the change stays in the record.
 * Undoing that undoes the undoing. Only the last that was said of a fact can be undone: what somebody said of it later
 * was said knowing it.
 */
import { type Checked, type Problem, bad, good } from "@/lib/measure";
import type { Change, FactKind, FactOf } from "./book";

/** One fact of a recorded change. */
export interface DoneFact {
  readonly kind: FactKind;
  readonly id: string;
  readonly name: string;
  readonly revision: number;
  /** Calendar day. */
  readonly validFrom: string;
  /** The revision that it corrected, and the day from which that one applied; null for news. */
  readonly replaces: number | null;
  readonly replacedFrom: string | null;
  /** What stood before; null for a fact that was not in the book. */
  readonly before: FactOf[FactKind] | null;
  /** The change that said something else of the fact afterwards; null while this is the last word. */
  readonly laterChange: number | null;
}

export interface DoneChange {
  readonly changeNo: number;
  readonly facts: readonly DoneFact[];
  /** How many facts the change has; more than are given cannot be undone at once. */
  readonly factCount: number;
}

/** One entry of the change that undoes: what the fact becomes, from which day, in place of which revision. */
export interface UndoneFact {
  readonly change: Change;
  readonly validFrom: string;
  readonly replaces: number;
}

/** So many facts are told by name when they stand in the way. */
const NAMED = 4;

/** The entries that undo a change. Fails with `opening`, `too-many`, `twice` or `changed-since`. */
export function undoing({ changeNo, facts, factCount }: DoneChange): Checked<readonly UndoneFact[]> {
  const opening = facts.some(({ kind, before }) => kind === "kitchen" && before === null);
  if (opening) return refused("opening", "The kitchen was opened with this change, so there is nothing before it to go back to.");
  if (factCount > facts.length) return refused("too-many", `This change says something of ${factCount} facts; at most ${facts.length} can be undone at once.`);
  const twice = facts.find(({ laterChange }) => laterChange === changeNo);
  if (twice !== undefined) return refused("twice", `This change says more than one thing of ${twice.name}, for different days. Correct each by itself on its own page.`);
  const changed = facts.filter(({ laterChange }) => laterChange !== null);
  if (changed.length > 0) return refused("changed-since", changedSentence(changed));
  return good(facts.map(({ kind, id, before, validFrom, replacedFrom, revision }): UndoneFact => ({
    // Kind and fact belong together: both come from the same revision.
    change: { kind, id, after: before } as Change, validFrom: replacedFrom ?? validFrom, replaces: revision,
  })));
}

/** "Butter from Harbour Meats was changed again by change 17. Undo that first, or correct it on its own page." */
function changedSentence(changed: readonly DoneFact[]): string {
  const told = changed.slice(0, NAMED).map(({ name, laterChange }) => `${name} was changed again by change ${laterChange}`);
  const more = changed.length - told.length;
  return `${told.join("; ")}${more > 0 ? `; and so were ${more} more` : ""}. Undo ${changed.length === 1 ? "that" : "those"} first, or say on ${changed.length === 1 ? "its" : "their"} own page what is right.`;
}

function refused(code: string, sentence: string): { readonly ok: false; readonly problems: readonly Problem[] } {
  return bad("", code, sentence);
}
