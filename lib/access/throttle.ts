/**
 * Sign-ins are slowed down per account and per address, so that nobody guesses their way in and nobody tries one
 * password on every account. An attempt is counted before its password is looked at, so that many at once do not slip
 * through, and taken back when it was right. Counted in the database: any number of processes throttle alike. A name
 * that has no account is counted like any other, so that the wait tells nothing. Keys are hashes: the table names
 * nobody. The waits are the house's own choice (no source): at most a quarter of an hour, so that a person who is kept
 * out by somebody else's guessing is kept out briefly.
 */
import { createHash } from "node:crypto";
import type { Clock, Database } from "@/lib/store";

const WINDOW = 15 * 60_000;
/** So many failures in the window are free; from there on the wait doubles. */
const FREE = { account: 5, address: 40 } as const;
const FIRST_WAIT = 10_000;
const LONGEST_WAIT = 15 * 60_000;

export interface Throttled {
  readonly kind: keyof typeof FREE;
  readonly of: string;
}

/** With their keys, in a fixed order, so that two attempts at once never wait for each other. */
function keyed(whom: readonly Throttled[]): readonly (Throttled & { readonly key: string })[] {
  const keyOf = ({ kind, of }: Throttled): string => createHash("sha256").update(`${kind}\n${of}`).digest("base64url");
  return whom.map((one) => ({ ...one, key: keyOf(one) })).sort((a, b) => (a.key < b.key ? -1 : 1));
}

/** Milliseconds to wait after so many failures. */
export function waitAfter(kind: keyof typeof FREE, failures: number): number {
  const over = failures - FREE[kind];
  return over < 0 ? 0 : Math.min(LONGEST_WAIT, FIRST_WAIT * 2 ** Math.min(over, 20));
}

/**
 * Counts an attempt against each of these, unless one of them must wait. Returns how long it must (milliseconds), 0
 * when the attempt may go on.
 */
export async function countAttempt(database: Database, clock: Clock, whom: readonly Throttled[]): Promise<number> {
  return database.transaction(async (tx) => {
    const now = clock.now();
    let wait = 0;
    const counted: { readonly key: string; readonly kind: keyof typeof FREE; readonly failures: number }[] = [];
    for (const { key, kind } of keyed(whom)) {
      await tx.$executeRaw`
        INSERT INTO sign_in_attempt (key, failures, since, until) VALUES (${key}, 0, ${iso(now)}::timestamptz, ${iso(now)}::timestamptz)
        ON CONFLICT (key) DO NOTHING`;
      const [row] = await tx.$queryRaw<{ failures: number; since: Date; until: Date }[]>`
        SELECT failures, since, until FROM sign_in_attempt WHERE key = ${key} FOR UPDATE`;
      if (!row) throw new Error("expected the attempt's row, which was just put there");
      wait = Math.max(wait, row.until.getTime() - now);
      const fresh = now - row.since.getTime() > WINDOW && row.until.getTime() <= now;
      counted.push({ key, kind, failures: fresh ? 0 : row.failures });
    }
    if (wait > 0) return wait;
    for (const { key, kind, failures } of counted) {
      const until = now + waitAfter(kind, failures + 1);
      await tx.$executeRaw`
        UPDATE sign_in_attempt SET failures = ${failures + 1}, until = ${iso(until)}::timestamptz, since = CASE WHEN ${failures} = 0 THEN ${iso(now)}::timestamptz ELSE since END
        WHERE key = ${key}`;
    }
    return 0;
  });
}

/** The attempt was right: the account's count begins anew, the address gets its attempt back. */
export async function forgiveAttempt(database: Database, clock: Clock, whom: readonly Throttled[]): Promise<void> {
  await database.transaction(async (tx) => {
    for (const { kind, key } of keyed(whom)) {
      if (kind === "account") await tx.$executeRaw`DELETE FROM sign_in_attempt WHERE key = ${key}`;
      else await tx.$executeRaw`UPDATE sign_in_attempt SET failures = greatest(failures - 1, 0), until = ${iso(clock.now())}::timestamptz WHERE key = ${key}`;
    }
    // Rows that nobody asks for any more are swept out now and then.
    await tx.$executeRaw`DELETE FROM sign_in_attempt WHERE until < ${iso(clock.now() - 4 * WINDOW)}::timestamptz AND since < ${iso(clock.now() - 4 * WINDOW)}::timestamptz`;
  });
}

const iso = (moment: number): string => new Date(moment).toISOString();

/** "Try again in 10 seconds", "… in 4 minutes". */
export function waitWords(milliseconds: number): string {
  const seconds = Math.ceil(milliseconds / 1000);
  if (seconds < 90) return `${seconds} ${seconds === 1 ? "second" : "seconds"}`;
  return `${Math.ceil(seconds / 60)} minutes`;
}
