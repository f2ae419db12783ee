/** The embedded database keeps what it acknowledged: it syncs, is opened once, is created whole, and dies loudly. */
import { spawn } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { DatabaseGone, openDatabase } from "@/lib/store/database";
import type { Database } from "@/lib/store/database";
import { openEmbedded } from "@/lib/store/database/embedded";
import { noFilters } from "@/lib/store/database/migrations";
import { readSchema, withSchemaEngine } from "@/lib/store/database/schema-engine";
import { emptyFolder, migratedDatabase } from "./test-database";
import type { TestDatabase } from "./test-database";

describe("the embedded database", () => {
  let place: TestDatabase & { choice: { folder: string } };
  let opened: Database[] = [];
  beforeEach(() => {
    place = emptyFolder();
    opened = [];
  });
  afterEach(async () => {
    for (const database of opened) await database.close();
    await place.remove();
  });

  async function open(): Promise<Database> {
    const database = await openDatabase(place.choice, { onFatal: () => undefined });
    opened.push(database);
    return database;
  }

  test("runs with fsync on, by a method that reaches the disk, in UTC", async () => {
    const database = await open();
    expect(await database.prisma.$queryRaw`SHOW fsync`).toEqual([{ fsync: "on" }]);
    expect(await database.prisma.$queryRaw`SHOW wal_sync_method`).toEqual([{ wal_sync_method: "fsync" }]);
    expect(await database.prisma.$queryRaw`SHOW timezone`).toEqual([{ TimeZone: "UTC" }]);
  });

  test("syncs for every commit, and not for a read", async () => {
    const database = await open();
    await database.transaction(async (tx) => {
      await tx.$executeRaw`CREATE TABLE scale_reading (ounces NUMERIC NOT NULL)`;
    });
    const before = database.syncs() ?? 0;
    const asked = countSyncs();
    for (let n = 1; n <= 20; n += 1) {
      await database.transaction(async (tx) => {
        await tx.$executeRaw`INSERT INTO scale_reading VALUES (${n})`;
      });
    }
    const after = database.syncs() ?? 0;
    expect(after - before).toBeGreaterThanOrEqual(20);
    expect(asked()).toBe(after - before);
    await database.prisma.$queryRaw`SELECT count(*) FROM scale_reading`;
    expect(database.syncs()).toBe(after);
  });

  test("is opened by one process at a time", async () => {
    await open();
    await expect(openDatabase(place.choice)).rejects.toThrow(/already open in this process/);
  });

  test("finds again what it was told, after closing and after being killed", async () => {
    const first = await open();
    await first.prisma.$executeRaw`CREATE TABLE scale_reading (ounces NUMERIC NOT NULL)`;
    await first.prisma.$executeRaw`INSERT INTO scale_reading VALUES (18.375)`;
    await first.close();
    opened = [];

    const written = await writeUntilKilled(place.choice.folder, 150);
    const second = await open();
    const [row] = await second.prisma.$queryRaw<{ n: bigint; last: { toString(): string } }[]>`SELECT count(*) AS n, max(ounces) AS last FROM scale_reading`;
    expect(Number(row?.n)).toBeGreaterThanOrEqual(1 + written);
  });

  test("is created whole: what an interrupted first start left is thrown away", async () => {
    const unfinished = path.join(place.choice.folder, "postgres.new");
    fs.mkdirSync(unfinished);
    fs.writeFileSync(path.join(unfinished, "PG_VERSION"), "17\n");
    await open();
    expect(fs.readdirSync(place.choice.folder).sort()).toEqual(["postgres", "postgres.lock"]);
  });

  test("opens over PostgreSQL's own lock, even one that a power cut left empty", async () => {
    const left = await migratedDatabase();
    if (!("folder" in left.choice)) throw new Error("expected a folder");
    for (const content of ["", "4", "42\n/pglite/data\n"]) {
      fs.writeFileSync(path.join(left.choice.folder, "postgres", "postmaster.pid"), content);
      const database = await openDatabase(left.choice);
      expect(await database.prisma.$queryRaw`SELECT 1 AS one`).toEqual([{ one: 1 }]);
      await database.close();
    }
    await left.remove();
  });

  test("does not build over a folder that holds something else", async () => {
    fs.mkdirSync(path.join(place.choice.folder, "postgres"));
    fs.writeFileSync(path.join(place.choice.folder, "postgres", "recipes.txt"), "stock");
    await expect(openDatabase(place.choice)).rejects.toThrow(/holds something that is not a database/);
    expect(fs.readdirSync(place.choice.folder)).toEqual(["postgres"]);
  });

  test("a COMMIT that fails is a failure", async () => {
    const embedded = await openEmbedded(place.choice.folder, { onFatal: () => undefined });
    const adapter = await embedded.adapter.connect();
    await adapter.executeScript("CREATE TABLE part (id INT PRIMARY KEY); CREATE TABLE piece (part INT REFERENCES part DEFERRABLE INITIALLY DEFERRED)");
    const tx = await adapter.startTransaction();
    await tx.executeRaw({ sql: "INSERT INTO piece VALUES (7)", args: [], argTypes: [] });
    await expect(tx.commit()).rejects.toThrow(/foreign key/);
    await expect(adapter.executeScript("SELECT 1; SELECT nonsense")).rejects.toThrow(/nonsense/);
    await embedded.close();
  });

  test("an instance that dies at a failed sync says so once, takes nothing more, and has lost nothing when opened again", async () => {
    const seen: Error[] = [];
    const database = await openDatabase(place.choice, { onFatal: (error) => seen.push(error) });
    await database.prisma.$executeRaw`CREATE TABLE scale_reading (ounces NUMERIC NOT NULL)`;
    await database.prisma.$executeRaw`INSERT INTO scale_reading VALUES (1)`;
    const sync = fs.fsyncSync;
    fs.fsyncSync = () => {
      throw Object.assign(new Error("EIO: i/o error, fsync"), { code: "EIO" });
    };
    try {
      const save = database.transaction(async (tx) => {
        await tx.$executeRaw`INSERT INTO scale_reading VALUES (2)`;
      });
      await expect(save).rejects.toThrow();
    } finally {
      fs.fsyncSync = sync;
    }
    expect(seen.map((error) => error.name)).toEqual(["DatabaseGone"]);
    expect(String(seen[0]?.cause)).toMatch(/could not fsync/);
    await expect(database.prisma.$queryRaw`SELECT 1`).rejects.toThrow();
    await expect(database.transaction(() => Promise.resolve())).rejects.toThrow(DatabaseGone);
    await database.close().catch(() => undefined);

    const again = await open();
    // The second was never acknowledged: it may be there or not. The first was, and must be.
    expect(await again.prisma.$queryRaw`SELECT count(*)::int AS n FROM scale_reading WHERE ounces = 1`).toEqual([{ n: 1 }]);
  });
});

test("the migrated embedded database and prisma/schema.prisma do not differ", async () => {
  const place = emptyFolder();
  await (await openDatabase(place.choice)).close();
  const { adapter, close } = await openEmbedded(place.choice.folder, { onFatal: () => undefined });
  try {
    const found = await withSchemaEngine(adapter, (engine) => engine.introspect({ schema: bare(), baseDirectoryPath: process.cwd(), force: true, compositeTypeDepth: -1, namespaces: null }));
    expect(found.schema.files.map((file) => file.content).join()).toMatch(/model \w+/);
    const difference = await withSchemaEngine(adapter, (engine) =>
      engine.diff({ from: { tag: "schemaDatamodel", files: found.schema.files }, to: { tag: "schemaDatamodel", ...readSchema() }, script: false, exitCode: true, filters: noFilters }),
    );
    expect(difference, difference.stdout ?? "").toMatchObject({ exitCode: 0 });
  } finally {
    await close();
    await place.remove();
  }
});

/** A schema that says only which database it is for: what is introspected into it is then the database's own. */
function bare(): ReturnType<typeof readSchema> {
  return { files: [{ path: "schema.prisma", content: 'datasource db {\n  provider = "postgresql"\n}\n' }] };
}

/** Counts the syncs asked of the host from now on, until it is asked for the number. */
function countSyncs(): () => number {
  const sync = fs.fsyncSync;
  let asked = 0;
  fs.fsyncSync = (handle) => {
    asked += 1;
    sync(handle);
  };
  return () => {
    fs.fsyncSync = sync;
    return asked;
  };
}

/** Writes readings one by one in another process, kills it outright in the middle, and says how many it had acknowledged. */
function writeUntilKilled(folder: string, acknowledged: number): Promise<number> {
  const code = `
    import { openDatabase } from ${JSON.stringify(path.resolve("lib/store/database/index.ts"))};
    const database = await openDatabase({ folder: ${JSON.stringify(folder)} });
    for (let n = 1; ; n += 1) {
      await database.prisma.$executeRawUnsafe("INSERT INTO scale_reading VALUES (" + n + ")");
      console.log(n);
    }
  `;
  return new Promise((resolve) => {
    const child = spawn(process.execPath, ["--import", "tsx", "--input-type=module", "-e", code], { stdio: ["ignore", "pipe", "inherit"] });
    let said = "";
    child.stdout.on("data", (piece: Buffer) => {
      said += piece.toString();
      if (said.split("\n").length > acknowledged) child.kill("SIGKILL");
    });
    child.once("close", () => { resolve(said.split("\n").length - 1); });
  });
}
