/**
 * Prisma's way to the embedded database. Values are converted by `pglite-prisma-adapter`; what concerns safety is done
 * here, because that package takes a failed COMMIT for a success, does not wait for scripts, and sets the isolation
 * level outside the transaction:
 * - a transaction has committed when PGlite says so, and otherwise `commit` throws;
 * - a script is one implicit transaction, awaited;
 * - isolation levels are ignored: there is one connection, and transactions run one after another.
 */
import { messages } from "@electric-sql/pglite";
import type { PGlite, Transaction as PGliteTransaction } from "@electric-sql/pglite";
import { DriverAdapterError } from "@prisma/driver-adapter-utils";
import type { SqlDriverAdapter, SqlMigrationAwareDriverAdapterFactory, SqlQueryable } from "@prisma/driver-adapter-utils";
import { PrismaPGlite } from "pglite-prisma-adapter";
import { refuseInsideTransaction } from "./inside";
import type { ScriptTransaction } from "./whole";

const name = "trimledger-embedded";
const provider = "postgres";

/** The adapter factory for PrismaClient and, with `shadow` giving an empty database, for the schema engine. */
export function embeddedAdapter(
  pglite: PGlite,
  shadow?: () => Promise<SqlDriverAdapter>,
): SqlMigrationAwareDriverAdapterFactory {
  return {
    provider,
    adapterName: name,
    connect: () => connect(pglite),
    connectToShadowDb: () => (shadow === undefined ? Promise.reject(new Error("This connection has no shadow database.")) : shadow()),
  };
}

async function connect(pglite: PGlite): Promise<SqlDriverAdapter> {
  const outer = await queryable(pglite);
  return {
    provider,
    adapterName: name,
    queryRaw: (query) => {
      refuseInsideTransaction();
      return outer.queryRaw(query);
    },
    executeRaw: (query) => {
      refuseInsideTransaction();
      return outer.executeRaw(query);
    },
    executeScript: async (script) => {
      refuseInsideTransaction();
      await runScript(pglite, script);
    },
    startTransaction: () => {
      refuseInsideTransaction();
      return startTransaction(pglite);
    },
    getConnectionInfo: () => ({ supportsRelationJoins: true }),
    dispose: () => Promise.resolve(),
  };
}

/** Queries over one client, the database or a transaction in it, with the values converted as Prisma wants them. */
async function queryable(client: PGlite | PGliteTransaction): Promise<Pick<SqlQueryable, "queryRaw" | "executeRaw">> {
  // The package asks its client for `query` alone, which a transaction has as well.
  const inner = await new PrismaPGlite(client as PGlite).connect();
  return {
    queryRaw: (query) => inner.queryRaw(query),
    executeRaw: (query) => inner.executeRaw(query),
  };
}

/** Runs a script, with an error told in the terms of Prisma, which passes no other on. */
async function runScript(client: PGlite | PGliteTransaction, script: string): Promise<void> {
  try {
    await client.exec(script);
  } catch (error) {
    if (!(error instanceof messages.DatabaseError)) throw error;
    const { code = "", severity = "ERROR", message, detail, column, hint } = error;
    throw new DriverAdapterError({ kind: "postgres", originalCode: code, originalMessage: message, code, severity, message, detail, column, hint });
  }
}

/**
 * PGlite runs a transaction as a callback; Prisma wants it opened here and ended there. The callback hands out its
 * client and waits until it is told how to end, and PGlite's own answer, not our wish, is the answer.
 */
async function startTransaction(pglite: PGlite): Promise<ScriptTransaction> {
  let end = (): void => undefined;
  const ended = new Promise<void>((resolve) => {
    end = resolve;
  });
  let opened: (tx: PGliteTransaction) => void = () => undefined;
  let failed: (error: unknown) => void = () => undefined;
  const opening = new Promise<PGliteTransaction>((resolve, reject) => {
    opened = resolve;
    failed = reject;
  });
  const outcome = pglite.transaction(async (tx) => {
    opened(tx);
    await ended;
  });
  outcome.catch(failed);

  const tx = await opening;
  const inner = await queryable(tx);
  return {
    provider,
    adapterName: name,
    options: { usePhantomQuery: true },
    queryRaw: (query) => inner.queryRaw(query),
    executeRaw: (query) => inner.executeRaw(query),
    executeScript: async (script) => {
      await runScript(tx, script);
    },
    commit: async () => {
      end();
      await outcome;
    },
    rollback: async () => {
      await tx.rollback();
      end();
      await outcome;
    },
    createSavepoint: async (point) => {
      await tx.exec(`SAVEPOINT ${point}`);
    },
    rollbackToSavepoint: async (point) => {
      await tx.exec(`ROLLBACK TO SAVEPOINT ${point}`);
    },
    releaseSavepoint: async (point) => {
      await tx.exec(`RELEASE SAVEPOINT ${point}`);
    },
  };
}
