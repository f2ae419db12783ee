/**
 * `npm run restore`: a backup into an empty installation. The file is read and judged to its last line first; then
 * either everything in it is there, or nothing is and the installation is as it was.
 *
 * Embedded, a new cluster is filled in a folder beside the one in use, closed, synced and moved into its place. On a
 * server everything happens in one transaction, under the lock that migrations take.
 */
import fs from "node:fs";
import path from "node:path";
import type { SqlMigrationAwareDriverAdapterFactory } from "@prisma/driver-adapter-utils";
import type { MigrationList } from "@prisma/schema-engine-wasm/schema_engine_bg";
import type { DatabaseChoice } from "../database";
import { openEmbedded, openScratch } from "../database/embedded";
import { lockFolder } from "../database/lock";
import { migrateInside, readMigrations } from "../database/migrations";
import { syncPath, syncTree } from "../database/safe-fs";
import { dropFile, keepFile, readFile as readPicture } from "../photos/files";
import { openServer } from "../database/server";
import { whole } from "../database/whole";
import { type Ask, askAdapter, quoted } from "./ask";
import { type Applied, OF_THE_MOMENT, type Table, WRITTEN_AT_START, readApplied, readTables } from "./catalogue";
import { photosBeside } from "./backup";
import { fill, migrationsOf } from "./fill";
import { type Verified, readFile, verifyFile } from "./read-file";
import { BackupRefused, sentenceOf } from "./refused";

export interface Restored extends Verified {
  /** The data folder, or host, port and database. */
  readonly where: string;
}

/** Throws BackupRefused, or the refusal of the database, with a sentence; then nothing was changed. */
export async function restore(choice: DatabaseChoice, file: string, here = readMigrations()): Promise<Restored> {
  const backup = await verifyFile(file);
  migrationsOf(backup.header.migrations, here);
  const pictures = await putPhotos(file, photosBeside(choice));
  try {
    const where = "url" in choice
      ? await ontoServer(choice.url, here, (inside) => fill(inside, file, backup, here))
      : await intoFolder(choice.folder, (inside) => fill(inside, file, backup, here));
    return { ...backup, where };
  } catch (error) {
    await pictures.takeBack();
    throw error;
  }
}

/** Puts the photos where the rows will look for them, before the rows are there: a row never names a picture that is not. */
async function putPhotos(file: string, folder: string): Promise<{ takeBack(): Promise<void> }> {
  const made = fs.existsSync(folder) ? [] : [folder];
  const put: [string, string][] = [];
  const takeBack = async (): Promise<void> => {
    for (const [kitchenId, photoId] of put) await dropFile(folder, kitchenId, photoId);
    for (const one of made.reverse()) if (fs.existsSync(one)) fs.rmSync(one, { recursive: true });
  };
  try {
    for await (const part of readFile(file)) {
      if (part.kind !== "photo") continue;
      const [kitchenId = "", photoId = ""] = part.photo.photo.split("/");
      if (await readPicture(folder, kitchenId, photoId) !== null) continue;
      if (made.length > 0 || !fs.existsSync(path.join(folder, kitchenId))) made.push(path.join(folder, kitchenId));
      put.push([kitchenId, photoId]);
      await keepFile(folder, kitchenId, photoId, Buffer.from(part.photo.jpeg, "base64"));
    }
  } catch (error) {
    await takeBack();
    throw error;
  }
  return { takeBack };
}

type Fill = (inside: SqlMigrationAwareDriverAdapterFactory) => Promise<void>;

async function intoFolder(dataFolder: string, work: Fill): Promise<string> {
  fs.mkdirSync(dataFolder, { recursive: true });
  const folder = fs.realpathSync(dataFolder);
  const cluster = path.join(folder, "postgres");
  await judgeFolder(folder, cluster);

  // From here on no app can start on the folder. One that did since we looked has the lock, and is left alone.
  const lock = lockFolder(cluster);
  const aside = path.join(folder, "postgres.restoring");
  try {
    fs.rmSync(aside, { recursive: true, force: true });
    let gone: Error | null = null;
    const embedded = await openEmbedded(aside, { onFatal: (error) => { gone = error; } });
    try {
      await whole(embedded.adapter, work);
    } catch (error) {
      throw gone ?? error;
    } finally {
      await embedded.close();
    }
    const filled = path.join(aside, "postgres");
    syncTree(filled);
    fs.rmSync(cluster, { recursive: true, force: true });
    fs.renameSync(filled, cluster);
    syncPath(folder);
  } finally {
    fs.rmSync(aside, { recursive: true, force: true });
    lock.release();
  }
  return folder;
}

/** Throws unless the folder has no database, or one in which nothing was recorded. */
async function judgeFolder(folder: string, cluster: string): Promise<void> {
  if (!fs.existsSync(path.join(cluster, "PG_VERSION"))) {
    if (fs.existsSync(cluster) && fs.readdirSync(cluster).length > 0) {
      throw new BackupRefused(`The folder ${cluster} holds something that is not a database. Move it away, or restore into another data folder (DATA_DIR).`);
    }
    return;
  }
  const lookedAt = await openToLook(folder, cluster);
  const connection = await lookedAt.adapter.connect();
  try {
    const ask = askAdapter(connection);
    await judgeEmpty(ask, await readTables(ask), `The data folder ${folder}`, "Restore into another folder (DATA_DIR), or move this one away first.");
  } finally {
    await connection.dispose();
    await lookedAt.close();
  }
}

async function openToLook(folder: string, cluster: string): ReturnType<typeof openEmbedded> {
  try {
    return await openEmbedded(folder, { onFatal: () => undefined });
  } catch (error) {
    if (error instanceof Error && error.name === "FolderInUse") throw error;
    throw new BackupRefused(`The database in ${cluster} does not open, so nobody can tell whether it is empty. Move that folder away, to be kept, and restore again. (${sentenceOf(error)})`, { cause: error });
  }
}

async function judgeEmpty(ask: Ask, tables: readonly Table[], place: string, instead: string): Promise<void> {
  const filled: string[] = [];
  for (const { name } of tables) {
    if (OF_THE_MOMENT.has(name) || WRITTEN_AT_START.has(name)) continue;
    if ((await ask(`SELECT EXISTS (SELECT FROM ${quoted(name)})::text AS text`)) === "true") filled.push(name);
  }
  if (filled.length > 0) {
    throw new BackupRefused(`${place} is not empty (there are rows in ${filled.slice(0, 3).join(", ")}${filled.length > 3 ? " and other tables" : ""}), and a backup is restored into an empty installation only. ${instead}`);
  }
}

async function ontoServer(url: string, here: MigrationList, work: Fill): Promise<string> {
  const server = await openServer(url);
  await whole(server.adapter, async (inside) => {
    const connection = await inside.connect();
    try {
      const ask = askAdapter(connection);
      const applied = await readApplied(ask);
      if (applied !== null) await clearAway(ask, (sql) => connection.executeScript(sql), applied, here, `The database ${server.where}`);
    } finally {
      await connection.dispose();
    }
    await work(inside);
  });
  return server.where;
}

/**
 * Takes the app's own empty tables off the server, so that they can be made as the backup's version had them. Only
 * what the migrations make is taken: they are run once in memory to see what that is.
 */
async function clearAway(
  ask: Ask, run: (sql: string) => Promise<void>, applied: readonly Applied[], here: MigrationList, place: string,
): Promise<void> {
  const instead = "Restore into another database (DATABASE_URL), a new one.";
  const found = await readTables(ask);
  const names = ["_prisma_migrations", ...found.map(({ name }) => name)];
  await run(`LOCK TABLE ${names.map(quoted).join(", ")} IN ACCESS EXCLUSIVE MODE`);
  await judgeEmpty(ask, found, place, instead);
  const ours = await madeBy(applied, here, place);
  const foreign = found.filter(({ name }) => !ours.tables.includes(name));
  if (foreign.length > 0) throw new BackupRefused(`${place} holds tables that are not Trimledger's: ${foreign.map(({ name }) => name).join(", ")}. ${instead}`);
  await run(`DROP TABLE ${names.map(quoted).join(", ")}`);
  for (const made of ours.functions) await run(`DROP FUNCTION IF EXISTS ${made}`);
  for (const made of ours.types) await run(`DROP TYPE IF EXISTS ${quoted(made)}`);
}

interface Made {
  readonly tables: readonly string[];
  readonly functions: readonly string[];
  readonly types: readonly string[];
}

async function madeBy(applied: readonly Applied[], here: MigrationList, place: string): Promise<Made> {
  const names = new Set(applied.map(({ name }) => name));
  const list = { ...here, migrationDirectories: here.migrationDirectories.filter(({ path: name }) => names.has(name)) };
  if (list.migrationDirectories.length < applied.length) throw new BackupRefused(`${place} was set up by a newer version of Trimledger. Restore into another database (DATABASE_URL), a new one.`);
  const scratch = await openScratch();
  try {
    await whole(scratch.adapter, (inside) => migrateInside(inside, list));
    const connection = await scratch.adapter.connect();
    const ask = askAdapter(connection);
    const tables = (await readTables(ask)).map(({ name }) => name);
    const functions = await ask(`SELECT coalesce(json_agg(oid::regprocedure::text), '[]')::text AS text FROM pg_proc WHERE pronamespace = 'public'::regnamespace`);
    const types = await ask(`SELECT coalesce(json_agg(typname), '[]')::text AS text FROM pg_type WHERE typnamespace = 'public'::regnamespace AND typtype IN ('e', 'd')`);
    await connection.dispose();
    return { tables, functions: JSON.parse(functions) as string[], types: JSON.parse(types) as string[] };
  } finally {
    await scratch.close();
  }
}
