/**
 * What a commission does to the book, worked out before anything is written: the revisions it adds, what they change
 * in today's book, and what they and others recorded ahead change on days to come. A new revision need not show: it
 * may apply only later, or lie before another that is in force. And a correction may bring an older revision back.
 */
import { type Change, type FactKind, factKey } from "@/lib/book";
import type { Ahead, DatedChange, Fact, LiveBook } from "./contract";
import { factName, lookupIn } from "./fact-name";
import { correctedBy, inForce } from "./in-force";
import { changesBook } from "./live-books";
import { soonestFirst } from "./read-book";
import { type RevisionHead, recordedChange } from "./read-revisions";
import type { NewRevision } from "./write-change";

export interface Stamp {
  readonly at: string;
  readonly by: string;
  readonly why: string;
  /** The last revision before; new ones count on from it. */
  readonly lastRevision: number;
}

/** The revisions that the entries add, numbered in their order. */
export function newRevisions(live: LiveBook, entries: readonly DatedChange[], stamp: Stamp): NewRevision[] {
  const incoming = new Map<string, Fact>();
  for (const { change } of entries) if (change.after !== null) incoming.set(factKey(change.kind, change.id), change.after);
  const onBook = lookupIn(live.book);
  const find: typeof onBook = (kind, id) => (incoming.get(factKey(kind, id)) as ReturnType<typeof onBook<typeof kind>>) ?? onBook(kind, id);
  return entries.map(({ change: { kind, id, after }, validFrom, replaces }, at) => ({
    kind, id, after, validFrom, replaces: replaces ?? null, revision: stamp.lastRevision + at + 1,
    name: factName(kind, id, after, after === null ? onBook : find),
    recordedAt: stamp.at, by: stamp.by, why: stamp.why,
  }));
}

type Candidate = RevisionHead | NewRevision;

export class Plan {
  readonly #live: LiveBook;
  readonly #added: readonly NewRevision[];
  /** Every revision, old and new, of each fact that the commission touches. */
  readonly #touched = new Map<string, Candidate[]>();
  /** Facts held by revisions that are recorded but not in force today. */
  readonly #contents = new Map<number, Fact | null>();

  constructor(live: LiveBook, added: readonly NewRevision[], byFact: ReadonlyMap<string, readonly RevisionHead[]>) {
    this.#live = live;
    this.#added = added;
    for (const revision of added) {
      const key = factKey(revision.kind, revision.id);
      const revisions = this.#touched.get(key);
      if (revisions) revisions.push(revision);
      else this.#touched.set(key, [...(byFact.get(key) ?? []), revision]);
      this.#contents.set(revision.revision, revision.after);
    }
    for (const { revision, after } of live.ahead) this.#contents.set(revision, after);
  }

  /** Days to come on which the book will change, soonest first. */
  days(): string[] {
    const days = [...this.#live.ahead, ...this.#added].map(({ validFrom }) => validFrom).filter((day) => day > this.#live.today);
    return [...new Set(days)].sort();
  }

  /** Revisions that the plan brings back into force and whose facts are not in memory: hand them to `learn` before asking for changes. */
  unknown(): number[] {
    const { provenance } = this.#live.book;
    return [this.#live.today, ...this.days()].flatMap((day) => [...this.#touched].flatMap(([key, revisions]) => {
      const winner = inForce(revisions, day);
      const held = winner === null || this.#contents.has(winner.revision) || provenance.get(key)?.revision === winner.revision;
      return held ? [] : [winner.revision];
    }));
  }

  learn(revision: number, fact: Fact | null): void {
    this.#contents.set(revision, fact);
  }

  /** What differs from the live book today, as the commission leaves it. */
  changesToday(): Change[] {
    return [...this.#touched].flatMap(([key, revisions]) => this.#changeOn(this.#live.today, key, revisions));
  }

  /** What will differ from the live book on a day to come: by this commission, and by what was recorded ahead before. */
  changesOn(day: string): Change[] {
    const changes = [...this.#touched].flatMap(([key, revisions]) => this.#changeOn(day, key, revisions));
    const others = new Map<string, Ahead>();
    for (const ahead of this.#live.ahead) {
      const key = factKey(ahead.kind, ahead.id);
      if (ahead.validFrom <= day && !this.#touched.has(key)) others.set(key, ahead);
    }
    return [...changes, ...others.values()];
  }

  #changeOn(day: string, key: string, revisions: readonly Candidate[]): Change[] {
    const winner = inForce(revisions, day);
    const { kind, id } = winner ?? revisions[0] ?? missingRevisions(key);
    const change = winner === null
      ? recordedAbsence(kind, id)
      : recordedChange(kind, id, this.#contents.get(winner.revision) ?? null, winner);
    // The revision in force in the book is unchanged whatever is in memory of it.
    if (winner && this.#live.book.provenance.get(key)?.revision === winner.revision) return [];
    return changesBook(this.#live.book, change) ? [change] : [];
  }

  /** What stands recorded ahead afterwards: of all, and of this commission alone. */
  ahead(): { readonly all: Ahead[]; readonly added: Ahead[] } {
    const { today, ahead } = this.#live;
    const corrected = correctedBy(this.#added);
    const added = this.#added
      .filter((revision) => revision.validFrom > today && !corrected.has(revision.revision))
      .map((revision): Ahead => ({
        ...recordedChange(revision.kind, revision.id, revision.after, revision),
        name: revision.name, validFrom: revision.validFrom, revision: revision.revision,
      }))
      .sort(soonestFirst);
    return { added, all: [...ahead.filter(({ revision }) => !corrected.has(revision)), ...added].sort(soonestFirst) };
  }
}

function recordedAbsence(kind: FactKind, id: string): Change {
  return { kind, id, after: null } as Change;
}

function missingRevisions(key: string): never {
  throw new Error(`expected a revision of ${key}`);
}
