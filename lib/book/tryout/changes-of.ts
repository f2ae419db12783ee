/**
 * The moves of a try-out as changes of a book: laid in their order, so that a later one sees what the earlier ones
 * pretend. A move that does nothing any more, or that would leave the book in a state that cannot be, is left out and
 * says why; the others stand.
 */
import type { Problem } from "@/lib/measure";
import { type Book, type Change, factKey } from "../book";
import { checkChanges } from "../check";
import { LaidOver } from "./laid-over";
import { layMove } from "./lay-move";
import type { FactAt, Move } from "./move";

export interface LaidMoves {
  /** One for each fact that becomes another, in the order in which the facts were first touched. */
  readonly changes: readonly Change[];
  /** The facts that each move that is laid changes, by the move's key. */
  readonly touched: ReadonlyMap<string, readonly FactAt[]>;
  /** Why a move is left out, by its key. */
  readonly problems: ReadonlyMap<string, readonly Problem[]>;
}

/** Cost: what the moves touch, and one check of the book across all of it. */
export function changesOf(book: Book, moves: readonly Move[]): LaidMoves {
  const problems = new Map<string, readonly Problem[]>();
  for (;;) {
    const laid = lay(book, moves.filter(({ key }) => !problems.has(key)), problems);
    const wrong = laid.changes.length === 0 ? [] : checkChanges(book, laid.changes);
    if (wrong.length === 0) return { ...laid, problems };
    // What is wrong is laid at the door of the last move that touched the fact; where none did, at that of the last move of all.
    const found = new Map<string, Problem[]>();
    for (const { of, path, code, sentence } of wrong) {
      const keys = [...laid.touched].filter(([, facts]) => facts.some(({ kind, id }) => kind === of.kind && id === of.id)).map(([key]) => key);
      const key = keys.at(-1) ?? [...laid.touched.keys()].at(-1) ?? "";
      found.set(key, [...(found.get(key) ?? []), { path, code, sentence }]);
    }
    for (const [key, list] of found) problems.set(key, list);
  }
}

function lay(book: Book, moves: readonly Move[], problems: Map<string, readonly Problem[]>): Omit<LaidMoves, "problems"> {
  const over = new LaidOver(book);
  const touched = new Map<string, readonly FactAt[]>();
  for (const move of moves) {
    const laid = layMove(over, move);
    if (!laid.ok) { problems.set(move.key, laid.problems); continue; }
    over.lay(laid.value);
    touched.set(move.key, laid.value.map(({ kind, id }) => ({ kind, id })));
  }
  return { changes: over.changes(), touched };
}

/** A change with the day it applies from, as the store records it. */
export interface EntryOfMoves {
  readonly change: Change;
  readonly validFrom: string;
}

/**
 * What recording the moves from a day on means, entry by entry. A replacement with days of its own begins and ends on
 * them: on its last day the facts it touched go on as the other moves leave them, or as the book has them.
 */
export function entriesOf(book: Book, moves: readonly Move[], from: string): { readonly entries: readonly EntryOfMoves[]; readonly problems: LaidMoves["problems"] } {
  const replacements = moves.flatMap(({ body }) => (body.kind === "replace" ? [body] : []));
  const days = [...new Set([from, ...replacements.flatMap((one) => [one.from, one.until]).filter((day): day is string => day !== null && day > from)])].sort();
  const applies = ({ body }: Move, day: string): boolean =>
    body.kind !== "replace" || ((body.from === null || body.from <= day) && (body.until === null || day < body.until));
  const entries: EntryOfMoves[] = [];
  let problems: LaidMoves["problems"] = new Map();
  let before = new Map<string, Change>();
  for (const day of days) {
    const laid = changesOf(book, moves.filter((move) => applies(move, day)));
    problems = new Map([...problems, ...laid.problems]);
    const now = new Map(laid.changes.map((change) => [factKey(change.kind, change.id), change]));
    for (const [key, change] of now) if (!same(before.get(key), change)) entries.push({ change, validFrom: day });
    for (const [key, { kind, id }] of before) if (!now.has(key)) entries.push({ change: { kind, id, after: book.shelves[kind].get(id) ?? null } as Change, validFrom: day });
    before = now;
  }
  return { entries, problems };
}

/** The same moves laid twice make facts that are equal but not the same. */
function same(a: Change | undefined, b: Change): boolean {
  return a !== undefined && (a.after === b.after || JSON.stringify(a.after) === JSON.stringify(b.after));
}
