/**
 * Migrating is all or nothing. PostgreSQL's DDL is transactional, so the schema engine is given, instead of a
 * connection, a transaction: whatever it does, its bookkeeping included, is committed together or was never there. A
 * kill or a power cut while a new version starts leaves the old shape, and the next start tries again. An advisory lock
 * inside the transaction keeps two processes that start together from migrating twice.
 *
 * The engine asks whether its table exists by reading it and minding the error, which would end the transaction: so
 * every statement stands under a savepoint of its own. A migration can therefore hold nothing that PostgreSQL refuses
 * inside a transaction, such as CREATE INDEX CONCURRENTLY.
 */
import type { SqlDriverAdapter, SqlMigrationAwareDriverAdapterFactory, Transaction } from "@prisma/driver-adapter-utils";

/** A transaction that can also run a script of several statements. */
export interface ScriptTransaction extends Transaction {
  executeScript(script: string): Promise<void>;
}

/** Any number will do, as long as every version of the app uses the same. */
const MIGRATION_LOCK = 7_242_506_117n;

/** Runs `work` on a stand-in for `adapter` whose every connection is one transaction; commits it when `work` is done. */
export async function whole<T>(adapter: SqlMigrationAwareDriverAdapterFactory, work: (adapter: SqlMigrationAwareDriverAdapterFactory) => Promise<T>): Promise<T> {
  const connection = await adapter.connect();
  try {
    const tx = (await connection.startTransaction()) as ScriptTransaction;
    try {
      await tx.queryRaw(statement(`SELECT pg_advisory_xact_lock(${MIGRATION_LOCK})::text`));
      const done = await work(standIn(adapter, connection, tx));
      await end(tx, "COMMIT");
      return done;
    } catch (error) {
      await end(tx, "ROLLBACK").catch(() => undefined);
      throw error;
    }
  } finally {
    await connection.dispose();
  }
}

function standIn(adapter: SqlMigrationAwareDriverAdapterFactory, connection: SqlDriverAdapter, tx: ScriptTransaction): SqlMigrationAwareDriverAdapterFactory {
  const { provider, adapterName } = adapter;
  const inside: SqlDriverAdapter = {
    provider,
    adapterName,
    queryRaw: (query) => underSavepoint(tx, () => tx.queryRaw(query)),
    executeRaw: (query) => underSavepoint(tx, () => tx.executeRaw(query)),
    executeScript: (script) => underSavepoint(tx, () => tx.executeScript(script)),
    startTransaction: () => Promise.reject(new Error("A migration runs in a transaction already.")),
    getConnectionInfo: () => connection.getConnectionInfo?.() ?? { supportsRelationJoins: true },
    dispose: () => Promise.resolve(),
  };
  return { provider, adapterName, connect: () => Promise.resolve(inside), connectToShadowDb: () => adapter.connectToShadowDb() };
}

async function underSavepoint<T>(tx: ScriptTransaction, work: () => Promise<T>): Promise<T> {
  await tx.executeScript("SAVEPOINT step");
  try {
    const result = await work();
    await tx.executeScript("RELEASE SAVEPOINT step");
    return result;
  } catch (error) {
    await tx.executeScript("ROLLBACK TO SAVEPOINT step; RELEASE SAVEPOINT step");
    throw error;
  }
}

/** Ends a transaction as its adapter wants it: some send the statement themselves, some have it sent. */
async function end(tx: Transaction, how: "COMMIT" | "ROLLBACK"): Promise<void> {
  if (!tx.options.usePhantomQuery) await tx.executeRaw(statement(how));
  await (how === "COMMIT" ? tx.commit() : tx.rollback());
}

const statement = (sql: string): { sql: string; args: unknown[]; argTypes: [] } => ({ sql, args: [], argTypes: [] });
