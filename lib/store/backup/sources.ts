/**
 * Where a backup is read from, and how all of it is of one moment.
 *
 * A server gives a transaction of its own, REPEATABLE READ and READ ONLY, for as long as reading takes; others write
 * meanwhile and are not seen.
 *
 * The embedded database has one connection: a transaction held open while rows travel to a file would keep the app
 * waiting for all that time, or for ever if the file's disk is slow. So one short transaction notes the moment and reads
 * the few tables whose rows may change; the rest, whose rows come in and stay (the database refuses anything else), is
 * read afterwards page by page, each page in a moment of its own between the app's work, leaving out what came in since.
 */
import fs from "node:fs";
import path from "node:path";
import { setImmediate } from "node:timers/promises";
import type { Database, DatabaseChoice } from "../database";
import { openEmbedded } from "../database/embedded";
import { openServer } from "../database/server";
import type { ScriptTransaction } from "../database/whole";
import { type Ask, askAdapter, askPrisma, plainText, quoted } from "./ask";
import { readApplied, readTables } from "./catalogue";
import { BackupRefused } from "./refused";

export type Source =
  | {
    readonly kind: "embedded";
    /** One transaction: what `work` asks is of one moment. */
    together<T>(work: (ask: Ask) => Promise<T>): Promise<T>;
    /** One statement, of its own moment. */
    readonly ask: Ask;
  }
  | {
    readonly kind: "server";
    /** A transaction in which everything asked is of one moment, until it is ended. */
    begin(): Promise<{ readonly ask: Ask; end(): Promise<void> }>;
  };

export interface OpenSource {
  readonly source: Source;
  /** The data folder, or host, port and database: for messages. */
  readonly where: string;
  close(): Promise<void>;
}

/** The embedded database that this process, the app, has open. */
export function liveSource(database: Database): Source {
  const ask = askPrisma(database.prisma);
  return {
    kind: "embedded",
    together: (work) => database.transaction((tx) => work(askPrisma(tx))),
    ask: async (sql) => {
      // The database works inside this process, so nothing here ever waits for anything outside: without a pause the
      // requests that came in meanwhile would get their turn only after the last page.
      await setImmediate();
      return ask(sql);
    },
  };
}

/** Opens a database to be read as it stands, without migrating it. Throws FolderInUse while an app has the folder. */
export async function openSource(choice: DatabaseChoice): Promise<OpenSource> {
  return "url" in choice ? serverSource(choice.url) : folderSource(choice.folder);
}

async function folderSource(folder: string): Promise<OpenSource> {
  if (!fs.existsSync(path.join(folder, "postgres", "PG_VERSION"))) {
    throw new BackupRefused(`There is no database in ${folder}, so there is nothing to back up. If the data is elsewhere, name the place as when the app is started (DATA_DIR or DATABASE_URL).`);
  }
  let gone: Error | null = null;
  const embedded = await openEmbedded(folder, { onFatal: (error) => { gone = error; } });
  const connection = await embedded.adapter.connect();
  const minding = (ask: Ask): Ask => async (sql) => {
    const text = await ask(sql);
    if (gone !== null) throw gone;
    return text;
  };
  return {
    where: embedded.folder,
    source: {
      kind: "embedded",
      together: async (work) => {
        const tx = await connection.startTransaction();
        try {
          return await work(minding(askAdapter(tx)));
        } finally {
          await tx.rollback();
        }
      },
      ask: minding(askAdapter(connection)),
    },
    close: async () => {
      await connection.dispose();
      await embedded.close();
    },
  };
}

async function serverSource(url: string): Promise<OpenSource> {
  const server = await openServer(url);
  const connection = await server.adapter.connect();
  return {
    where: server.where,
    source: {
      kind: "server",
      begin: async () => {
        const before = await readTables(askAdapter(connection));
        const migrated = (await readApplied(askAdapter(connection))) !== null;
        const tx = (await connection.startTransaction("REPEATABLE READ")) as ScriptTransaction;
        const end = async (): Promise<void> => {
          await tx.executeRaw({ sql: "ROLLBACK", args: [], argTypes: [] });
          await tx.rollback();
        };
        try {
          await tx.executeScript(`SET TRANSACTION READ ONLY; ${plainText}`);
          // Locked before the moment is fixed, which the first SELECT does: a migration, which would rewrite a table
          // under this transaction, waits until it ends.
          const names = ["_prisma_migrations", ...before.map(({ name }) => name)].map(quoted);
          if (migrated) await tx.executeScript(`LOCK TABLE ${names.join(", ")} IN ACCESS SHARE MODE`);
          const ask = askAdapter(tx);
          if (JSON.stringify(await readTables(ask)) !== JSON.stringify(before)) {
            throw new BackupRefused("The database was migrated while the backup began. Take the backup again.");
          }
          return { ask, end };
        } catch (error) {
          await end().catch(() => undefined);
          throw error;
        }
      },
    },
    close: () => connection.dispose(),
  };
}
