/**
 * Try-outs in the database: moves kept by name, each with who added it. They are no facts, and keeping one changes nothing
 * of the book. A version counts the savings, so that of two people who change the same try-out the second is told what the
 * first has done. One that is made real is recorded as one change, in the transaction that marks it; it is kept as it was.
 */
import { type Habits } from "@/lib/measure";
import { type Move, MOST_MOVES, NAME_LIMIT, allSeen, entriesOf, overtaken, readMoves } from "@/lib/book";
import type { Prisma } from "@/prisma/generated/client";
import { basedOn } from "./based-on";
import type { Clock } from "./clock";
import { commit } from "./commit";
import type { KeptTryout, MadeReal, MakeReal, Tryout, TryoutToKeep, Who } from "./contract";
import type { Database, Transaction } from "./database";
import type { LiveBooks } from "./live-books";
import { unstorableText } from "./write-rows";

/** What is kept is exact already; how a kitchen writes is not asked of it. */
const EXACT: Habits = { locale: "en-US", measures: "us", currency: "USD" };
const MOST_LISTED = 200;

interface Row {
  readonly id: string;
  readonly name: string;
  readonly createdAt: Date;
  readonly createdBy: string;
  readonly changedAt: Date;
  readonly changedBy: string;
  readonly version: number;
  readonly moves: unknown;
  readonly madeChange: number | null;
  readonly droppedAt: Date | null;
  readonly droppedBy: string | null;
}

export function tryoutOf(row: Row): Tryout {
  const { moves, lost } = readMoves(row.moves, EXACT);
  return {
    id: row.id, name: row.name, createdBy: row.createdBy, createdAt: row.createdAt.toISOString(), changedBy: row.changedBy, changedAt: row.changedAt.toISOString(),
    version: row.version, moves, lost, madeChange: row.madeChange,
    dropped: row.droppedAt === null ? null : { by: row.droppedBy ?? "", at: row.droppedAt.toISOString() },
  };
}

export async function tryouts({ prisma }: Database, kitchenId: string): Promise<readonly Tryout[]> {
  const rows = await prisma.tryout.findMany({ where: { kitchenId }, orderBy: [{ changedAt: "desc" }, { id: "asc" }], take: MOST_LISTED });
  return rows.map(tryoutOf);
}

export async function readTryout({ prisma }: Database, kitchenId: string, id: string): Promise<Tryout | null> {
  const row = await prisma.tryout.findUnique({ where: { kitchenId_id: { kitchenId, id } } });
  return row === null ? null : tryoutOf(row);
}

export async function keepTryout(database: Database, clock: Clock, kitchenId: string, who: Who, { id, name, moves, version }: TryoutToKeep): Promise<KeptTryout> {
  const called = name.replace(/\s+/g, " ").trim();
  const refused = (path: string, code: string, sentence: string): KeptTryout => ({ ok: false, reason: "problems", problems: [{ path, code, sentence }] });
  if (called === "") return refused("name", "no-name", "Give the try-out a name, so that it can be found again.");
  if (called.length > NAME_LIMIT) return refused("name", "too-long", `A name has at most ${NAME_LIMIT} characters; this one has ${called.length}.`);
  if (moves.length > MOST_MOVES) return refused("", "too-many", `A try-out holds at most ${MOST_MOVES} moves. Keep what belongs together, and begin another for the rest.`);
  if (id === "" || id.length > 120) throw new Error(`expected the id of a try-out, got one of ${id.length} characters`);
  if (unstorableText({ called, moves }) !== null) return refused("", "unreadable-character", "The text holds a character that cannot be kept (a broken or empty one). Type it again instead of pasting it.");
  const now = new Date(clock.now());
  return database.transaction(async (tx): Promise<KeptTryout> => {
    const row = await locked(tx, kitchenId, id);
    const signed = moves.map((move): Move => (move.added === null ? { ...move, added: { by: who.name, at: now.toISOString() } } : move));
    const kept = { name: called, moves: signed as unknown as Prisma.InputJsonValue, changedAt: now, changedBy: who.name };
    if (row === null) {
      if (version !== null) return { ok: false, reason: "not-there" };
      return { ok: true, tryout: tryoutOf(await tx.tryout.create({ data: { kitchenId, id, createdAt: now, createdBy: who.name, version: 1, ...kept } })) };
    }
    if (row.version !== version || row.madeChange !== null || row.droppedAt !== null) return { ok: false, reason: "stale", theirs: tryoutOf(row) };
    return { ok: true, tryout: tryoutOf(await tx.tryout.update({ where: { kitchenId_id: { kitchenId, id } }, data: { version: row.version + 1, ...kept } })) };
  });
}

/** Dropping twice is dropping once; one that has been made real is in the record and stays. */
export async function dropTryout(database: Database, clock: Clock, kitchenId: string, id: string, who: Who, dropped: boolean): Promise<KeptTryout> {
  const now = new Date(clock.now());
  return database.transaction(async (tx): Promise<KeptTryout> => {
    const row = await locked(tx, kitchenId, id);
    if (row === null) return { ok: false, reason: "not-there" };
    if (row.madeChange !== null) return { ok: false, reason: "stale", theirs: tryoutOf(row) };
    if ((row.droppedAt !== null) === dropped) return { ok: true, tryout: tryoutOf(row) };
    const data = { version: row.version + 1, changedAt: now, changedBy: who.name, droppedAt: dropped ? now : null, droppedBy: dropped ? who.name : null };
    return { ok: true, tryout: tryoutOf(await tx.tryout.update({ where: { kitchenId_id: { kitchenId, id } }, data })) };
  });
}

/** The row, held until the end of the transaction. */
async function locked(tx: Transaction, kitchenId: string, id: string): Promise<Row | null> {
  await tx.$queryRaw`SELECT 1 AS held FROM tryout WHERE kitchen_id = ${kitchenId} AND id = ${id} FOR UPDATE`;
  return tx.tryout.findUnique({ where: { kitchenId_id: { kitchenId, id } } });
}

/** Somebody was faster with the same try-out: the commit is undone with it. */
class MovedOn extends Error {}

export async function makeTryoutReal(database: Database, clock: Clock, books: LiveBooks, kitchenId: string, id: string, how: MakeReal): Promise<MadeReal> {
  const { version, from, seen, who, why } = how;
  const tryout = await readTryout(database, kitchenId, id);
  if (tryout === null) return { ok: false, reason: "not-there" };
  if (tryout.version !== version || tryout.madeChange !== null || tryout.dropped !== null) return { ok: false, reason: "moved-on", theirs: tryout };
  const live = await books.newest(database.prisma, kitchenId);
  const found = overtaken(live.book, tryout.moves);
  if (!allSeen(found, seen)) return { ok: false, reason: "overtaken", overtaken: found };
  const { entries, problems } = entriesOf(live.book, tryout.moves, from);
  // What does nothing any more is for whoever keeps the try-out to take off: a change is recorded whole.
  if (problems.size > 0) return { ok: false, reason: "problems", problems: [...problems.values()].flat() };
  if (entries.length === 0) return { ok: false, reason: "problems", problems: [{ path: "", code: "nothing", sentence: "Nothing in it is different from what the book says already, so there is nothing to record." }] };
  const based = basedOn(live, entries.map(({ change }) => change));
  // What the maker saw of other facts is nobody's business here; of these it is what counts.
  for (const key of Object.keys(based)) if (how.basedOn?.[key] !== undefined) based[key] = how.basedOn[key] ?? null;
  const made = new Date(clock.now());
  try {
    return await commit(database, clock, books, kitchenId, { entries, basedOn: based, who, why }, async (tx, changeNo) => {
      const marked = await tx.tryout.updateMany({
        where: { kitchenId, id, version, madeChange: null, droppedAt: null },
        data: { madeChange: changeNo, changedAt: made, changedBy: who.name, version: version + 1 },
      });
      if (marked.count !== 1) throw new MovedOn("the try-out has moved on");
    });
  } catch (error) {
    if (!(error instanceof MovedOn)) throw error;
    const theirs = await readTryout(database, kitchenId, id);
    return theirs === null ? { ok: false, reason: "not-there" } : { ok: false, reason: "moved-on", theirs };
  }
}
