/**
 * What happens once when the server starts, before it takes its first request: the database is opened and migrated, so
 * that a folder in use, a server that does not answer or a failed migration is told at the start and ends it. And what
 * happens when it is stopped: the database is closed, its lock taken away.
 */
export async function register(): Promise<void> {
  if (process.env.NEXT_RUNTIME !== "nodejs" || process.env.NEXT_PHASE === "phase-production-build") return;
  const { closeDatabase, database } = await import("@/lib/store/database");

  let stopping = false;
  const stop = (): void => {
    if (stopping) return;
    stopping = true;
    // What is under way is let finish; something that never does is not waited for longer than this.
    setTimeout(() => process.exit(1), 10_000).unref();
    closeDatabase().then(
      () => process.exit(0),
      (error: unknown) => {
        console.error("The database did not close cleanly:", error);
        process.exit(1);
      },
    );
  };
  process.once("SIGINT", stop);
  process.once("SIGTERM", stop);

  try {
    const opened = await database();
    if (opened.migrated.length > 0) console.log(`Migrated the database: ${opened.migrated.join(", ")}.`);
    console.log(opened.kind === "embedded" ? `The data is in ${opened.where}.` : `The data is on the PostgreSQL server ${opened.where}.`);
  } catch (error) {
    console.error(error instanceof Error ? error.message : error);
    process.exit(1);
  }
}
