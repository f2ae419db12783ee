/**
 * Reading revisions with the facts they hold. One query for the revisions of each kind and one for each table of
 * details, whatever the number of rows; each answers with one JSON document (see tables/table.ts), since the reading
 * of a result set row by row takes several times longer than everything else together.
 */
import { FACT_KINDS, type Change, type FactKind, type FactOf, type Provenance } from "@/lib/book";
import { Prisma } from "@/prisma/generated/client";
import type { Fact } from "./contract";
import type { Transaction } from "./database";
import type { Selection } from "./in-force";
import { type Table, columnList, rowFrom, shapeOf } from "./tables";

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

/** The selected revisions, by kind, each kind in the order its facts came in. */
export async function readRevisions(
  reader: Reader, kitchenId: string, select: Selection, kinds: readonly FactKind[] = FACT_KINDS,
): Promise<StoredRevision[]> {
  const found: StoredRevision[] = [];
  for (const kind of kinds) {
    const heads = await readHeads(reader, kitchenId, select, kind);
    if (heads.some((head) => !head.withdrawn)) found.push(...await withFacts(reader, kitchenId, select, kind, heads));
    else found.push(...heads.map((head) => ({ ...head, fact: null })));
  }
  return found;
}

type HeadRow = [
  revision: number, id: string, name: string, validFrom: string, changeNo: number, replaces: number | null,
  withdrawn: boolean, recordedAt: string, by: string, why: string,
];

export async function readHeads(reader: Reader, kitchenId: string, select: Selection, kind: FactKind): Promise<RevisionHead[]> {
  const rows = await readJson<HeadRow>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(r.id, f.id, r.name, to_char(r.valid_from, 'YYYY-MM-DD'), r.change_no, r.replaces,
        r.withdrawn, ${momentSql(Prisma.sql`c.at`)}, c."by", c.why) ORDER BY f.first_revision, r.id)::text AS rows
    FROM (${select(kind)}) s
    JOIN revision r ON r.kitchen_id = ${kitchenId} AND r.id = s.id
    JOIN fact f ON f.kitchen_id = r.kitchen_id AND f.key = r.fact
    JOIN change c ON c.kitchen_id = r.kitchen_id AND c.no = r.change_no`);
  return rows.map(([revision, id, name, validFrom, changeNo, replaces, withdrawn, recordedAt, by, why]) => ({
    revision, kind, id, name, validFrom, changeNo, replaces, withdrawn, recordedAt, by, why,
  }));
}

/** The heads with their facts, made from the rows of all tables of the kind. */
async function withFacts(
  reader: Reader, kitchenId: string, select: Selection, kind: FactKind, heads: readonly RevisionHead[],
): Promise<StoredRevision[]> {
  const shape = shapeOf(kind);
  const details = new Map<string, ReadonlyMap<number, readonly unknown[]>>();
  for (const [name, table] of Object.entries(shape.tables)) {
    details.set(name, await readDetails(reader, kitchenId, select, kind, table));
  }
  return heads.map((head) => {
    if (head.withdrawn) return { ...head, fact: null };
    const rows = Object.fromEntries([...details].map(([name, byRevision]) => [name, byRevision.get(head.revision) ?? []]));
    return { ...head, fact: shape.toFact(head.id, rows as Parameters<typeof shape.toFact>[1]) };
  });
}

/** The rows of one table for the selected revisions, by revision, in their order within each. */
async function readDetails(
  reader: Reader, kitchenId: string, select: Selection, kind: FactKind, table: Table,
): Promise<ReadonlyMap<number, readonly unknown[]>> {
  const order = ["part", "position"].filter((name) => name in table.columns).map((name) => `, d.${name}`).join("");
  const rows = await readJson<[number, ...unknown[]]>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(d.revision, ${Prisma.raw(columnList(table))})
      ORDER BY d.revision${Prisma.raw(order)})::text AS rows
    FROM (${select(kind)}) s
    JOIN ${Prisma.raw(`"${table.name}"`)} d ON d.kitchen_id = ${kitchenId} AND d.revision = s.id`);
  const byRevision = new Map<number, unknown[]>();
  for (const values of rows) {
    const row = rowFrom(table, values, 1);
    const list = byRevision.get(values[0]);
    if (list) list.push(row);
    else byRevision.set(values[0], [row]);
  }
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
