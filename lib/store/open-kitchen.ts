/**
 * Opening a kitchen: its row, its settings and whatever it begins with (a seed, another system's export) in one
 * transaction, as its first change. The same checks, the same ripple and the same rows as any later commit. The
 * settings apply from the first day that anything in it applies from, so that the book of any such day can be read.
 */
import { randomBytes } from "node:crypto";
import { type Kitchen, emptyBook } from "@/lib/book";
import { compile } from "@/lib/cascade";
import type { Checked } from "@/lib/measure";
import { checkEntries } from "./check-commission";
import type { Clock } from "./clock";
import { recordChange } from "./commit";
import type { DatedChange, LiveBook, Who, WithinOpening } from "./contract";
import type { Database } from "./database";
import type { LiveBooks } from "./live-books";

export async function openKitchen(
  database: Database, clock: Clock, books: LiveBooks, kitchen: Kitchen, who: Who, entries: readonly DatedChange[], why: string, within?: WithinOpening,
): Promise<Checked<{ readonly id: string; readonly live: LiveBook }>> {
  const id = `kitchen-${randomBytes(15).toString("base64url")}`;
  const settings = { ...kitchen, id };
  const today = books.today(kitchen.timeZone);
  const since = entries.reduce((first, { validFrom }) => (validFrom < first ? validFrom : first), today);
  const all: DatedChange[] = [{ change: { kind: "kitchen", id, after: settings }, validFrom: since }, ...entries];
  const problems = checkEntries({ entries: all, who, why });
  if (problems.length > 0) return { ok: false, problems };
  const empty = compile(emptyBook(settings, today));
  if (!empty.ok) throw new Error("expected an empty book to compile");
  const before: LiveBook = { kitchenId: id, changeNo: 0, today, book: empty.value.book, cascade: empty.value, ahead: [] };
  const at = new Date(clock.now()).toISOString();
  const opened = await database.transaction(async (tx): Promise<Checked<{ id: string; live: LiveBook }> | Refused> => {
    await tx.$executeRaw`INSERT INTO kitchen (id, change_no, revision_no, created_at) VALUES (${id}, 0, 0, ${at}::timestamptz)`;
    const recorded = await recordChange(tx, before, new Map(), { entries: all, who, why, at, lastRevision: 0 });
    // Throwing is what takes the kitchen's row back.
    if (!recorded.ok) throw new Refused(recorded);
    await within?.(tx, id);
    return { ok: true, value: { id, live: recorded.value.live } };
  }).catch((error: unknown) => {
    if (error instanceof Refused) return error;
    throw error;
  });
  if (opened instanceof Refused) return opened.checked;
  if (opened.ok) books.hold(opened.value.live);
  return opened;
}

/** Carries what is wrong out of the transaction that it undoes. */
class Refused extends Error {
  readonly checked: Checked<never>;

  constructor(checked: Checked<never>) {
    super("what the kitchen was to begin with does not hold together");
    this.checked = checked;
  }
}
