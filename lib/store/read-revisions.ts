/**
 * Reading revisions with the facts they hold. One query for the revisions of each kind, one for the details in each
 * table, one each for their changes and for the order their facts came in, whatever the number of rows. Each asks one
 * table, with the ids in one parameter, and answers with one JSON document (see tables/table.ts): nothing is left to a
 * planner's guess, and reading a result set row by row takes longer than all the rest.
 */
import { FACT_KINDS, type Change, type FactKind, type FactOf, type Provenance, factKey } from "@/lib/book";
import { Prisma } from "@/prisma/generated/client";
import type { Fact } from "./contract";
import type { Transaction } from "./database";
import type { Selection } from "./in-force";
import { type Columns, type Row, type Table, columnList, rowFrom, shapeOf } from "./tables";
import { idIn } from "./tables/shape";

/** Either the client in a transaction or the one outside; reading does not mind which. */
export type Reader = Pick<Transaction, "$queryRaw">;

/** A moment in the form in which it leaves the database, "2026-11-25T09:30:00.000Z". */
export function momentSql(column: Prisma.Sql): Prisma.Sql {
  return Prisma.sql`to_char(${column} AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;
}

export interface RevisionHead {
  readonly revision: number;
  readonly kind: FactKind;
  readonly id: string;
  readonly name: string;
  readonly validFrom: string;
  readonly changeNo: number;
  readonly replaces: number | null;
  readonly withdrawn: boolean;
  readonly recordedAt: string;
  readonly by: string;
  readonly why: string;
}

/** A revision with the fact it holds, null when it takes the fact off the book. */
export type StoredRevision = RevisionHead & { readonly fact: Fact | null };

/** The selected revisions with their facts, by kind, each kind in the order its facts came in. */
export async function readRevisions(
  reader: Reader, kitchenId: string, select: Selection, kinds: readonly FactKind[] = FACT_KINDS,
): Promise<StoredRevision[]> {
  const heads = await readHeads(reader, kitchenId, select, kinds);
  const found: StoredRevision[] = [];
  for (const kind of kinds) {
    const ofKind = heads.filter((head) => head.kind === kind);
    found.push(...await withFacts(reader, kitchenId, kind, ofKind));
  }
  return found;
}

type RevisionRow = [
  revision: number, fact: string, name: string, validFrom: string, changeNo: number, replaces: number | null, withdrawn: boolean,
];

/** The selected revisions without their facts, by kind, each kind in the order its facts came in. */
export async function readHeads(
  reader: Reader, kitchenId: string, select: Selection, kinds: readonly FactKind[] = FACT_KINDS,
): Promise<RevisionHead[]> {
  const rows: (readonly [FactKind, RevisionRow])[] = [];
  for (const kind of kinds) {
    const ofKind = await readJson<RevisionRow>(reader, Prisma.sql`
      SELECT json_agg(json_build_array(s.id, s.fact, s.name, to_char(s.valid_from, 'YYYY-MM-DD'), s.change_no, s.replaces, s.withdrawn))::text AS rows
      FROM (${select(kind)}) s`);
    for (const row of ofKind) rows.push([kind, row]);
  }
  const changes = await readChanges(reader, kitchenId, new Set(rows.map(([, row]) => row[4])));
  const places = await readPlaces(reader, kitchenId, new Set(rows.map(([, row]) => row[1])));
  const place = (row: RevisionRow): number => places.get(row[1]) ?? 0;
  const order = new Map(kinds.map((kind, at) => [kind, at]));
  rows.sort(([a, x], [b, y]) => (order.get(a) ?? 0) - (order.get(b) ?? 0) || place(x) - place(y) || x[0] - y[0]);
  return rows.map(([kind, [revision, key, name, validFrom, changeNo, replaces, withdrawn]]) => {
    const change = changes.get(changeNo);
    if (!change) throw new Error(`expected change ${changeNo} of revision ${revision}`);
    return { revision, kind, id: idIn(key), name, validFrom, changeNo, replaces, withdrawn, ...change };
  });
}

/** Revisions by the key of their fact, in the order given. */
export function byFactKey(heads: readonly RevisionHead[]): Map<string, RevisionHead[]> {
  const byFact = new Map<string, RevisionHead[]>();
  for (const head of heads) {
    const key = factKey(head.kind, head.id);
    const list = byFact.get(key);
    if (list) list.push(head);
    else byFact.set(key, [head]);
  }
  return byFact;
}

/** When, by whom and why, of changes by number. */
async function readChanges(
  reader: Reader, kitchenId: string, numbers: ReadonlySet<number>,
): Promise<ReadonlyMap<number, Pick<RevisionHead, "recordedAt" | "by" | "why">>> {
  if (numbers.size === 0) return new Map();
  const rows = await readJson<[number, string, string, string]>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(c.no, ${momentSql(Prisma.sql`c.at`)}, c."by", c.why))::text AS rows
    FROM change c WHERE c.kitchen_id = ${kitchenId} AND c.no = ANY (${[...numbers]}::int[])`);
  return new Map(rows.map(([no, recordedAt, by, why]) => [no, { recordedAt, by, why }]));
}

/** The order in which facts came in, by key. */
async function readPlaces(reader: Reader, kitchenId: string, keys: ReadonlySet<string>): Promise<ReadonlyMap<string, number>> {
  if (keys.size < 2) return new Map();
  return new Map(await readJson<[string, number]>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(f.key, f.first_revision))::text AS rows
    FROM fact f WHERE f.kitchen_id = ${kitchenId} AND f.key = ANY (${[...keys]}::text[])`));
}

/** Revisions of one kind with their facts, made from the rows of all tables of the kind. */
async function withFacts(
  reader: Reader, kitchenId: string, kind: FactKind, heads: readonly RevisionHead[],
): Promise<StoredRevision[]> {
  const ids = heads.filter((head) => !head.withdrawn).map((head) => head.revision);
  if (ids.length === 0) return heads.map((head) => ({ ...head, fact: null }));
  const shape = shapeOf(kind);
  const details = new Map<string, ReadonlyMap<number, readonly unknown[]>>();
  for (const [name, table] of Object.entries(shape.tables)) {
    details.set(name, await readDetails(reader, kitchenId, ids, table));
  }
  return heads.map((head) => {
    if (head.withdrawn) return { ...head, fact: null };
    const rows = Object.fromEntries([...details].map(([name, byRevision]) => [name, byRevision.get(head.revision) ?? []]));
    return { ...head, fact: shape.toFact(head.id, rows as Parameters<typeof shape.toFact>[1]) };
  });
}

/** The rows of one table for these revisions, by revision, in their order within each. */
async function readDetails(
  reader: Reader, kitchenId: string, ids: readonly number[], table: Table,
): Promise<ReadonlyMap<number, readonly unknown[]>> {
  const rows = await readJson<[number, ...unknown[]]>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(d.revision, ${Prisma.raw(columnList(table))}))::text AS rows
    FROM ${Prisma.raw(`"${table.name}"`)} d WHERE d.kitchen_id = ${kitchenId} AND d.revision = ANY (${ids.map(BigInt)}::bigint[])`);
  const byRevision = new Map<number, Row<Columns>[]>();
  for (const values of rows) {
    const row = rowFrom(table, values, 1);
    const list = byRevision.get(values[0]);
    if (list) list.push(row);
    else byRevision.set(values[0], [row]);
  }
  if ("position" in table.columns) for (const list of byRevision.values()) list.sort((a, b) => Number(a.position) - Number(b.position));
  return byRevision;
}

/** The rows of a query that answers with one JSON array in the column "rows" (null for none). */
export async function readJson<R>(reader: Reader, query: Prisma.Sql): Promise<R[]> {
  const [answer] = await reader.$queryRaw<{ rows: string | null }[]>(query);
  return answer?.rows ? (JSON.parse(answer.rows) as R[]) : [];
}

/** The revision as a change of a book that was recorded. */
export function changeFrom(stored: StoredRevision): Change {
  return recordedChange(stored.kind, stored.id, stored.fact, stored);
}

/** A change of a book with where it comes from. */
export function recordedChange(kind: FactKind, id: string, after: Fact | null, provenance: Provenance): Change {
  const { revision, validFrom, recordedAt, by, why } = provenance;
  // Fact and kind belong together: both come from the same revision or the same commission.
  return { kind, id, after: after as FactOf[typeof kind] | null, provenance: { revision, validFrom, recordedAt, by, why } } as Change;
}
