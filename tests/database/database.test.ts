/** What holds on either database: migrations and the schema agree, transactions are whole, and time is kept in UTC. */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { chosenDatabase, openDatabase } from "@/lib/store/database";
import type { Database } from "@/lib/store/database";
import { openScratch } from "@/lib/store/database/embedded";
import { applyMigrations, missingMigration, readMigrations } from "@/lib/store/database/migrations";
import { openServer } from "@/lib/store/database/server";
import { emptyDatabase, kind, migratedDatabase } from "./test-database";
import type { TestDatabase } from "./test-database";

test("the migrations on disk lead to prisma/schema.prisma", async () => {
  const scratch = await openScratch();
  try {
    expect(await missingMigration(scratch.adapter)).toBeNull();
  } finally {
    await scratch.close();
  }
});

describe(`on the ${kind} database`, () => {
  let place: TestDatabase;
  let database: Database;
  beforeAll(async () => {
    place = await emptyDatabase();
    database = await openDatabase(place.choice);
    await database.prisma.$executeRaw`CREATE SCHEMA test_only`;
    await database.prisma.$executeRaw`CREATE TABLE test_only.reading (n INT PRIMARY KEY, at TIMESTAMPTZ(3))`;
  });
  afterAll(async () => {
    await database.close();
    await place.remove();
  });
  beforeEach(async () => {
    await database.prisma.$executeRaw`DELETE FROM test_only.reading`;
  });
  const count = async (): Promise<number> => {
    const [row] = await database.prisma.$queryRaw<{ n: number }[]>`SELECT count(*)::int AS n FROM test_only.reading`;
    return row?.n ?? -1;
  };

  test("a new database has every migration, recorded where Prisma's own command looks", async () => {
    const names = readMigrations().migrationDirectories.map((directory) => directory.path);
    expect(names.length).toBeGreaterThan(0);
    expect(database.migrated).toEqual(names);
    const rows = await database.prisma.$queryRaw<{ migration_name: string; finished: boolean }[]>`SELECT migration_name, finished_at IS NOT NULL AS finished FROM _prisma_migrations ORDER BY migration_name`;
    expect(rows).toEqual(names.map((name) => ({ migration_name: name, finished: true })));
  });

  test("a transaction that throws leaves nothing, one that ends leaves all", async () => {
    const wrong = database.transaction(async (tx) => {
      await tx.$executeRaw`INSERT INTO test_only.reading VALUES (1)`;
      throw new Error("the scale was not tared");
    });
    await expect(wrong).rejects.toThrow("the scale was not tared");
    expect(await count()).toBe(0);
    await database.transaction(async (tx) => {
      await tx.$executeRaw`INSERT INTO test_only.reading VALUES (1)`;
      await tx.$executeRaw`INSERT INTO test_only.reading VALUES (2)`;
    });
    expect(await count()).toBe(2);
  });

  test("an error inside a transaction undoes what came before it, and the next transaction works", async () => {
    const wrong = database.transaction(async (tx) => {
      await tx.$executeRaw`INSERT INTO test_only.reading VALUES (1)`;
      await tx.$executeRaw`INSERT INTO test_only.reading VALUES (1)`;
    });
    await expect(wrong).rejects.toThrow(/[Uu]nique|23505/);
    expect(await count()).toBe(0);
    await database.transaction((tx) => tx.$executeRaw`INSERT INTO test_only.reading VALUES (1)`);
    expect(await count()).toBe(1);
  });

  test("a transaction whose error was swallowed does not pass for committed", async () => {
    const wrong = database.transaction(async (tx) => {
      await tx.$executeRaw`INSERT INTO test_only.reading VALUES (1)`;
      await tx.$executeRaw`INSERT INTO test_only.reading VALUES (1)`.catch(() => undefined);
    });
    await expect(wrong).rejects.toThrow();
    expect(await count()).toBe(0);
  });

  test("many transactions at once all end", async () => {
    await Promise.all(
      Array.from({ length: 40 }, (_, n) =>
        database.transaction(async (tx) => {
          await tx.$executeRaw`INSERT INTO test_only.reading VALUES (${n})`;
          await tx.$queryRaw`SELECT count(*) FROM test_only.reading`;
        }),
      ),
    );
    expect(await count()).toBe(40);
  });

  test("inside a transaction the outer client and a second transaction are refused, not waited for", async () => {
    await expect(database.transaction(() => database.prisma.$queryRaw`SELECT 1`)).rejects.toThrow(/handed to the transaction/);
    await expect(database.transaction(() => database.transaction(() => Promise.resolve()))).rejects.toThrow(/handed to the transaction/);
    expect(await count()).toBe(0);
  });

  test("a time stamp comes back as it went in, whatever zone the machine keeps", async () => {
    const at = new Date("2026-07-25T21:30:15.123Z");
    await database.prisma.$executeRaw`INSERT INTO test_only.reading VALUES (1, ${at})`;
    const rows = await database.prisma.$queryRaw`SELECT at, to_char(at AT TIME ZONE 'UTC', 'YYYY-MM-DD HH24:MI:SS.MS') AS text FROM test_only.reading`;
    expect(rows).toEqual([{ at, text: "2026-07-25 21:30:15.123" }]);
  });
});

describe("migrating", () => {
  let place: TestDatabase;
  let migrations: string;
  beforeEach(async () => {
    place = await emptyDatabase();
    migrations = fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-migrations-"));
    migration("20260101000000_first", "CREATE TABLE item (id INT PRIMARY KEY);");
  });
  afterEach(async () => {
    await place.remove();
    fs.rmSync(migrations, { recursive: true });
  });

  function migration(name: string, sql: string): void {
    fs.mkdirSync(path.join(migrations, name), { recursive: true });
    fs.writeFileSync(path.join(migrations, name, "migration.sql"), sql);
  }

  /** Migrates a database that holds nothing of ours, with the migrations of this test. */
  async function migrate(): Promise<readonly string[]> {
    if (kind === "server") {
      const server = await openServer((place.choice as { url: string }).url);
      return applyMigrations(server.adapter, readMigrations(migrations));
    }
    scratch ??= await openScratch();
    return applyMigrations(scratch.adapter, readMigrations(migrations));
  }
  async function foreignTable(): Promise<void> {
    const { adapter } = kind === "server" ? await openServer((place.choice as { url: string }).url) : (scratch ??= await openScratch());
    const connection = await adapter.connect();
    await connection.executeScript("CREATE TABLE somebody_elses (id INT)");
    await connection.dispose();
  }
  let scratch: Awaited<ReturnType<typeof openScratch>> | undefined;
  afterEach(async () => {
    await scratch?.close();
    scratch = undefined;
  });

  test("again does nothing", async () => {
    expect(await migrate()).toEqual(["20260101000000_first"]);
    expect(await migrate()).toEqual([]);
  });

  test("runs a migration with a function whose body holds semicolons", async () => {
    migration("20260102000000_function", "CREATE FUNCTION refuse() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN RAISE EXCEPTION 'a fact; not edited'; END; $$;\nCREATE TRIGGER refuse BEFORE UPDATE ON item FOR EACH ROW EXECUTE FUNCTION refuse();");
    expect(await migrate()).toEqual(["20260101000000_first", "20260102000000_function"]);
  });

  test("refuses a migration that was edited after it was applied", async () => {
    await migrate();
    migration("20260101000000_first", "CREATE TABLE item (id BIGINT PRIMARY KEY);");
    await expect(migrate()).rejects.toThrow(/20260101000000_first was changed after/);
  });

  test("refuses a database of a newer version", async () => {
    migration("20260102000000_second", "CREATE TABLE dealer (id INT PRIMARY KEY);");
    await migrate();
    fs.rmSync(path.join(migrations, "20260102000000_second"), { recursive: true });
    await expect(migrate()).rejects.toThrow(/newer version.*20260102000000_second/);
  });

  test("refuses a database that holds somebody else's tables", async () => {
    migration("20260101000000_first", "CREATE TABLE item (id INT PRIMARY KEY);");
    await foreignTable();
    await expect(migrate()).rejects.toThrow(/tables that are not Trimledger's/);
  });

  test("a migration that fails leaves nothing of itself, nor of those before it, and may be put right", async () => {
    migration("20260102000000_broken", "CREATE TABLE dealer (id INT PRIMARY KEY); CREATE TABLE item (id INT);");
    await expect(migrate()).rejects.toThrow(/item.*already exists/);
    migration("20260102000000_broken", "CREATE TABLE dealer (id INT PRIMARY KEY);");
    expect(await migrate()).toEqual(["20260101000000_first", "20260102000000_broken"]);
  });
});

test.each([
  [{}, { folder: path.resolve("data") }],
  [{ DATA_DIR: "/srv/ledger" }, { folder: "/srv/ledger" }],
  [{ DATA_DIR: "/srv/ledger", DATABASE_URL: "postgresql://db/ledger" }, { url: "postgresql://db/ledger" }],
  [{ DATABASE_URL: " " }, { folder: path.resolve("data") }],
])("the environment %o asks for %o", (env, choice) => {
  expect(chosenDatabase(env)).toEqual(choice);
});

test("a migrated copy is ready: nothing is left to apply", async () => {
  const place = await migratedDatabase();
  const database = await openDatabase(place.choice);
  expect(database.migrated).toEqual([]);
  await database.close();
  await place.remove();
});
