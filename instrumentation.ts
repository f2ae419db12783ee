/**
 * What happens once when the server starts, before it takes its first request: the database is opened and migrated, so
 * that a folder in use, a server that does not answer or a failed migration is told at the start and ends it. And what
 * happens when it is stopped: requests under way are let finish (app/server/serve.mjs), then the database is closed, its
 * lock taken away. And what happens when a page or an action fails by our own fault: it is logged.
 */
import type { Instrumentation } from "next";
import { logProblem } from "@/app/log";

/** The server around the app, when it is ours: app/server/serve.mjs. */
const around = globalThis as { trimledgerServer?: { opened(): void; drain(): Promise<void> } };

export async function register(): Promise<void> {
  if (process.env.NEXT_RUNTIME !== "nodejs" || process.env.NEXT_PHASE === "phase-production-build") return;
  const { closeDatabase, database } = await import("@/lib/store/database");

  let stopping = false;
  const stop = (): void => {
    if (stopping) return;
    stopping = true;
    // What is under way is let finish, at most 10 seconds; a database that does not close is not waited for for ever.
    setTimeout(() => process.exit(1), 20_000).unref();
    Promise.resolve(around.trimledgerServer?.drain()).then(closeDatabase).then(
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
    await (await import("@/lib/store/backup/socket")).answerBackups(opened);
    if (opened.migrated.length > 0) console.log(`Migrated the database: ${opened.migrated.join(", ")}.`);
    console.log(opened.kind === "embedded" ? `The data is in ${opened.where}.` : `The data is on the PostgreSQL server ${opened.where}.`);
    around.trimledgerServer?.opened();
  } catch (error) {
    console.error(error instanceof Error ? error.message : error);
    process.exit(1);
  }
}

/** Called by Next for what a page, a route or an action threw; "not found" and "go there" are not among these. */
export const onRequestError: Instrumentation.onRequestError = (error, request, context) => {
  logProblem(context.routeType === "action" ? "An action failed" : "A page could not be made", error, {
    request: request.headers["x-request-id"],
    method: request.method,
    path: request.path.split("?", 1)[0],
    route: context.routePath,
  });
};
