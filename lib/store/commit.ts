/**
 * Committing a change. Commits to one kitchen stand in line: each locks the kitchen's row, brings its live book up to
 * date, and only then looks whether it is stale, whether the book still holds together, and what ripples from it. Facts,
 * ripple and history are written in that one transaction or not at all; the live book in memory moves on only after
 * the database has said that the transaction stands.
 */
import { FACT_KINDS, type Change, factKey } from "@/lib/book";
import { type Cascade, type Ripple, advance, belowNothing } from "@/lib/cascade";
import type { Checked } from "@/lib/measure";
import { type RippleReport, readRipple } from "@/lib/menu";
import { type KnownFacts, checkBookAhead, checkCorrections, checkEntries, checkKnown, knownIn } from "./check-commission";
import type { Clock } from "./clock";
import type { Ahead, Commission, Committed, DatedChange, Fact, LiveBook, WatchCommit, Who } from "./contract";
import type { Database, Transaction } from "./database";
import { selectHistory, selectThese } from "./in-force";
import type { LiveBooks } from "./live-books";
import { Plan, newRevisions } from "./plan";
import { lockKitchen } from "./read-book";
import { type RevisionHead, byFactKey, readHeads, readRevisions } from "./read-revisions";
import { staleIn } from "./stale";
import { type NewChange, writeChange } from "./write-change";

/** Writes into the transaction of a commit what belongs to it. Where it throws, nothing is recorded. */
export type WithinCommit = (tx: Transaction, changeNo: number) => Promise<void>;

export async function commit(
  database: Database, clock: Clock, books: LiveBooks, kitchenId: string, commission: Commission, within?: WithinCommit, watch?: WatchCommit,
): Promise<Committed> {
  const { entries } = commission;
  const wrong = checkEntries(commission);
  if (wrong.length > 0) return { ok: false, reason: "problems", problems: wrong };
  const committed = await database.transaction(async (tx): Promise<Committed> => {
    await watch?.("reading");
    const lock = await lockKitchen(tx, kitchenId);
    const live = await books.upTo(tx, kitchenId, lock.changeNo);
    const byFact = await revisionsOf(tx, kitchenId, entries);
    const problems = checkCorrections(entries, byFact);
    if (problems.length > 0) return { ok: false, reason: "problems", problems };
    const stale = await staleIn(tx, kitchenId, commission, byFact, live.today);
    if (stale.length > 0) return { ok: false, reason: "stale", stale };
    const stamp = { at: stampedAt(clock, lock.lastAt), lastRevision: lock.revisionNo };
    const recorded = await recordChange(tx, live, byFact, { ...commission, ...stamp, watch });
    if (!recorded.ok) return { ok: false, reason: "problems", problems: recorded.problems };
    await within?.(tx, recorded.value.changeNo);
    await watch?.("closing");
    return { ok: true, ...recorded.value };
  });
  if (committed.ok) books.hold(committed.live);
  return committed;
}

/** Now, but never before the change before: within a kitchen the moments rise with the numbers, whatever a clock does. */
function stampedAt(clock: Clock, lastAt: string | null): string {
  const now = new Date(clock.now()).toISOString();
  return lastAt !== null && lastAt > now ? lastAt : now;
}

/** Every revision of the facts that the entries change. */
async function revisionsOf(tx: Transaction, kitchenId: string, entries: readonly DatedChange[]): Promise<Map<string, RevisionHead[]>> {
  const keys = new Set(entries.map(({ change }) => factKey(change.kind, change.id)));
  const kinds = FACT_KINDS.filter((kind) => entries.some(({ change }) => change.kind === kind));
  return byFactKey(await readHeads(tx, kitchenId, selectHistory(kitchenId, [...keys]), kinds));
}

export interface ToRecord {
  readonly entries: readonly DatedChange[];
  readonly who: Who;
  readonly why: string;
  readonly at: string;
  /** The kitchen's last revision so far. */
  readonly lastRevision: number;
  readonly watch?: WatchCommit | undefined;
}

export interface Recorded {
  readonly changeNo: number;
  readonly report: RippleReport;
  readonly live: LiveBook;
  readonly later: readonly Ahead[];
}

/**
 * Checks the entries against the live book, works out their ripple, and writes all of it as the kitchen's next change.
 * Belongs in the transaction that holds the kitchen's lock and on the live book as of its last change.
 */
export async function recordChange(
  tx: Transaction, live: LiveBook, byFact: ReadonlyMap<string, readonly RevisionHead[]>, toRecord: ToRecord,
): Promise<Checked<Recorded>> {
  const { kitchenId } = live;
  const worked = await workOut(live, byFact, toRecord, {
    facts: async (revisions) => new Map((await readRevisions(tx, kitchenId, selectThese(kitchenId, revisions), FACT_KINDS)).map(({ revision, fact }) => [revision, fact])),
    known: knownIn(tx, kitchenId),
  });
  if (!worked.ok) return worked;
  await writeChange(tx, worked.value.change);
  return { ok: true, value: worked.value.recorded };
}

/** What is recorded already and not in memory. */
export interface RecordedBefore {
  /** The facts of these revisions, null where one took its fact off. */
  readonly facts: (revisions: readonly number[]) => Promise<ReadonlyMap<number, Fact | null>>;
  readonly known: KnownFacts;
}

/** A change that holds together, worked out and not yet written. */
export async function workOut(
  live: LiveBook, byFact: ReadonlyMap<string, readonly RevisionHead[]>, { entries, who, why, at, lastRevision, watch }: ToRecord, before: RecordedBefore,
): Promise<Checked<{ readonly change: NewChange; readonly recorded: Recorded }>> {
  const { kitchenId } = live;
  await watch?.("checking");
  const by = who.name.trim();
  const revisions = newRevisions(live, entries, { at, by, why, lastRevision });
  const plan = new Plan(live, revisions, byFact);
  const unknown = plan.unknown();
  if (unknown.length > 0) for (const [revision, fact] of await before.facts(unknown)) plan.learn(revision, fact);
  const today = plan.changesToday();
  const problems = checkBookAhead(live.book, today, plan);
  if (problems.length > 0) return { ok: false, problems };
  const unheardOf = await checkKnown(before.known, live, entries, byFact);
  if (unheardOf.length > 0) return { ok: false, problems: unheardOf };
  const advanced = advanceBy(live.cascade, today);
  if (!advanced.ok) return advanced;
  const { cascade, ripple } = advanced.value;
  const nonsense = belowNothing(ripple);
  if (nonsense.length > 0) return { ok: false, problems: nonsense };
  const report = readRipple(live.cascade, cascade, ripple);
  const changeNo = live.changeNo + 1;
  const ahead = plan.ahead();
  return {
    ok: true,
    value: {
      change: { kitchenId, changeNo, at, by, byPerson: who.personId ?? null, why, revisions, known: new Set(byFact.keys()), ripple, report, watch },
      recorded: { changeNo, report, live: { ...live, changeNo, book: cascade.book, cascade, ahead: ahead.all }, later: ahead.added },
    },
  };
}

function advanceBy(cascade: Cascade, changes: readonly Change[]): Checked<{ cascade: Cascade; ripple: Ripple }> {
  return changes.length === 0 ? { ok: true, value: { cascade, ripple: { moved: [] } } } : advance(cascade, changes);
}
