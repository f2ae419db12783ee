/**
 * Sheets at the block: kept entry by entry as devices send them, long before anything is recorded as a test. Sending the
 * same entries again changes nothing, so a device that does not know whether its last sending arrived simply sends
 * anew. Within a sheet entries are numbered in the order they arrive; a device asks for what came after the last
 * number it has seen.
 */
import { type BlockBody, type BlockEntry, MOST_ENTRIES } from "@/lib/book";
import { type Checked, bad, good } from "@/lib/measure";
import type { Prisma } from "@/prisma/generated/client";
import type { Clock } from "./clock";
import type { SentEntry, SheetAtTheBlock, SheetsAnswer, Who } from "./contract";
import type { Database } from "./database";

export async function startSheet(database: Database, clock: Clock, kitchenId: string, id: string, who: Who, entries: readonly BlockEntry[]): Promise<void> {
  const now = new Date(clock.now());
  await database.transaction(async (tx) => {
    // The same sheet started twice, by a button pressed twice, is one.
    const made = await tx.$executeRaw`
      INSERT INTO block_sheet (kitchen_id, id, started_at, started_by, entry_no, last_at) VALUES (${kitchenId}, ${id}, ${now.toISOString()}::timestamptz, ${who.name}, 0, ${now.toISOString()}::timestamptz)
      ON CONFLICT DO NOTHING`;
    if (made === 0) return;
    await tx.blockEntry.createMany({ data: entries.map((entry, index) => rowOf(kitchenId, id, index + 1, entry, who, now)) });
    await tx.blockSheet.update({ where: { kitchenId_id: { kitchenId, id } }, data: { entryNo: entries.length } });
  });
}

const rowOf = (kitchenId: string, sheetId: string, no: number, { id, at, body }: BlockEntry, who: Who, now: Date) => ({
  kitchenId, sheetId, no, id, at: new Date(at), receivedAt: now, by: who.name, byPerson: who.personId ?? null, body: body as unknown as Prisma.InputJsonValue,
});

/** Keeps what is new among `entries` and tells what came after `since`. null: there is no such sheet in this kitchen. */
export async function syncSheet(
  database: Database, clock: Clock, kitchenId: string, id: string, who: Who, { entries, since }: { readonly entries: readonly BlockEntry[]; readonly since: number },
): Promise<Checked<SheetsAnswer> | null> {
  if (entries.length === 0) return readSheet(database, kitchenId, id, since).then((answer) => answer && good(answer));
  const kept = await database.transaction(async (tx): Promise<Checked<null> | null> => {
    const [sheet] = await tx.$queryRaw<{ entry_no: number; closed: boolean }[]>`
      SELECT entry_no, recorded_change IS NOT NULL OR put_away_at IS NOT NULL AS closed FROM block_sheet WHERE kitchen_id = ${kitchenId} AND id = ${id} FOR UPDATE`;
    if (!sheet) return null;
    const known = await tx.blockEntry.findMany({ where: { kitchenId, sheetId: id, id: { in: entries.map((entry) => entry.id) } }, select: { id: true } });
    const seen = new Set(known.map((entry) => entry.id));
    const fresh = [...new Map(entries.map((entry) => [entry.id, entry])).values()].filter((entry) => !seen.has(entry.id));
    if (fresh.length === 0) return good(null);
    if (sheet.closed) return bad("", "closed", "This sheet has been recorded or put away meanwhile. What you typed since is still on this device; correct the recorded test with it.");
    if (sheet.entry_no + fresh.length > MOST_ENTRIES) return bad("", "too-many", `A sheet takes at most ${MOST_ENTRIES.toLocaleString("en-US")} entries. Record this test and begin another.`);
    const now = new Date(clock.now());
    await tx.blockEntry.createMany({ data: fresh.map((entry, index) => rowOf(kitchenId, id, sheet.entry_no + index + 1, entry, who, now)) });
    await tx.blockSheet.update({ where: { kitchenId_id: { kitchenId, id } }, data: { entryNo: sheet.entry_no + fresh.length, lastAt: now } });
    return good(null);
  });
  if (kept === null || !kept.ok) return kept;
  const answer = await readSheet(database, kitchenId, id, since);
  return answer && good(answer);
}

/** A sheet with its entries after `since`; null where this kitchen has no such sheet. */
export async function readSheet(database: Database, kitchenId: string, id: string, since: number): Promise<SheetsAnswer | null> {
  const sheet = await database.prisma.blockSheet.findUnique({ where: { kitchenId_id: { kitchenId, id } } });
  if (sheet === null) return null;
  const rows = sheet.entryNo <= since ? [] : await database.prisma.blockEntry.findMany({ where: { kitchenId, sheetId: id, no: { gt: since } }, orderBy: { no: "asc" } });
  return {
    entries: rows.map((row): SentEntry => ({ no: row.no, by: row.by, id: row.id, at: row.at.toISOString(), body: row.body as unknown as BlockBody })),
    last: Math.max(since, rows.at(-1)?.no ?? 0),
    recordedChange: sheet.recordedChange,
    putAway: sheet.putAwayAt !== null,
  };
}

/** The sheets under way, the one written on last first. */
export async function sheetsUnderWay(database: Database, kitchenId: string): Promise<readonly SheetAtTheBlock[]> {
  const rows = await database.prisma.blockSheet.findMany({
    where: { kitchenId, recordedChange: null, putAwayAt: null }, orderBy: { lastAt: "desc" }, take: 50, include: { entries: { orderBy: { no: "asc" } } },
  });
  return rows.map((row) => ({
    id: row.id, startedBy: row.startedBy, startedAt: row.startedAt.toISOString(), lastAt: row.lastAt.toISOString(),
    entries: row.entries.map(({ id, at, body }) => ({ id, at: at.toISOString(), body: body as unknown as BlockBody })),
  }));
}

/** Marks a sheet as recorded by a change. */
export async function sheetRecorded(database: Database, kitchenId: string, id: string, changeNo: number): Promise<void> {
  await database.prisma.blockSheet.updateMany({ where: { kitchenId, id, recordedChange: null }, data: { recordedChange: changeNo } });
}

/** Puts a sheet away that will not become a test, or takes it out again. Its entries stay. */
export async function putSheetAway(database: Database, clock: Clock, kitchenId: string, id: string, who: Who, away: boolean): Promise<boolean> {
  const done = await database.prisma.blockSheet.updateMany({
    where: { kitchenId, id, recordedChange: null }, data: away ? { putAwayAt: new Date(clock.now()), putAwayBy: who.name } : { putAwayAt: null, putAwayBy: null },
  });
  return done.count === 1;
}
