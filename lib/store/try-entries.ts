/**
 * Trying a commission before it is recorded: what it would do to the costs of today, by the same plan that a commit
 * works out, so that what is shown before saving is what the record will tell. A price of last March behind a newer one
 * moves nothing today; neither does the correction of a price that no longer counts. An entry for a day to come is told
 * as if it applied today, since that is what its editor asks; the book is checked on the real days.
 */
import { FACT_KINDS, factKey } from "@/lib/book";
import { type Cascade, belowNothing, tryOut } from "@/lib/cascade";
import type { Checked } from "@/lib/measure";
import { type RippleReport, readRipple } from "@/lib/menu";
import { checkBookAhead, checkCorrections, checkKnown, knownIn } from "./check-commission";
import type { DatedChange, LiveBook } from "./contract";
import { selectHistory, selectThese } from "./in-force";
import { Plan, newRevisions } from "./plan";
import { type Reader, type RevisionHead, byFactKey, readHeads, readRevisions } from "./read-revisions";

export interface Tried {
  readonly live: LiveBook;
  readonly after: Cascade;
  readonly report: RippleReport;
}

export async function tryEntries(reader: Reader, live: LiveBook, entries: readonly DatedChange[]): Promise<Checked<Tried>> {
  const keys = new Set(entries.map(({ change }) => factKey(change.kind, change.id)));
  const kinds = FACT_KINDS.filter((kind) => entries.some(({ change }) => change.kind === kind));
  const byFact = byFactKey(await readHeads(reader, live.kitchenId, selectHistory(live.kitchenId, [...keys]), kinds));
  const problems = checkCorrections(entries, byFact);
  if (problems.length > 0) return { ok: false, problems };

  const recorded = await planOf(reader, live, entries, byFact);
  const ahead = checkBookAhead(live.book, recorded.changesToday(), recorded);
  if (ahead.length > 0) return { ok: false, problems: ahead };
  const unheardOf = await checkKnown(knownIn(reader, live.kitchenId), live, entries, byFact);
  if (unheardOf.length > 0) return { ok: false, problems: unheardOf };

  const waits = entries.some(({ validFrom }) => validFrom > live.today);
  const told = waits ? await planOf(reader, live, entries.map((entry) => asOfToday(entry, live.today)), byFact) : recorded;
  const changes = told.changesToday();
  const asked = waits ? checkBookAhead(live.book, changes, told) : [];
  if (asked.length > 0) return { ok: false, problems: asked };
  const tried = tryOut(live.cascade, changes);
  if (!tried.ok) return tried;
  const { after, ripple } = tried.value;
  const nonsense = belowNothing(ripple);
  if (nonsense.length > 0) return { ok: false, problems: nonsense };
  return { ok: true, value: { live, after, report: readRipple(live.cascade, after, ripple) } };
}

/** A number after every revision there is, of any fact: of two dealers' prices from one day the one recorded last counts. */
const AFTER_ALL = 2 ** 50;

/** The plan as a commit at this moment would have it; nothing of it is kept, so nobody signs it. */
async function planOf(reader: Reader, live: LiveBook, entries: readonly DatedChange[], byFact: ReadonlyMap<string, readonly RevisionHead[]>): Promise<Plan> {
  const plan = new Plan(live, newRevisions(live, entries, { at: "", by: "", why: "", lastRevision: AFTER_ALL }), byFact);
  const unknown = plan.unknown();
  if (unknown.length > 0) {
    for (const { revision, fact } of await readRevisions(reader, live.kitchenId, selectThese(live.kitchenId, unknown), FACT_KINDS)) plan.learn(revision, fact);
  }
  return plan;
}

function asOfToday(entry: DatedChange, today: string): DatedChange {
  return entry.validFrom > today ? { ...entry, validFrom: today } : entry;
}
