/**
 * The power fails. Modelled at its worst: of the database's folder only what was synced survives, file contents by a
 * sync of the file, names (renamed, removed) by a sync of the folder they stand in. A new file's first name survives
 * with the file's own sync: POSIX does not promise it, but the file systems PostgreSQL is made for do (ext4, xfs, btrfs,
 * NTFS), and PostgreSQL counts on it. Everything acknowledged must be in what is left, wherever the cut falls. The same
 * cut on PGlite as it comes loses everything, which shows that this test can fail.
 */
import fs from "node:fs";
import path from "node:path";
import { NodeFS } from "@electric-sql/pglite/nodefs";
import { PGlite } from "@electric-sql/pglite";
import { afterEach, beforeEach, expect, test } from "vitest";
import { SafeFS, safeStartParams, syncTree } from "@/lib/store/database/safe-fs";
import { emptyFolder } from "./test-database";

/** A file or folder, whatever it is called: its inode, with its time of birth because inodes are used again. */
function identity(place: string): string {
  const stat = fs.statSync(place, { bigint: true });
  return `${stat.ino} born ${stat.birthtimeNs}`;
}

/** What a disk holds for sure: contents by identity, and for each folder, by identity, the names in it. */
class Disk {
  readonly #contents = new Map<string, Buffer>();
  readonly #names = new Map<string, Map<string, { what: string; folder: boolean }>>();
  readonly #sync = fs.fsyncSync;

  /** Takes the folder as it stands for synced, and from now on records every sync. */
  constructor(readonly root: string) {
    this.#takeTree(root);
    fs.fsyncSync = (handle) => {
      this.#sync(handle);
      this.#take(fs.readlinkSync(`/proc/self/fd/${handle}`));
    };
  }

  stop(): void {
    fs.fsyncSync = this.#sync;
  }

  #takeTree(place: string): void {
    this.#take(place);
    if (!fs.statSync(place).isDirectory()) return;
    for (const name of fs.readdirSync(place)) this.#takeTree(path.join(place, name));
  }

  #take(place: string): void {
    if (!fs.existsSync(place)) return;
    const what = identity(place);
    if (!fs.statSync(place).isDirectory()) {
      if (!this.#contents.has(what)) this.#names.get(identity(path.dirname(place)))?.set(path.basename(place), { what, folder: false });
      this.#contents.set(what, fs.readFileSync(place));
      return;
    }
    const names = fs.readdirSync(place, { withFileTypes: true }).map((entry) => [entry.name, { what: identity(path.join(place, entry.name)), folder: entry.isDirectory() }] as const);
    this.#names.set(what, new Map(names));
  }

  /** Writes what would be found after the power has come back. */
  restoreTo(place: string, what = identity(this.root)): void {
    fs.mkdirSync(place);
    fs.chmodSync(place, 0o700);
    for (const [name, entry] of this.#names.get(what) ?? []) {
      if (entry.folder) this.restoreTo(path.join(place, name), entry.what);
      else fs.writeFileSync(path.join(place, name), this.#contents.get(entry.what) ?? "");
    }
  }
}

let folder: string;
let remove: () => Promise<void>;
let disk: Disk | undefined;
beforeEach(() => {
  const place = emptyFolder();
  folder = place.choice.folder;
  remove = place.remove;
});
afterEach(async () => {
  disk?.stop();
  await remove();
});

const open = (cluster: string): Promise<PGlite> => PGlite.create({ fs: new SafeFS(cluster), startParams: [...safeStartParams] });

async function readings(cluster: string): Promise<number[]> {
  const database = await open(cluster);
  const { rows } = await database.query<{ n: number }>("SELECT n FROM reading ORDER BY n");
  await database.close();
  return rows.map((row) => row.n);
}

async function newCluster(): Promise<string> {
  const cluster = path.join(folder, "postgres");
  const database = await open(cluster);
  await database.exec("CREATE TABLE reading (n INT PRIMARY KEY, note TEXT)");
  await database.close();
  syncTree(cluster);
  return cluster;
}

test.runIf(process.platform === "linux")("whatever was acknowledged survives a power cut, wherever it falls", async () => {
  const cluster = await newCluster();
  disk = new Disk(cluster);
  const database = await open(cluster);
  const note = "x".repeat(2_000);
  const cuts: { at: number; left: string }[] = [];
  for (let n = 1; n <= 200; n += 1) {
    await database.query("INSERT INTO reading VALUES ($1, $2)", [n, note]);
    // Now and then what else a server does by itself: a checkpoint, a new file of the log, a table written anew.
    if (n % 60 === 0) await database.exec("CHECKPOINT");
    if (n % 75 === 0) await database.query("SELECT pg_switch_wal()");
    if (n % 90 === 0) await database.exec("VACUUM FULL reading");
    if (n % 40 === 0 || n === 1 || n === 151) {
      const left = path.join(folder, `left-at-${n}`);
      disk.restoreTo(left);
      cuts.push({ at: n, left });
    }
  }
  disk.stop();
  await database.close();
  for (const { at, left } of cuts) {
    const found = await readings(left).catch((error: unknown) => String(error));
    expect(found, `after the cut at ${at}`).toEqual(Array.from({ length: at }, (_, n) => n + 1));
  }
});

test.runIf(process.platform === "linux")("PGlite as it comes loses everything it acknowledged", async () => {
  const cluster = await newCluster();
  disk = new Disk(cluster);
  const database = await PGlite.create({ fs: new NodeFS(cluster) });
  for (let n = 1; n <= 20; n += 1) await database.query("INSERT INTO reading VALUES ($1, '')", [n]);
  const left = path.join(folder, "left");
  disk.restoreTo(left);
  disk.stop();
  await database.close();
  expect(await readings(left)).toEqual([]);
});
