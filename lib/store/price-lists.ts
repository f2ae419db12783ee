/**
 * Dealers' price lists in the database: the file as it came, how it is laid out, what was said of its lines, until it is
 * recorded as one change or dropped; then the file itself is let go. How a dealer lays out their lists is remembered beside.
 * A list is no fact, and keeping one changes nothing of the book. A version counts the savings, as of try-outs.
 */
import { createHash } from "node:crypto";
import { factKey } from "@/lib/book";
import { readLayout } from "@/lib/buying";
import type { Prisma } from "@/prisma/generated/client";
import type { Clock } from "./clock";
import { commit } from "./commit";
import type { AddedPriceList, KeptPriceList, NewPriceList, PriceList, PriceListToKeep, RecordPriceList, RecordedPriceList, Who } from "./contract";
import type { Database, Transaction } from "./database";
import type { LiveBooks } from "./live-books";
import { unstorableText } from "./write-rows";

/** Of a kitchen or a dealer, the newest so many. */
const MOST_LISTED = 200;
const LONGEST_NAME = 200;
/** So many may wait at once: each keeps its file. */
const MOST_OPEN = 20;

const WITHOUT_FILE = {
  id: true, dealer: true, fileName: true, hash: true, readAt: true, readBy: true, layout: true, choices: true, version: true, changedAt: true, changedBy: true, madeChange: true, droppedAt: true, droppedBy: true,
} as const satisfies Prisma.PriceListSelect;

type Row = Prisma.PriceListGetPayload<{ select: typeof WITHOUT_FILE }>;

function listOf(row: Row): PriceList {
  return {
    id: row.id, dealerId: row.dealer.slice("dealer:".length), fileName: row.fileName, readAt: row.readAt.toISOString(), readBy: row.readBy, layout: row.layout, choices: row.choices,
    version: row.version, changedAt: row.changedAt.toISOString(), changedBy: row.changedBy, madeChange: row.madeChange,
    dropped: row.droppedAt === null ? null : { by: row.droppedBy ?? "", at: row.droppedAt.toISOString() },
  };
}

export async function priceLists({ prisma }: Database, kitchenId: string, dealerId?: string): Promise<readonly PriceList[]> {
  const rows = await prisma.priceList.findMany({
    where: { kitchenId, ...(dealerId === undefined ? {} : { dealer: factKey("dealer", dealerId) }) }, select: WITHOUT_FILE, orderBy: [{ readAt: "desc" }, { id: "asc" }], take: MOST_LISTED,
  });
  return rows.map(listOf);
}

export async function readPriceList({ prisma }: Database, kitchenId: string, id: string): Promise<PriceList | null> {
  const row = await prisma.priceList.findUnique({ where: { kitchenId_id: { kitchenId, id } }, select: WITHOUT_FILE });
  return row === null ? null : listOf(row);
}

/** null once the file has been let go. */
export async function priceListFile({ prisma }: Database, kitchenId: string, id: string): Promise<Uint8Array<ArrayBuffer> | null> {
  const row = await prisma.priceList.findUnique({ where: { kitchenId_id: { kitchenId, id } }, select: { bytes: true } });
  return row === null || row.bytes.length === 0 ? null : row.bytes;
}

export async function dealerLayout({ prisma }: Database, kitchenId: string, dealerId: string): Promise<unknown> {
  return (await prisma.dealerLayout.findUnique({ where: { kitchenId_dealer: { kitchenId, dealer: factKey("dealer", dealerId) } } }))?.layout ?? null;
}

/** A file that this dealer's lists hold already is not kept twice; one whose change has been undone may come again. */
export async function addPriceList(database: Database, clock: Clock, kitchenId: string, who: Who, list: NewPriceList): Promise<AddedPriceList> {
  const { id, dealerId, bytes, layout, choices } = list;
  if (id === "" || id.length > 120) throw new Error(`expected the id of a price list, got one of ${id.length} characters`);
  const refused = (code: string, sentence: string): AddedPriceList => ({ ok: false, reason: "problems", problems: [{ path: "file", code, sentence }] });
  if (bytes.length === 0) return refused("empty", "The file is empty. Choose another.");
  const fileName = list.fileName.replace(/[\0\p{Cc}\p{Cs}]/gu, "").trim().slice(-LONGEST_NAME) || "price list";
  if (unstorableText({ layout, choices }) !== null) return refused("unreadable-character", "The headings hold a character that cannot be kept. Save the list anew and send that.");
  const dealer = factKey("dealer", dealerId);
  const hash = createHash("sha256").update(bytes).digest("hex");
  const now = new Date(clock.now());
  return database.transaction(async (tx): Promise<AddedPriceList> => {
    // Two who send the same file at once stand in line.
    await tx.$queryRaw`SELECT 1 AS held FROM kitchen WHERE id = ${kitchenId} FOR UPDATE`;
    if (await tx.fact.count({ where: { kitchenId, key: dealer } }) === 0) return { ok: false, reason: "problems", problems: [{ path: "dealer", code: "not-in-the-book", sentence: "There is no such dealer in the book: choose another." }] };
    const same = await tx.priceList.findMany({ where: { kitchenId, dealer, hash, droppedAt: null }, select: WITHOUT_FILE, orderBy: { readAt: "desc" } });
    for (const row of same) if (row.madeChange === null || !await isUndone(tx, kitchenId, row.madeChange)) return { ok: false, reason: "known", list: listOf(row) };
    if (await tx.priceList.count({ where: { kitchenId, madeChange: null, droppedAt: null } }) >= MOST_OPEN) {
      return refused("too-many", `${MOST_OPEN} lists are waiting to be recorded already. Record or drop some of them first.`);
    }
    const row = await tx.priceList.create({
      data: { kitchenId, id, dealer, fileName, hash, bytes: new Uint8Array(bytes), readAt: now, readBy: who.name, changedAt: now, changedBy: who.name, layout: layout as Prisma.InputJsonValue, choices: choices as Prisma.InputJsonValue, version: 1 },
      select: WITHOUT_FILE,
    });
    return { ok: true, list: listOf(row) };
  });
}

/** Whether nothing of a change counts any more. */
async function isUndone(tx: Transaction, kitchenId: string, changeNo: number): Promise<boolean> {
  const left = await tx.$queryRaw<{ id: bigint }[]>`
    SELECT r.id FROM revision r WHERE r.kitchen_id = ${kitchenId} AND r.change_no = ${changeNo}
      AND NOT EXISTS (SELECT FROM revision c WHERE c.kitchen_id = ${kitchenId} AND c.replaces = r.id) LIMIT 1`;
  return left.length === 0;
}

export async function keepPriceList(database: Database, clock: Clock, kitchenId: string, who: Who, { id, version, layout, choices, remember }: PriceListToKeep): Promise<KeptPriceList> {
  if (unstorableText({ layout, choices }) !== null) return { ok: false, reason: "problems", problems: [{ path: "", code: "unreadable-character", sentence: "The text holds a character that cannot be kept (a broken or empty one). Type it again instead of pasting it." }] };
  const now = new Date(clock.now());
  return database.transaction(async (tx): Promise<KeptPriceList> => {
    const row = await locked(tx, kitchenId, id);
    if (row === null) return { ok: false, reason: "not-there" };
    if (row.version !== version || row.madeChange !== null || row.droppedAt !== null) return { ok: false, reason: "stale", theirs: listOf(row) };
    const kept = await tx.priceList.update({
      where: { kitchenId_id: { kitchenId, id } }, select: WITHOUT_FILE,
      data: { version: version + 1, changedAt: now, changedBy: who.name, layout: layout as Prisma.InputJsonValue, choices: choices as Prisma.InputJsonValue },
    });
    if (remember) await rememberLayout(tx, kitchenId, row.dealer, layout, now, who);
    return { ok: true, list: listOf(kept) };
  });
}

async function rememberLayout(tx: Transaction, kitchenId: string, dealer: string, layout: unknown, now: Date, who: Who): Promise<void> {
  const told = { layout: layout as Prisma.InputJsonValue, changedAt: now, changedBy: who.name };
  await tx.dealerLayout.upsert({ where: { kitchenId_dealer: { kitchenId, dealer } }, create: { kitchenId, dealer, ...told }, update: told });
}

/** Dropped for good: its file is let go. Dropping twice is dropping once; one that was recorded is in the record and stays. */
export async function dropPriceList(database: Database, clock: Clock, kitchenId: string, id: string, who: Who): Promise<KeptPriceList> {
  const now = new Date(clock.now());
  return database.transaction(async (tx): Promise<KeptPriceList> => {
    const row = await locked(tx, kitchenId, id);
    if (row === null) return { ok: false, reason: "not-there" };
    if (row.madeChange !== null) return { ok: false, reason: "stale", theirs: listOf(row) };
    if (row.droppedAt !== null) return { ok: true, list: listOf(row) };
    const data = { version: row.version + 1, changedAt: now, changedBy: who.name, droppedAt: now, droppedBy: who.name, bytes: new Uint8Array() };
    return { ok: true, list: listOf(await tx.priceList.update({ where: { kitchenId_id: { kitchenId, id } }, data, select: WITHOUT_FILE })) };
  });
}

/** The row, held until the end of the transaction. */
async function locked(tx: Transaction, kitchenId: string, id: string): Promise<Row | null> {
  await tx.$queryRaw`SELECT 1 AS held FROM price_list WHERE kitchen_id = ${kitchenId} AND id = ${id} FOR UPDATE`;
  return tx.priceList.findUnique({ where: { kitchenId_id: { kitchenId, id } }, select: WITHOUT_FILE });
}

/** Somebody was faster with the same list: the commit is undone with it. */
class MovedOn extends Error {}

export async function recordPriceList(database: Database, clock: Clock, books: LiveBooks, kitchenId: string, id: string, how: RecordPriceList): Promise<RecordedPriceList> {
  const { version, entries, basedOn, choices, who, why, watch } = how;
  const list = await readPriceList(database, kitchenId, id);
  if (list === null) return { ok: false, reason: "not-there" };
  if (list.version !== version || list.madeChange !== null || list.dropped !== null) return { ok: false, reason: "moved-on", theirs: list };
  const made = new Date(clock.now());
  try {
    return await commit(database, clock, books, kitchenId, { entries, basedOn, who, why }, async (tx, changeNo) => {
      const marked = await tx.priceList.updateMany({
        where: { kitchenId, id, version, madeChange: null, droppedAt: null },
        data: { madeChange: changeNo, changedAt: made, changedBy: who.name, version: version + 1, bytes: new Uint8Array(), choices: choices as Prisma.InputJsonValue },
      });
      if (marked.count !== 1) throw new MovedOn("the list has moved on");
      // A layout that a list was recorded by is right, whether somebody touched it or not. An electronic catalogue has none.
      if (readLayout(list.layout) !== null) await rememberLayout(tx, kitchenId, factKey("dealer", list.dealerId), list.layout, made, who);
    }, watch);
  } catch (error) {
    if (!(error instanceof MovedOn)) throw error;
    const theirs = await readPriceList(database, kitchenId, id);
    return theirs === null ? { ok: false, reason: "not-there" } : { ok: false, reason: "moved-on", theirs };
  }
}
