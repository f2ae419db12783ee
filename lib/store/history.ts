/** Looking back: how a cost has moved, and every recorded state of one fact. */
import { type FactKind, factKey } from "@/lib/book";
import type { NodeCost, NodeRef } from "@/lib/cascade";
import { Decimal } from "@/lib/measure";
import { Prisma } from "@/prisma/generated/client";
import type { CostPoint, Revision } from "./contract";
import { selectHistory } from "./in-force";
import { type BorrowedRows, type MissingRow, missingFrom } from "./read-ripple";
import { type Reader, momentSql, readJson, readRevisions } from "./read-revisions";

export async function readCostHistory(reader: Reader, kitchenId: string, { kind, id }: NodeRef): Promise<CostPoint[]> {
  const rows = await readJson<[string, number, string | null, NodeCost["per"], MissingRow[], BorrowedRows]>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(${momentSql(Prisma.sql`c.at`)}, p.change_no, p.amount::text, p.per, p.missing, p.borrowed)
      ORDER BY p.change_no)::text AS rows
    FROM cost_point p JOIN change c ON c.kitchen_id = p.kitchen_id AND c.no = p.change_no
    WHERE p.kitchen_id = ${kitchenId} AND p.node_kind = ${kind} AND p.node_id = ${id}`);
  return rows.map(([at, changeNo, amount, per, missing, borrowed]) => ({
    at, changeNo, amount: amount === null ? null : new Decimal(amount), per, atLeast: missing.length > 0, missing: missingFrom(missing), borrowed: borrowed ?? [],
  }));
}

export async function readRevisionsOf(reader: Reader, kitchenId: string, kind: FactKind, id: string): Promise<Revision[]> {
  const stored = await readRevisions(reader, kitchenId, selectHistory(kitchenId, [factKey(kind, id)]), [kind]);
  const replacedBy = new Map(stored.flatMap(({ revision, replaces }) => (replaces === null ? [] : [[replaces, revision]])));
  return stored
    .map(({ withdrawn: _, ...revision }) => ({ ...revision, replacedBy: replacedBy.get(revision.revision) ?? null }))
    .sort((a, b) => b.revision - a.revision);
}
