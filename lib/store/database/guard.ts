/**
 * A dead PGlite instance kept from walking on. When PostgreSQL panics (a failed sync, a full disk) or its WebAssembly
 * traps, PGlite swallows the exception and calls the main loop again: the instance, its state half-done, spins for ever
 * or, worse, goes on working. Here the loop's entries are wrapped. The first exception that is not PostgreSQL's own way
 * of reporting an error ends the instance: it is reported once, and every entry from then on throws at once, so that
 * nothing more is written and nobody waits. What was acknowledged before is on disk, and opening the folder again
 * recovers it.
 */
import type { PGlite } from "@electric-sql/pglite";

/** Every way from PGlite's protocol into the instance; stackRestore is what its loop calls after an exception. */
const entries = [
  "_PostgresMainLoopOnce",
  "_PostgresMainLongJmp",
  "_PostgresSendReadyForQueryIfNecessary",
  "_pgl_pq_flush",
  "_pq_buffer_remaining_data",
  "stackRestore",
] as const;

type Entry = (...args: unknown[]) => unknown;

export function guard(pglite: PGlite, onDeath: (error: Error) => void): void {
  const module = pglite.Module as unknown as Record<string, Entry>;
  let death: Error | null = null;

  for (const name of entries) {
    const enter = module[name];
    if (enter === undefined) throw new Error(`PGlite has no ${name}: this version of it is not the one the guard was written for.`);
    module[name] = (...args) => {
      if (death !== null) throw death;
      try {
        return enter(...args);
      } catch (error) {
        if (isReport(pglite, error)) throw error;
        death = error instanceof Error ? error : new Error(`The database instance ended: ${describe(error)}.`);
        onDeath(death);
        throw death;
      }
    };
  }
}

/** PostgreSQL reports an error to its client by a jump to its main loop, which comes out as an exit with this status. */
function isReport(pglite: PGlite, error: unknown): boolean {
  return (error as { status?: unknown } | null)?.status === (pglite as unknown as { POSTGRES_MAIN_LONGJMP: number }).POSTGRES_MAIN_LONGJMP;
}

function describe(error: unknown): string {
  const { name, status, message } = (error ?? {}) as { name?: unknown; status?: unknown; message?: unknown };
  return [name, status, message].filter((part) => part !== undefined).join(" ") || String(error);
}
