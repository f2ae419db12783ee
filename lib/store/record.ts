/**
 * The record: who changed what, when and why, and what it did. Every change is there for good, with each fact as it
 * was and as it became, and the ripple it was saved with.
 */
import { FACT_KINDS } from "@/lib/book";
import type { NodeKind } from "@/lib/cascade";
import { Prisma } from "@/prisma/generated/client";
import type { ChangedFact, CrossingName, Fact, RecordEntry, RecordEntryWithRipple } from "./contract";
import { inForce, selectHistory, selectThese } from "./in-force";
import { readReport } from "./read-ripple";
import { type Reader, byFactKey, momentSql, readHeads, readJson, readRevisions } from "./read-revisions";

/** So many facts of a change are told, in a list of changes and in a single one; the rest are counted. A single one can be undone as a whole, a long price list too. */
const FACTS_IN_LIST = 12;
const FACTS_IN_ENTRY = 50_000;

export async function readRecord(
  reader: Reader, kitchenId: string, { before, limit }: { readonly before?: number | undefined; readonly limit: number },
): Promise<RecordEntry[]> {
  return readEntries(reader, kitchenId, Prisma.sql`
    SELECT no FROM change WHERE kitchen_id = ${kitchenId} ${before === undefined ? Prisma.empty : Prisma.sql`AND no < ${before}`}
    ORDER BY no DESC LIMIT ${limit}`, FACTS_IN_LIST);
}

export async function readRecordEntry(reader: Reader, kitchenId: string, changeNo: number, most = FACTS_IN_ENTRY): Promise<RecordEntryWithRipple | null> {
  const [entry] = await readEntries(reader, kitchenId, Prisma.sql`
    SELECT no FROM change WHERE kitchen_id = ${kitchenId} AND no = ${changeNo}`, Math.min(most, FACTS_IN_ENTRY));
  const ripple = entry && await readReport(reader, kitchenId, changeNo);
  return entry && ripple ? { ...entry, ripple } : null;
}

type ChangeRow = [no: number, at: string, by: string, why: string];

/** The changes that `chosen` names by their numbers (column "no"), newest first. */
async function readEntries(reader: Reader, kitchenId: string, chosen: Prisma.Sql, most: number): Promise<RecordEntry[]> {
  const changes = await readJson<ChangeRow>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(c.no, ${momentSql(Prisma.sql`c.at`)}, c."by", c.why) ORDER BY c.no DESC)::text AS rows
    FROM (${chosen}) s JOIN change c ON c.kitchen_id = ${kitchenId} AND c.no = s.no`);
  if (changes.length === 0) return [];
  const facts = await readChangedFacts(reader, kitchenId, chosen, most);
  const moved = await readMovedCounts(reader, kitchenId, chosen);
  const crossings = await readCrossings(reader, kitchenId, chosen);
  return changes.map(([changeNo, at, by, why]) => ({
    changeNo, at, by, why,
    facts: facts.filter((fact) => fact.changeNo === changeNo).map(({ changeNo: _, total: __, ...fact }) => fact),
    factCount: facts.find((fact) => fact.changeNo === changeNo)?.total ?? 0,
    moved: { item: 0, cut: 0, spec: 0, recipe: 0, dish: 0, ...moved.get(changeNo) },
    crossings: crossings.get(changeNo) ?? [],
  }));
}

interface InChange {
  readonly changeNo: number;
  /** How many facts the change has in all. */
  readonly total: number;
}

/**
 * The facts of the changes, at most so many of each, with what they were: the revision that a correction corrects, and
 * otherwise the one that was in force, as known just before, on the day from which the new one applies.
 */
async function readChangedFacts(reader: Reader, kitchenId: string, chosen: Prisma.Sql, most: number): Promise<(ChangedFact & InChange)[]> {
  const rows = await readJson<[revision: number, key: string, total: number]>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(r.id, r.fact, r.total))::text AS rows
    FROM (
      SELECT id, fact, count(*) OVER (PARTITION BY change_no) AS total, row_number() OVER (PARTITION BY change_no ORDER BY id) AS place
      FROM revision WHERE kitchen_id = ${kitchenId} AND change_no IN (SELECT no FROM (${chosen}) s)
    ) r
    WHERE r.place <= ${most}`);
  if (rows.length === 0) return [];
  const keys = [...new Set(rows.map(([, key]) => key))];
  const kinds = FACT_KINDS.filter((kind) => keys.some((key) => key.startsWith(`${kind}:`)));
  const heads = await readHeads(reader, kitchenId, selectHistory(kitchenId, keys), kinds);
  const byFact = byFactKey(heads);
  const byId = new Map(heads.map((head) => [head.revision, head]));
  const told = rows.map(([revision, key, total]) => {
    const head = byId.get(revision);
    if (!head) throw new Error(`expected revision ${revision} among those of ${key}`);
    const earlier = (byFact.get(key) ?? []).filter((other) => other.revision < revision);
    const later = (byFact.get(key) ?? []).filter((other) => other.revision > revision).map((other) => other.changeNo);
    return {
      head, total, before: head.replaces ?? inForce(earlier, head.validFrom)?.revision ?? null,
      replacedFrom: head.replaces === null ? null : byId.get(head.replaces)?.validFrom ?? null,
      laterChange: later.length === 0 ? null : Math.min(...later),
    };
  });
  const wanted = new Set(told.flatMap(({ head, before }) => (before === null ? [head.revision] : [head.revision, before])));
  const stored = await readRevisions(reader, kitchenId, selectThese(kitchenId, [...wanted]), kinds);
  const facts = new Map<number, Fact | null>(stored.map(({ revision, fact }) => [revision, fact]));
  return told
    .map(({ head: { revision, kind, id, name, validFrom, replaces, changeNo }, total, before, replacedFrom, laterChange }) => ({
      changeNo, total, kind, id, name, revision, validFrom, replaces, replacedFrom, laterChange,
      before: before === null ? null : facts.get(before) ?? null, after: facts.get(revision) ?? null,
    }))
    .sort((a, b) => a.revision - b.revision);
}

async function readMovedCounts(reader: Reader, kitchenId: string, chosen: Prisma.Sql): Promise<Map<number, Partial<Record<NodeKind, number>>>> {
  const rows = await readJson<[number, NodeKind, number]>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(change_no, node_kind, moved))::text AS rows FROM (
      SELECT change_no, node_kind, count(*) AS moved FROM ripple
      WHERE kitchen_id = ${kitchenId} AND change_no IN (SELECT no FROM (${chosen}) s) GROUP BY change_no, node_kind
      UNION ALL
      SELECT change_no, 'dish', count(*) FROM dish_ripple
      WHERE kitchen_id = ${kitchenId} AND change_no IN (SELECT no FROM (${chosen}) s) GROUP BY change_no
    ) counted`);
  const counts = new Map<number, Partial<Record<NodeKind, number>>>();
  for (const [changeNo, kind, moved] of rows) counts.set(changeNo, { ...counts.get(changeNo), [kind]: moved });
  return counts;
}

async function readCrossings(reader: Reader, kitchenId: string, chosen: Prisma.Sql): Promise<Map<number, CrossingName[]>> {
  const rows = await readJson<[number, string, string, CrossingName["direction"]]>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(change_no, dish_id, name, crossing) ORDER BY change_no, position)::text AS rows
    FROM dish_ripple
    WHERE kitchen_id = ${kitchenId} AND change_no IN (SELECT no FROM (${chosen}) s) AND crossing IS NOT NULL`);
  const crossings = new Map<number, CrossingName[]>();
  for (const [changeNo, dishId, name, direction] of rows) {
    crossings.set(changeNo, [...(crossings.get(changeNo) ?? []), { dishId, name, direction }]);
  }
  return crossings;
}
