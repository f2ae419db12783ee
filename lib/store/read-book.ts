/**
 * Reading a kitchen's book: as it applies on a day, as known after a change. Every revision carries the number of its
 * change, and changes of a kitchen become visible in the order of their numbers; so "everything up to change N" is the
 * same set of rows in every query, however many other commits arrive between one query and the next.
 */
import { FACT_KINDS, type Book, type FactKind, type Provenance, type Shelves, factKey } from "@/lib/book";
import { Prisma } from "@/prisma/generated/client";
import type { Ahead, AsOf } from "./contract";
import { selectAhead, selectInForce } from "./in-force";
import { type Reader, type StoredRevision, changeFrom, momentSql, readRevisions } from "./read-revisions";

/**
 * The book of a kitchen. A day before its settings applied (a quote of years ago, entered since) is read by the first that
 * were known: nothing can be read without any.
 */
export async function readBook(reader: Reader, kitchenId: string, on: string, changeNo: number): Promise<Book> {
  const stored = await readRevisions(reader, kitchenId, selectInForce({ kitchenId, on, changeNo }));
  if (!stored.some(({ kind, id }) => kind === "kitchen" && id === kitchenId)) {
    const [first] = (await readRevisions(reader, kitchenId, selectAhead({ kitchenId, changeNo, on }), ["kitchen"])).sort(soonestFirst);
    if (first !== undefined) stored.push(first);
  }
  const shelves = new Map<FactKind, Map<string, unknown>>(FACT_KINDS.map((kind) => [kind, new Map<string, unknown>()]));
  const provenance = new Map<string, Provenance>();
  for (const { kind, id, fact, revision, validFrom, recordedAt, by, why } of stored) {
    if (fact === null) continue;
    shelves.get(kind)?.set(id, fact);
    provenance.set(factKey(kind, id), { revision, validFrom, recordedAt, by, why });
  }
  return { kitchenId, on, shelves: Object.fromEntries(shelves) as unknown as Shelves, provenance };
}

/** What is recorded ahead of its day, soonest first. */
export async function readAhead(reader: Reader, kitchenId: string, on: string, changeNo: number): Promise<Ahead[]> {
  const stored = await readRevisions(reader, kitchenId, selectAhead({ kitchenId, on, changeNo }), await kindsAhead(reader, kitchenId, on));
  return stored.map(aheadFrom).sort(soonestFirst);
}

/** Usually nothing is recorded ahead: one query tells, instead of one for every kind. */
async function kindsAhead(reader: Reader, kitchenId: string, on: string): Promise<FactKind[]> {
  const kinds = await reader.$queryRaw<{ kind: FactKind }[]>`
    SELECT DISTINCT kind FROM revision WHERE kitchen_id = ${kitchenId} AND valid_from > ${on}::date`;
  return FACT_KINDS.filter((kind) => kinds.some((row) => row.kind === kind));
}

function aheadFrom(stored: StoredRevision): Ahead {
  return { ...changeFrom(stored), name: stored.name, validFrom: stored.validFrom, revision: stored.revision };
}

export function soonestFirst(a: Pick<Ahead, "validFrom" | "revision">, b: Pick<Ahead, "validFrom" | "revision">): number {
  return a.validFrom < b.validFrom ? -1 : a.validFrom > b.validFrom ? 1 : a.revision - b.revision;
}

/** The last change that was known at the moment or number asked for; the newest when neither is given. Throws for an unknown kitchen. */
export async function changeKnown(reader: Reader, kitchenId: string, { knownAt, afterChange }: Omit<AsOf, "on">): Promise<number> {
  const newest = await changeNumber(reader, kitchenId);
  const known = afterChange === undefined ? newest : Math.min(afterChange, newest);
  if (knownAt === undefined) return known;
  const [row] = await reader.$queryRaw<{ no: number | null }[]>`
    SELECT max(no) AS no FROM change WHERE kitchen_id = ${kitchenId} AND at <= ${knownAt}::timestamptz`;
  return Math.min(known, row?.no ?? 0);
}

/** The number of the kitchen's last change. */
export async function changeNumber(reader: Reader, kitchenId: string): Promise<number> {
  const [row] = await reader.$queryRaw<{ change_no: number }[]>`SELECT change_no FROM kitchen WHERE id = ${kitchenId}`;
  if (!row) throw new Error(`expected a kitchen "${kitchenId}", there is none`);
  return row.change_no;
}

/** Takes the kitchen for this transaction: whoever else wants to commit to it waits. */
export async function lockKitchen(reader: Reader, kitchenId: string): Promise<{ changeNo: number; revisionNo: number; lastAt: string | null }> {
  const [row] = await reader.$queryRaw<{ change_no: number; revision_no: bigint }[]>`
    SELECT change_no, revision_no FROM kitchen WHERE id = ${kitchenId} FOR UPDATE`;
  if (!row) throw new Error(`expected a kitchen "${kitchenId}", there is none`);
  // Asked after the lock is held: a row read in the same query could be one from before the wait.
  const [last] = await reader.$queryRaw<{ at: string }[]>(Prisma.sql`
    SELECT ${momentSql(Prisma.sql`c.at`)} AS at FROM change c WHERE c.kitchen_id = ${kitchenId} AND c.no = ${row.change_no}`);
  return { changeNo: row.change_no, revisionNo: Number(row.revision_no), lastAt: last?.at ?? null };
}
