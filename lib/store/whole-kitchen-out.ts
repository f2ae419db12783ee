/**
 * The whole kitchen as a file (lib/exchange/whole/kitchen-file.ts), piece by piece: changes are read a few hundred revisions at a
 * time, so that a record of years takes no more memory than one of its larger changes. Everything up to the change that was
 * the last when it began: a record only grows, so that later commits do not show.
 */
import { FACT_KINDS, kitchenOf } from "@/lib/book";
import { type FileLayout, type FileOrderPlan, type FileTryout, KITCHEN_IN_FILE, fileBegins, fileEnds, fileLines } from "@/lib/exchange";
import { Prisma } from "@/prisma/generated/client";
import type { Clock } from "./clock";
import type { LiveBook } from "./contract";
import type { Database } from "./database";
import type { Selection } from "./in-force";
import { type Reader, momentSql, readJson, readRevisions } from "./read-revisions";
import { idIn } from "./tables/shape";
import { tryoutOf } from "./tryouts";

/** Read at once, unless one change alone has more. */
const REVISIONS_AT_ONCE = 400;

export async function* kitchenFile(database: Database, clock: Clock, live: LiveBook): AsyncGenerator<string> {
  const { kitchenId, changeNo } = live;
  const reader = database.prisma;
  yield fileBegins({ exportedAt: new Date(clock.now()).toISOString(), kitchen: { id: kitchenId, name: kitchenOf(live.book).name } });
  let first = true;
  for (const batch of await batches(reader, kitchenId, changeNo)) {
    yield fileLines(await readChanges(reader, kitchenId, batch), first);
    first = false;
  }
  yield fileEnds({ tryouts: await readTryouts(database, kitchenId, changeNo), layouts: await readLayouts(database, kitchenId), orderPlans: await readOrderPlans(database, kitchenId) });
}

interface Batch {
  readonly from: number;
  readonly to: number;
}

async function batches(reader: Reader, kitchenId: string, changeNo: number): Promise<readonly Batch[]> {
  const counts = await readJson<[number, number]>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(s.change_no, s.n) ORDER BY s.change_no)::text AS rows
    FROM (SELECT change_no, count(*) AS n FROM revision WHERE kitchen_id = ${kitchenId} AND change_no <= ${changeNo} GROUP BY change_no) s`);
  const found: { from: number; to: number; revisions: number }[] = [];
  for (const [no, revisions] of counts) {
    const last = found.at(-1);
    if (last !== undefined && last.revisions + revisions <= REVISIONS_AT_ONCE) {
      last.to = no;
      last.revisions += revisions;
    } else found.push({ from: no, to: no, revisions });
  }
  return found;
}

async function readChanges(reader: Reader, kitchenId: string, { from, to }: Batch): Promise<readonly object[]> {
  const changes = await readJson<[number, string, string, string]>(reader, Prisma.sql`
    SELECT json_agg(json_build_array(c.no, ${momentSql(Prisma.sql`c.at`)}, c."by", c.why) ORDER BY c.no)::text AS rows
    FROM change c WHERE c.kitchen_id = ${kitchenId} AND c.no BETWEEN ${from} AND ${to}`);
  const selection: Selection = (kind) => Prisma.sql`SELECT r.* FROM revision r WHERE r.kitchen_id = ${kitchenId} AND r.kind = ${kind} AND r.change_no BETWEEN ${from} AND ${to}`;
  const byChange = new Map<number, { readonly revision: number }[]>();
  for (const { revision, kind, id, name, validFrom, replaces, fact, changeNo } of await readRevisions(reader, kitchenId, selection, FACT_KINDS)) {
    const own = kind === "kitchen" ? KITCHEN_IN_FILE : id;
    const told = { revision, kind, id: own, name, validFrom, replaces, fact: fact === null || kind !== "kitchen" ? fact : { ...fact, id: own } };
    const list = byChange.get(changeNo);
    if (list) list.push(told);
    else byChange.set(changeNo, [told]);
  }
  return changes.map(([no, at, by, why]) => ({ no, at, by, why, revisions: (byChange.get(no) ?? []).sort((a, b) => a.revision - b.revision) }));
}

const dropped = (at: Date | null, by: string | null) => (at === null ? null : { by: by ?? "", at: at.toISOString() });

async function readTryouts({ prisma }: Database, kitchenId: string, changeNo: number): Promise<readonly FileTryout[]> {
  const rows = await prisma.tryout.findMany({ where: { kitchenId }, orderBy: [{ createdAt: "asc" }, { id: "asc" }] });
  return rows.map(tryoutOf).map(({ id, name, createdAt, createdBy, changedAt, changedBy, version, moves, madeChange, dropped: gone }) => ({
    id, name, createdAt, createdBy, changedAt, changedBy, version,
    // Made real since the reading began: the change is not in the file.
    madeChange: madeChange !== null && madeChange > changeNo ? null : madeChange, dropped: gone, moves,
  }));
}

async function readLayouts({ prisma }: Database, kitchenId: string): Promise<readonly FileLayout[]> {
  const rows = await prisma.dealerLayout.findMany({ where: { kitchenId }, orderBy: { dealer: "asc" } });
  return rows.map(({ dealer, layout, changedAt, changedBy }) => ({ dealerId: idIn(dealer), changedAt: changedAt.toISOString(), changedBy, layout }));
}

async function readOrderPlans({ prisma }: Database, kitchenId: string): Promise<readonly FileOrderPlan[]> {
  const rows = await prisma.orderPlan.findMany({ where: { kitchenId }, orderBy: [{ createdAt: "asc" }, { id: "asc" }] });
  return rows.map(({ id, name, forDay, body, createdAt, createdBy, changedAt, changedBy, version, droppedAt, droppedBy }) => ({
    id, name, forDay: forDay === null ? null : forDay.toISOString().slice(0, 10), createdAt: createdAt.toISOString(), createdBy,
    changedAt: changedAt.toISOString(), changedBy, version, dropped: dropped(droppedAt, droppedBy), body,
  }));
}
