/**
 * Whether a save is stale. An editor has had one revision of the fact before them, and their entry supersedes one: the
 * revision in force on the day it applies from. If these are the same, nobody has changed anything under them. Beyond
 * that an entry is welcome when its editor has seen the newest of all (they were told and save all the same), when it
 * fills in a day before the revision they saw, or when it corrects the very revision they saw, as long as it does not come
 * to stand before a newer one; and never when it corrects a revision that somebody else has corrected already.
 */
import { type Change, factKey } from "@/lib/book";
import type { Commission, DatedChange, Stale } from "./contract";
import { correctedBy, inForce, selectThese } from "./in-force";
import { type Reader, type RevisionHead, readRevisions } from "./read-revisions";

/** The revision, recorded by somebody else, that stands against an entry; null when it may be saved. */
export function standsAgainst(
  entry: DatedChange, based: number | null, revisions: readonly RevisionHead[], today: string,
): RevisionHead | null {
  const { replaces } = entry;
  if (replaces !== undefined && correctedBy(revisions).has(replaces)) {
    return revisions.find((revision) => revision.replaces === replaces) ?? null;
  }
  const newest = revisions.reduce<RevisionHead | null>((last, revision) => (!last || revision.revision > last.revision ? revision : last), null);
  if (newest === null || newest.revision === based) return null;
  const now = inForce(revisions, today);
  const seenIsStanding = (now === null || now.withdrawn ? null : now.revision) === based;
  if (replaces !== undefined) return seenIsStanding || (replaces === based && !overtakes(entry, replaces, revisions)) ? null : newest;
  const superseded = inForce(revisions, entry.validFrom);
  if (superseded?.revision === based || (superseded === null || superseded.withdrawn) && based === null) return null;
  if (seenIsStanding && now !== null && entry.validFrom < now.validFrom) return null;
  // What somebody else recorded: the revision superseded unseen, or the one that took its place today.
  return seenIsStanding ? superseded ?? newest : now ?? newest;
}

/** Whether a correction would take the place of something recorded after the revision that it corrects. */
function overtakes({ validFrom }: DatedChange, corrected: number, revisions: readonly RevisionHead[]): boolean {
  const gone = correctedBy(revisions);
  return revisions.some((other) => other.revision > corrected && other.validFrom <= validFrom && !gone.has(other.revision));
}

/** Every fact of a commission that somebody else has changed since, with both versions. */
export async function staleIn(
  reader: Reader, kitchenId: string, commission: Commission, byFact: ReadonlyMap<string, readonly RevisionHead[]>, today: string,
): Promise<Stale[]> {
  const against = new Map<string, { readonly head: RevisionHead; readonly newest: number; readonly mine: Change["after"] }>();
  for (const entry of commission.entries) {
    const key = factKey(entry.change.kind, entry.change.id);
    const based = commission.basedOn[key];
    if (based === undefined) throw new Error(`expected the commission to say which revision its editor saw of ${key} (null for none)`);
    const revisions = byFact.get(key) ?? [];
    const head = standsAgainst(entry, based, revisions, today);
    if (head) against.set(key, { head, newest: Math.max(...revisions.map(({ revision }) => revision)), mine: entry.change.after });
  }
  if (against.size === 0) return [];
  const stored = await readRevisions(reader, kitchenId, selectThese(kitchenId, [...against.values()].map(({ head }) => head.revision)));
  return [...against.values()].map(({ head, newest, mine }) => ({
    kind: head.kind, id: head.id, name: head.name, by: head.by, at: head.recordedAt, revision: newest, mine,
    theirs: stored.find(({ revision }) => revision === head.revision)?.fact ?? null,
  }));
}
