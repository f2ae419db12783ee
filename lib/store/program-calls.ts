/**
 * Changes that programs send. A line breaks after a change was recorded and before the program heard of it, and so it sends
 * the change again: under the same key of its own choosing it is recorded once. Which change it was is written in the
 * transaction of that change, so that the two stand together or not at all.
 */
import { Prisma } from "@/prisma/generated/client";
import type { Clock } from "./clock";
import { commit } from "./commit";
import type { Commission, Committed } from "./contract";
import type { Database } from "./database";
import type { LiveBooks } from "./live-books";

/** Which sending of which program it is. */
export interface ProgramCall {
  /** The id of its key. */
  readonly program: string;
  /** What the program calls this change. */
  readonly call: string;
  /** SHA-256 of what it sent, in hex. */
  readonly hash: string;
}

export type CommittedOnce =
  | Committed
  /** It was recorded before, as this change. */
  | { readonly ok: true; readonly again: true; readonly changeNo: number }
  /** The same name was given to another change. */
  | { readonly ok: false; readonly reason: "another-call" };

class SentAgain extends Error {}

/** As `commit`, once for each call. */
export async function commitOnce(database: Database, clock: Clock, books: LiveBooks, kitchenId: string, commission: Commission, { program, call, hash }: ProgramCall): Promise<CommittedOnce> {
  const before = async (): Promise<CommittedOnce | null> => {
    const row = await database.prisma.programCall.findUnique({ where: { kitchenId_program_call: { kitchenId, program, call } } });
    if (row === null) return null;
    return row.hash === hash ? { ok: true, again: true, changeNo: row.changeNo } : { ok: false, reason: "another-call" };
  };
  const known = await before();
  if (known !== null) return known;
  try {
    const committed = await commit(database, clock, books, kitchenId, commission, async (tx, changeNo) => {
      const written = await tx.$executeRaw(Prisma.sql`
        INSERT INTO program_call (kitchen_id, program, call, hash, change_no, at) VALUES (${kitchenId}, ${program}, ${call}, ${hash}, ${changeNo}, ${new Date(clock.now()).toISOString()}::timestamptz)
        ON CONFLICT DO NOTHING`);
      if (written !== 1) throw new SentAgain("the call was recorded meanwhile");
    });
    // The same call a moment before may be what this one finds in its way.
    return committed.ok ? committed : await before() ?? committed;
  } catch (error) {
    const found = error instanceof SentAgain ? await before() : null;
    if (found === null) throw error;
    return found;
  }
}
