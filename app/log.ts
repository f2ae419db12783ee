/**
 * How the app's own code tells the log that something went wrong by our own fault. The log itself, its shape and what
 * is kept out of it (passwords, links, cookies) are the server's: app/server/log.mjs. Next bundles this module several
 * times over and the process is one, so the log is kept on globalThis. Server only.
 */

interface Log {
  error(facts: Readonly<Record<string, unknown>>, sentence: string): void;
}

/** `facts` name the request where it is known; no figures of a kitchen and nothing that people typed. */
export function logProblem(sentence: string, error: unknown, facts: Readonly<Record<string, unknown>> = {}): void {
  const { trimledgerLog: log } = globalThis as { trimledgerLog?: Log };
  const err = error instanceof Error ? error : new Error(String(error));
  if (log !== undefined) log.error({ ...facts, err }, sentence);
  // Without our server, in a test say, there is no log to keep.
  else process.stderr.write(`${sentence}: ${err.stack ?? err.message}\n`);
}
