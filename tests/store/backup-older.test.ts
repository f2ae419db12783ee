/** A backup goes through versions: an older one is migrated as its own installation would have been; a newer one waits. */
import { createHash } from "node:crypto";
import type { MigrationList } from "@prisma/schema-engine-wasm/schema_engine_bg";
import { PrismaClient } from "@/prisma/generated/client";
import { afterAll, describe, expect, test } from "vitest";
import { backUp, restore } from "@/lib/store/backup";
import type { Database, DatabaseChoice } from "@/lib/store/database";
import { openEmbedded } from "@/lib/store/database/embedded";
import { applyMigrations, readMigrations } from "@/lib/store/database/migrations";
import { openServer } from "@/lib/store/database/server";
import { type TestDatabase, emptyDatabase, kind, migratedDatabase } from "../database/test-database";
import { recordBare } from "./bare-change";
import { shelf } from "./backup-rows";

const files = shelf();
afterAll(() => { files.remove(); });

const here = readMigrations();
const first: MigrationList = { ...here, migrationDirectories: here.migrationDirectories.slice(0, 1) };

/** A version to come: a column worked out from what there is, a table that counts by itself, points at itself and in a circle, and has rows from the start. */
const LATER = "29990101000000_a_version_to_come";
const laterSql = `
  ALTER TABLE "kitchen" ADD COLUMN "motto" TEXT;
  UPDATE "kitchen" SET "motto" = 'so far ' || "change_no";
  ALTER TABLE "kitchen" ALTER COLUMN "motto" SET NOT NULL;
  CREATE TYPE "shade" AS ENUM ('light', 'dark');
  CREATE TABLE "badge" (
    "no" INTEGER GENERATED ALWAYS AS IDENTITY PRIMARY KEY, "colour" "shade" NOT NULL, "twice" INTEGER GENERATED ALWAYS AS ("no" * 2) STORED,
    "next" INTEGER REFERENCES "badge"("no"), "seal" BYTEA, "tags" TEXT[], "hook" INTEGER, "made" TIMESTAMPTZ(6), "note" JSONB, "worth" NUMERIC(12,4));
  CREATE TABLE "hook" ("no" INTEGER PRIMARY KEY, "badge" INTEGER NOT NULL REFERENCES "badge"("no"));
  ALTER TABLE "badge" ADD CONSTRAINT "badge_hook" FOREIGN KEY ("hook") REFERENCES "hook"("no");
  DROP TABLE IF EXISTS "session" CASCADE;
  CREATE TABLE "session" ("id" TEXT PRIMARY KEY);
  INSERT INTO "badge" ("colour") VALUES ('light'), ('dark');
  CREATE FUNCTION "echo_badge"() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN INSERT INTO "session" VALUES ('badge ' || NEW."no"); RETURN NEW; END $$;
  CREATE TRIGGER "badge_echo" AFTER INSERT ON "badge" FOR EACH ROW EXECUTE FUNCTION "echo_badge"();
`;
const later: MigrationList = {
  ...here,
  migrationDirectories: [...here.migrationDirectories, { path: LATER, migrationFile: { path: "migration.sql", content: { tag: "ok", value: laterSql } } }],
};

/** The database as it is, whatever version it has, for raw statements only. */
async function raw(choice: DatabaseChoice): Promise<{ database: Database; migrate(list: MigrationList): Promise<readonly string[]>; rows(sql: string): Promise<unknown[]>; close(): Promise<void> }> {
  const opened = "url" in choice
    ? { ...(await openServer(choice.url)), close: () => Promise.resolve() }
    : await openEmbedded(choice.folder, { onFatal: (error) => { throw error; } });
  const prisma = new PrismaClient({ adapter: opened.adapter });
  return {
    database: { prisma, transaction: (work: (tx: unknown) => Promise<unknown>) => prisma.$transaction(work) } as unknown as Database,
    migrate: (list) => applyMigrations(opened.adapter, list),
    rows: (sql) => prisma.$queryRawUnsafe<unknown[]>(sql),
    close: async () => {
      await prisma.$disconnect();
      await opened.close();
    },
  };
}

/** A backup of an installation that has these migrations and a little recorded. */
async function backupOf(list: MigrationList, name: string, more: readonly string[] = []): Promise<{ file: string; place: TestDatabase }> {
  const place = await emptyDatabase();
  const installation = await raw(place.choice);
  await installation.migrate(list);
  await recordBare(installation.database, "old", [{ change: { kind: "dealer", id: "d", after: { id: "d", name: "Harbour", note: "since 1998", minimumOrder: null, ordering: "" } }, validFrom: "2026-11-20" }]).catch((error: unknown) => {
    // A later version's kitchen wants its motto.
    if (list !== later) throw error;
  });
  for (const statement of more) await installation.database.prisma.$executeRawUnsafe(statement);
  await installation.close();
  await backUp(place.choice, files.file(name), { over: false });
  return { file: files.file(name), place };
}

const inUse = [
  `INSERT INTO kitchen VALUES ('new', 0, 0, now(), 'forward')`,
  `UPDATE badge SET colour = 'dark', worth = 7.1000, seal = '\\x00ff5c', tags = '{"a b",NULL,"ü"}', made = '2026-11-25 09:30:00.123456+02', note = '{"b": 1.10, "a": null}' WHERE no = 1`,
  `INSERT INTO badge (colour) SELECT 'light' FROM generate_series(1, 5)`,
  `INSERT INTO hook VALUES (1, 7)`,
  `UPDATE badge SET next = no + 1, hook = 1 WHERE no < 7`,

];

describe(`on the ${kind} database, a backup`, () => {
  test("of an older version is restored and migrated, also over an installation of this version that is empty", async () => {
    const { file, place } = await backupOf(first, "older.backup");
    await place.remove();
    for (const where of [await emptyDatabase(), await migratedDatabase()]) {
      const restored = await restore(where.choice, file, later);
      expect(restored.header.migrations.map(({ name }) => name)).toEqual([here.migrationDirectories[0]?.path]);
      const now = await raw(where.choice);
      expect(await now.rows("SELECT id, change_no, motto FROM kitchen")).toEqual([{ id: "old", change_no: 1, motto: "so far 1" }]);
      expect(await now.rows("SELECT name, note FROM dealer")).toEqual([{ name: "Harbour", note: "since 1998" }]);
      expect(await now.rows("SELECT no, colour::text, twice FROM badge ORDER BY no")).toEqual([{ no: 1, colour: "light", twice: 2 }, { no: 2, colour: "dark", twice: 4 }]);
      expect(await now.rows("SELECT migration_name AS name FROM _prisma_migrations ORDER BY 1")).toEqual(later.migrationDirectories.map(({ path }) => ({ name: path })));
      expect(await now.migrate(later)).toEqual([]);
      await now.close();
      await where.remove();
    }
  }, 300_000);

  test("keeps circles, counters, enums, bytes, lists and microseconds, and runs no trigger again", async () => {
    const { file, place } = await backupOf(later, "later.backup", inUse);
    const where = await emptyDatabase();
    await restore(where.choice, file, later);
    const [then, now] = [await raw(place.choice), await raw(where.choice)];
    for (const table of ["badge", "hook", "kitchen"]) {
      const sql = `SELECT t::text AS row FROM ${table} t ORDER BY 1`;
      expect(await now.rows(sql)).toEqual(await then.rows(sql));
    }
    expect(await then.rows("SELECT count(*)::int AS n FROM session")).toEqual([{ n: 5 }]);
    expect(await now.rows("SELECT count(*)::int AS n FROM session")).toEqual([{ n: 0 }]);
    expect(await now.rows("INSERT INTO badge (colour) VALUES ('dark') RETURNING no")).toEqual([{ no: 8 }]);
    expect(await now.rows("SELECT id FROM session")).toEqual([{ id: "badge 8" }]);
    await expect(now.rows("INSERT INTO badge (colour, next) VALUES ('dark', 99) RETURNING no")).rejects.toThrow(/[Ff]oreign/);
    for (const installation of [then, now]) await installation.close();
    await where.remove();
    await place.remove();
  });

  test("of a newer version, or with a migration that is not ours, is refused", async () => {
    const { file, place } = await backupOf(later, "newer.backup", inUse.slice(0, 1));
    await place.remove();
    const where = await emptyDatabase();
    await expect(restore(where.choice, file)).rejects.toThrow(/made by a newer version of Trimledger \(it has 29990101000000_a_version_to_come, which is not here\)\. Update/);
    const otherwise = { ...later, migrationDirectories: later.migrationDirectories.map((one) => (one.path === LATER ? { ...one, migrationFile: { path: "migration.sql", content: { tag: "ok" as const, value: `${laterSql}-- edited` } } } : one)) };
    await expect(restore(where.choice, file, otherwise)).rejects.toThrow(/is not the one that the backup's database had/);
    await where.remove();
  });

  test("names each migration with the sum that Prisma keeps of it", async () => {
    const { place } = await backupOf(first, "sums.backup");
    const installation = await raw(place.choice);
    const content = first.migrationDirectories[0]?.migrationFile.content;
    expect(await installation.rows("SELECT checksum FROM _prisma_migrations")).toEqual([{ checksum: createHash("sha256").update(content?.tag === "ok" ? content.value : "").digest("hex") }]);
    await installation.close();
    await place.remove();
  });
});
