/**
 * The embedded database: PGlite on a folder, synced (safe-fs.ts), locked (lock.ts), created all at once, and given up
 * cleanly when its instance dies. In the data folder stand `postgres/`, the cluster, and `postgres.lock` while it is
 * open; whoever copies `postgres/` copies everything.
 *
 * A new cluster is built in `postgres.new/`, closed, synced and renamed, so that however the first start ends, either
 * there is a whole cluster or there is none.
 */
import fs from "node:fs";
import path from "node:path";
import { PGlite } from "@electric-sql/pglite";
import type { SqlDriverAdapter, SqlMigrationAwareDriverAdapterFactory } from "@prisma/driver-adapter-utils";
import { embeddedAdapter } from "./embedded-adapter";
import { guard } from "./guard";
import { lockFolder } from "./lock";
import { SafeFS, safeStartParams, syncPath, syncTree } from "./safe-fs";

export interface Embedded {
  /** The data folder, absolute. */
  readonly folder: string;
  readonly adapter: SqlMigrationAwareDriverAdapterFactory;
  /** How many syncs reached the disk since this instance was opened. */
  syncs(): number;
  close(): Promise<void>;
}

/** Opens the cluster in `dataFolder`, creating it when there is none. Throws FolderInUse when another process has it. */
export async function openEmbedded(dataFolder: string, { onFatal }: { onFatal: (error: Error) => void }): Promise<Embedded> {
  const folder = path.resolve(dataFolder);
  fs.mkdirSync(folder, { recursive: true });
  // The real path, so that two ways of writing one folder meet at one lock.
  const cluster = path.join(fs.realpathSync(folder), "postgres");
  const lock = lockFolder(cluster);
  try {
    if (!fs.existsSync(path.join(cluster, "PG_VERSION"))) await createCluster(cluster);
    // PostgreSQL's own lock, left by whoever held ours before: it proves nothing here, and one that a power cut left empty
    // would keep PostgreSQL from starting.
    fs.rmSync(path.join(cluster, "postmaster.pid"), { force: true });
    const files = new SafeFS(cluster);
    let dead = false;
    const pglite = await start(files, (error) => {
      dead = true;
      onFatal(error);
    });
    return {
      folder,
      adapter: embeddedAdapter(pglite, openShadow),
      syncs: () => files.syncs,
      close: async () => {
        try {
          if (!dead && !pglite.closed) await pglite.close();
        } finally {
          lock.release();
        }
      },
    };
  } catch (error) {
    lock.release();
    throw error;
  }
}

async function createCluster(cluster: string): Promise<void> {
  const unfinished = `${cluster}.new`;
  fs.rmSync(unfinished, { recursive: true, force: true });
  if (fs.existsSync(cluster) && fs.readdirSync(cluster).length > 0) {
    throw new Error(`The folder ${cluster} holds something that is not a database. Move it away, or give another data folder (DATA_DIR).`);
  }
  const pglite = await start(new SafeFS(unfinished), () => undefined);
  await pglite.close();
  syncTree(unfinished);
  fs.rmSync(cluster, { recursive: true, force: true });
  fs.renameSync(unfinished, cluster);
  syncPath(path.dirname(cluster));
}

/** Starts PGlite and makes sure that it will do what safety rests on. */
async function start(files: SafeFS, onFatal: (error: Error) => void): Promise<PGlite> {
  const said: string[] = [];
  const listen = (line: string): boolean => {
    if (/(PANIC|FATAL|Aborted)/.test(line)) said.push(line.trim());
    return true;
  };
  let pglite: PGlite;
  try {
    pglite = await PGlite.create({ fs: files, startParams: [...safeStartParams], onStderr: listen });
  } catch (error) {
    throw new Error(`The database in ${files.root} could not be opened (${said.join("; ") || String(error)}). Restore the last backup into it, or give another data folder (DATA_DIR).`, { cause: error });
  }
  guard(pglite, (error) => { onFatal(new Error(said.join("; ") || error.message, { cause: error })); });
  const { rows } = await pglite.query<{ name: string; setting: string }>(
    "SELECT name, setting FROM pg_settings WHERE name IN ('fsync', 'wal_sync_method', 'synchronous_commit', 'full_page_writes', 'TimeZone') ORDER BY name",
  );
  const found = rows.map((row) => `${row.name}=${row.setting}`).join(" ");
  if (found !== "TimeZone=UTC fsync=on full_page_writes=on synchronous_commit=on wal_sync_method=fsync") {
    await pglite.close();
    throw new Error(`The embedded database did not take its safe settings: ${found}.`);
  }
  return pglite;
}

/** An adapter on an empty database in memory, for work that needs no data: writing migrations, comparing schemas. */
export async function openScratch(): Promise<{ adapter: SqlMigrationAwareDriverAdapterFactory; close(): Promise<void> }> {
  const pglite = await PGlite.create({ startParams: [...PGlite.defaultStartParams, "-c", "timezone=UTC"] });
  return { adapter: embeddedAdapter(pglite, openShadow), close: async () => { if (!pglite.closed) await pglite.close(); } };
}

/** An empty database in memory, on which the schema engine replays the migrations to compare them with the schema. */
async function openShadow(): Promise<SqlDriverAdapter> {
  const scratch = await openScratch();
  return { ...(await scratch.adapter.connect()), dispose: scratch.close };
}
