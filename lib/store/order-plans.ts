/**
 * Order plans in the database: what is to be served and what is on hand, kept by name. They are no facts, and keeping one
 * changes nothing of the book. A version counts the savings, as of try-outs, so that of two people who change the same plan
 * the second is told what the first has done.
 */
import { MOST_ORDER_ROWS, ORDER_NAME_LIMIT, ORDER_NOTE_LIMIT, readOrderPlan } from "@/lib/buying";
import type { Prisma } from "@/prisma/generated/client";
import type { Clock } from "./clock";
import type { KeptOrder, KeptOrderPlan, OrderPlanToKeep, Who } from "./contract";
import type { Database, Transaction } from "./database";
import { unstorableText } from "./write-rows";

const MOST_LISTED = 200;

type Row = Prisma.OrderPlanGetPayload<object>;

function planOf(row: Row): KeptOrderPlan {
  const { plan, lost } = readOrderPlan(row.body);
  return {
    id: row.id, name: row.name, forDay: row.forDay === null ? null : row.forDay.toISOString().slice(0, 10), plan, lost,
    createdBy: row.createdBy, createdAt: row.createdAt.toISOString(), changedBy: row.changedBy, changedAt: row.changedAt.toISOString(), version: row.version,
    dropped: row.droppedAt === null ? null : { by: row.droppedBy ?? "", at: row.droppedAt.toISOString() },
  };
}

export async function orderPlans({ prisma }: Database, kitchenId: string): Promise<readonly KeptOrderPlan[]> {
  const rows = await prisma.orderPlan.findMany({ where: { kitchenId }, orderBy: [{ changedAt: "desc" }, { id: "asc" }], take: MOST_LISTED });
  return rows.map(planOf);
}

export async function readOrderPlanOf({ prisma }: Database, kitchenId: string, id: string): Promise<KeptOrderPlan | null> {
  const row = await prisma.orderPlan.findUnique({ where: { kitchenId_id: { kitchenId, id } } });
  return row === null ? null : planOf(row);
}

export async function keepOrderPlan(database: Database, clock: Clock, kitchenId: string, who: Who, { id, name, forDay, plan, version }: OrderPlanToKeep): Promise<KeptOrder> {
  const called = name.replace(/\s+/g, " ").trim();
  const refused = (path: string, code: string, sentence: string): KeptOrder => ({ ok: false, reason: "problems", problems: [{ path, code, sentence }] });
  if (called === "") return refused("name", "no-name", "Give the order a name, so that it can be found again: the event, or the day.");
  if (called.length > ORDER_NAME_LIMIT) return refused("name", "too-long", `A name has at most ${ORDER_NAME_LIMIT} characters; this one has ${called.length}.`);
  if (plan.note.length > ORDER_NOTE_LIMIT) return refused("note", "too-long", `A note has at most ${ORDER_NOTE_LIMIT} characters; this one has ${plan.note.length}.`);
  if ([plan.dishes, plan.lines, plan.onHand].some((rows) => rows.length > MOST_ORDER_ROWS)) return refused("", "too-many", `An order holds at most ${MOST_ORDER_ROWS} rows of each sort. Begin another for the rest.`);
  if (id === "" || id.length > 120) throw new Error(`expected the id of an order, got one of ${id.length} characters`);
  if (unstorableText({ called, plan }) !== null) return refused("", "unreadable-character", "The text holds a character that cannot be kept (a broken or empty one). Type it again instead of pasting it.");
  const now = new Date(clock.now());
  const kept = { name: called, forDay: forDay === null ? null : new Date(`${forDay}T00:00:00.000Z`), body: plan as unknown as Prisma.InputJsonValue, changedAt: now, changedBy: who.name };
  return database.transaction(async (tx): Promise<KeptOrder> => {
    const row = await locked(tx, kitchenId, id);
    if (row === null) {
      if (version !== null) return { ok: false, reason: "not-there" };
      return { ok: true, order: planOf(await tx.orderPlan.create({ data: { kitchenId, id, createdAt: now, createdBy: who.name, version: 1, ...kept } })) };
    }
    if (row.version !== version || row.droppedAt !== null) return { ok: false, reason: "stale", theirs: planOf(row) };
    return { ok: true, order: planOf(await tx.orderPlan.update({ where: { kitchenId_id: { kitchenId, id } }, data: { version: row.version + 1, ...kept } })) };
  });
}

/** Dropping twice is dropping once. */
export async function dropOrderPlan(database: Database, clock: Clock, kitchenId: string, id: string, who: Who, dropped: boolean): Promise<KeptOrder> {
  const now = new Date(clock.now());
  return database.transaction(async (tx): Promise<KeptOrder> => {
    const row = await locked(tx, kitchenId, id);
    if (row === null) return { ok: false, reason: "not-there" };
    if ((row.droppedAt !== null) === dropped) return { ok: true, order: planOf(row) };
    const data = { version: row.version + 1, changedAt: now, changedBy: who.name, droppedAt: dropped ? now : null, droppedBy: dropped ? who.name : null };
    return { ok: true, order: planOf(await tx.orderPlan.update({ where: { kitchenId_id: { kitchenId, id } }, data })) };
  });
}

/** The row, held until the end of the transaction. */
async function locked(tx: Transaction, kitchenId: string, id: string): Promise<Row | null> {
  await tx.$queryRaw`SELECT 1 AS held FROM order_plan WHERE kitchen_id = ${kitchenId} AND id = ${id} FOR UPDATE`;
  return tx.orderPlan.findUnique({ where: { kitchenId_id: { kitchenId, id } } });
}
