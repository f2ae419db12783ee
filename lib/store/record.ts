/**
 * The record: who changed what, when and why, and what it did. Every change is there for good, with each fact as it
 * was and as it became, and the ripple it was saved with.
 */
import { FACT_KINDS, type FactKind } from "@/lib/book";
import type { NodeKind } from "@/lib/cascade";
import { Prisma } from "@/prisma/generated/client";
import type { ChangedFact, CrossingName, Fact, RecordEntry, RecordEntryWithRipple } from "./contract";
import { selectThese } from "./in-force";
import { readReport } from "./read-ripple";
import { type Reader, momentSql, readJson, readRevisions } from "./read-revisions";

/** In a list of changes, so many facts of each are told; the rest are counted. */
const FACTS_IN_LIST = 12;

export async function readRecord(
  reader: Reader, kitchenId: string, { before, limit }: { readonly before?: number | undefined; readonly limit: number },
): Promise<RecordEntry[]> {
  return readEntries(reader, kitchenId, Prisma.sql`
    SELECT no FROM change WHERE kitchen_id = ${kitchenId} ${before === undefined ? Prisma.empty : Prisma.sql`AND no < ${before}`}
    ORDER BY no DESC LIMIT ${limit}`, FACTS_IN_LIST);
}

export async function readRecordEntry(reader: Reader, kitchenId: string, changeNo: number): Promise<RecordEntryWithRipple | null> {
  const [entry] = await readEntries(reader, kitchenId, Prisma.sql`
    SELECT no FROM change WHERE kitchen_id = ${kitchenId} AND no = ${changeNo}`, null);
  const ripple = entry && await readReport(reader, kitchenId, changeNo);
  return entry && ripple ? { ...entry, ripple } : null;
}

type ChangeRow = [no: number, at: string, by: string, why: string];

/** The changes that `chosen` names by their numbers (column "no"), newest first. */
async function readEntries(reader: Reader, kitchenId: string, chosen: Prisma.Sql, most: number | null): Promise<RecordEntry[]> {
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

type FactRow = [
  changeNo: number, kind: FactKind, id: string, name: string, revision: number, validFrom: string,
  replaces: number | null, before: number | null, total: number,
];

/**
 * The facts of the changes with what they were: the revision that a correction corrects, and otherwise the one that
 * was in force, as known just before, on the day from which the new one applies.
 */
async function readChangedFacts(
  reader: Reader, kitchenId: string, chosen: Prisma.Sql, most: number | null,
): Promise<(ChangedFact & { changeNo: number; total: number })[]> {
  const rows = await readJson<FactRow>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(r.change_no, r.kind, f.id, r.name, r.id, to_char(r.valid_from, 'YYYY-MM-DD'), r.replaces,
      coalesce(r.replaces, b.id), r.total) ORDER BY r.id)::text AS rows
    FROM (
      SELECT r.*, count(*) OVER (PARTITION BY r.change_no) AS total, row_number() OVER (PARTITION BY r.change_no ORDER BY r.id) AS place
      FROM revision r WHERE r.kitchen_id = ${kitchenId} AND r.change_no IN (SELECT no FROM (${chosen}) s)
    ) r
    JOIN fact f ON f.kitchen_id = r.kitchen_id AND f.key = r.fact
    LEFT JOIN LATERAL (
      SELECT p.id FROM revision p
      WHERE p.kitchen_id = r.kitchen_id AND p.kind = r.kind AND p.fact = r.fact AND p.id < r.id AND p.valid_from <= r.valid_from
        AND NOT EXISTS (SELECT FROM revision c WHERE c.kitchen_id = p.kitchen_id AND c.replaces = p.id AND c.id < r.id)
      ORDER BY p.valid_from DESC, p.id DESC LIMIT 1
    ) b ON r.replaces IS NULL
    ${most === null ? Prisma.empty : Prisma.sql`WHERE r.place <= ${most}`}`);
  const ids = new Set(rows.flatMap((row) => [row[4], ...(row[7] === null ? [] : [row[7]])]));
  const kinds = FACT_KINDS.filter((kind) => rows.some((row) => row[1] === kind));
  const stored = await readRevisions(reader, kitchenId, selectThese(kitchenId, [...ids]), kinds);
  const facts = new Map<number, Fact | null>(stored.map(({ revision, fact }) => [revision, fact]));
  return rows.map(([changeNo, kind, id, name, revision, validFrom, replaces, before, total]) => ({
    changeNo, total, kind, id, name, revision, validFrom, replaces,
    before: before === null ? null : facts.get(before) ?? null, after: facts.get(revision) ?? null,
  }));
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
