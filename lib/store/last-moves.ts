/** What last moved each of many costs, and which way: the "last moved by" of a list, in two queries however long it is. */
import type { FactKind } from "@/lib/book";
import type { NodeKind } from "@/lib/cascade";
import { Decimal } from "@/lib/measure";
import { Prisma } from "@/prisma/generated/client";
import type { LastMove } from "./contract";
import { type Reader, momentSql, readJson } from "./read-revisions";
import { idIn } from "./tables/shape";

/** The newest recorded move of each cost; one that was never moved is not in the map. */
export async function readLastMoves(reader: Reader, kitchenId: string, kind: NodeKind, ids: readonly string[]): Promise<Map<string, LastMove>> {
  if (ids.length === 0) return new Map();
  const points = await readJson<[id: string, changeNo: number, amount: string | null, earlier: string | null, first: boolean]>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(i.id, now.change_no, now.amount::text, was.amount::text, was.change_no IS NULL))::text AS rows
    FROM json_array_elements_text(${JSON.stringify(ids)}::json) AS i(id)
    JOIN LATERAL (
      SELECT change_no, amount FROM cost_point
      WHERE kitchen_id = ${kitchenId} AND node_kind = ${kind} AND node_id = i.id ORDER BY change_no DESC LIMIT 1
    ) now ON true
    LEFT JOIN LATERAL (
      SELECT change_no, amount FROM cost_point
      WHERE kitchen_id = ${kitchenId} AND node_kind = ${kind} AND node_id = i.id AND change_no < now.change_no ORDER BY change_no DESC LIMIT 1
    ) was ON true`);
  const changes = await readCauses(reader, kitchenId, [...new Set(points.map(([, changeNo]) => changeNo))]);
  const moves = new Map<string, LastMove>();
  for (const [id, changeNo, amount, earlier, first] of points) {
    const change = changes.get(changeNo);
    if (!change) throw new Error(`expected change ${changeNo}, which moved ${kind} ${id}, in the record`);
    moves.set(id, { ...change, changeNo, direction: first || amount === null || earlier === null ? null : directionOf(new Decimal(earlier), new Decimal(amount)) });
  }
  return moves;
}

function directionOf(was: Decimal, is: Decimal): LastMove["direction"] {
  return is.gt(was) ? "up" : is.lt(was) ? "down" : null;
}

async function readCauses(reader: Reader, kitchenId: string, numbers: readonly number[]): Promise<Map<number, Omit<LastMove, "changeNo" | "direction">>> {
  if (numbers.length === 0) return new Map();
  const rows = await readJson<[no: number, at: string, by: string, key: string, name: string, kind: FactKind, factCount: number]>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(c.no, ${momentSql(Prisma.sql`c.at`)}, c."by", first.fact, first.name, first.kind, counted.facts))::text AS rows
    FROM json_array_elements_text(${JSON.stringify(numbers)}::json) AS n(no)
    JOIN change c ON c.kitchen_id = ${kitchenId} AND c.no = n.no::int
    JOIN LATERAL (SELECT fact, name, kind FROM revision WHERE kitchen_id = ${kitchenId} AND change_no = c.no ORDER BY id LIMIT 1) first ON true
    JOIN LATERAL (SELECT count(*) AS facts FROM revision WHERE kitchen_id = ${kitchenId} AND change_no = c.no) counted ON true`);
  return new Map(rows.map(([no, at, by, key, name, kind, factCount]) => [no, { at, by, cause: { kind, id: idIn(key), name }, factCount }]));
}
