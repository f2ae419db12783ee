/**
 * Filling an empty database from a backup, inside one transaction: the migrations that the backup had, its rows, and
 * then the migrations that have come since, which change the old rows as they would have changed them in place.
 *
 * While the rows go in, triggers are off (what a trigger would do was done when the rows were first written), and
 * foreign keys whose target may come later are checked once everything is there.
 */
import { createHash } from "node:crypto";
import type { SqlDriverAdapter, SqlMigrationAwareDriverAdapterFactory } from "@prisma/driver-adapter-utils";
import type { MigrationList } from "@prisma/schema-engine-wasm/schema_engine_bg";
import { migrateInside } from "../database/migrations";
import { type Ask, askAdapter, plainText, quoted } from "./ask";
import { type Applied, OF_THE_MOMENT, type Table, readTables } from "./catalogue";
import type { TableLine } from "./format";
import { type Verified, readFile } from "./read-file";
import { BackupRefused } from "./refused";

/** The migrations here that the backup had. Throws BackupRefused when it had others than we know. */
export function migrationsOf(backup: readonly Applied[], here: MigrationList): MigrationList {
  const known = new Map(here.migrationDirectories.map(({ path, migrationFile }) => [path, migrationFile.content]));
  const unknown = backup.filter(({ name }) => !known.has(name));
  if (unknown.length > 0) {
    throw new BackupRefused(`The backup was made by a newer version of Trimledger (it has ${unknown.map(({ name }) => name).join(", ")}, which is not here). Update Trimledger, then restore it.`);
  }
  const edited = backup.filter(({ name, checksum }) => {
    const content = known.get(name);
    return content?.tag === "ok" && createHash("sha256").update(content.value).digest("hex") !== checksum;
  });
  if (edited.length > 0) {
    throw new BackupRefused(`The migration ${edited.map(({ name }) => name).join(", ")} is not the one that the backup's database had. Restore with an unaltered version of Trimledger.`);
  }
  const had = new Set(backup.map(({ name }) => name));
  return { ...here, migrationDirectories: here.migrationDirectories.filter(({ path }) => had.has(path)) };
}

/** `inside`: an adapter whose connections are one transaction (`whole`), on a database without tables. */
export async function fill(inside: SqlMigrationAwareDriverAdapterFactory, file: string, backup: Verified, here: MigrationList): Promise<void> {
  await migrateInside(inside, migrationsOf(backup.header.migrations, here));
  const connection = await inside.connect();
  try {
    const run = (sql: string): Promise<void> => connection.executeScript(sql);
    await run(plainText);
    const ask = askAdapter(connection);
    const tables = judgeTables(await readTables(ask), backup.tables);
    await loosen(run, tables, backup.tables);
    await emptyOut(run, tables);
    await insertRows(connection, file, backup, tables);
    await tighten(run, tables, backup.tables);
    await countOn(ask, tables);
  } finally {
    await connection.dispose();
  }
  await migrateInside(inside, here);
}

/** The tables of the backup as the database has them, in the backup's order; they must be the very same. */
function judgeTables(found: readonly Table[], backup: readonly TableLine[]): readonly Table[] {
  const byName = new Map(found.map((table) => [table.name, table]));
  const tables = backup.map(({ table: name, columns }) => {
    const table = byName.get(name);
    if (table === undefined || JSON.stringify(table.columns) !== JSON.stringify(columns)) {
      throw new BackupRefused(`The table ${name} of the backup does not look as its own migrations make it, so the backup cannot be restored without guessing.`);
    }
    return table;
  });
  const missing = found.filter(({ name }) => !backup.some(({ table }) => table === name));
  if (missing.length > 0) throw new BackupRefused(`The backup lacks the table ${missing.map(({ name }) => name).join(", ")}, which its own migrations make, so it is not whole.`);
  return tables;
}

type Run = (sql: string) => Promise<void>;

/** Foreign keys to the table itself or to one that comes later: a row may come before the row it points to. */
function* forward(tables: readonly Table[], order: readonly TableLine[]): Generator<{ table: string; key: string }> {
  const at = new Map(order.map(({ table }, index) => [table, index]));
  for (const { name, foreignKeys } of tables) {
    for (const { name: key, to, deferrable } of foreignKeys) {
      if (!deferrable && (at.get(to) ?? 0) >= (at.get(name) ?? 0)) yield { table: name, key };
    }
  }
}

async function loosen(run: Run, tables: readonly Table[], order: readonly TableLine[]): Promise<void> {
  for (const { name } of tables) await run(`ALTER TABLE ${quoted(name)} DISABLE TRIGGER USER`);
  for (const { table, key } of forward(tables, order)) await run(`ALTER TABLE ${quoted(table)} ALTER CONSTRAINT ${quoted(key)} DEFERRABLE INITIALLY DEFERRED`);
  await run("SET CONSTRAINTS ALL DEFERRED");
}

/** Everything that was put off is checked here. */
async function tighten(run: Run, tables: readonly Table[], order: readonly TableLine[]): Promise<void> {
  await run("SET CONSTRAINTS ALL IMMEDIATE");
  for (const { table, key } of forward(tables, order)) await run(`ALTER TABLE ${quoted(table)} ALTER CONSTRAINT ${quoted(key)} NOT DEFERRABLE`);
  for (const { name } of tables) await run(`ALTER TABLE ${quoted(name)} ENABLE TRIGGER USER`);
}

/** Rows that the migrations themselves wrote are in the backup too, perhaps changed since. */
async function emptyOut(run: Run, tables: readonly Table[]): Promise<void> {
  for (const { name } of tables.toReversed()) await run(`DELETE FROM ${quoted(name)}`);
  await run("SET CONSTRAINTS ALL IMMEDIATE; SET CONSTRAINTS ALL DEFERRED");
}

async function insertRows(connection: SqlDriverAdapter, file: string, backup: Verified, tables: readonly Table[]): Promise<void> {
  const byName = new Map(tables.map((table) => [table.name, table]));
  let table: Table | undefined;
  for await (const part of readFile(file)) {
    switch (part.kind) {
      case "header":
      case "photo":
        break;
      case "table":
        table = byName.get(part.table.table);
        break;
      case "rows":
        if (table === undefined) throw new Error("expected the rows of a backup to follow their table");
        if (!OF_THE_MOMENT.has(table.name)) await insert(connection, table, part.rows);
        break;
      case "closing":
        if (part.closing.sha256 !== backup.closing.sha256) throw new BackupRefused("The backup file was changed while it was being restored. Nothing was restored from it.");
        break;
    }
  }
}

/** So much text in one statement, in characters. */
const MOST_TEXT = 2 ** 20;

async function insert(connection: SqlDriverAdapter, { name, columns }: Table, rows: readonly string[]): Promise<void> {
  const names = columns.map((column) => quoted(column.name)).join(", ");
  const values = columns.map(({ type }, index) => `(r.v->>${index})::${type}`).join(", ");
  const sql = `INSERT INTO ${quoted(name)} (${names}) OVERRIDING SYSTEM VALUE SELECT ${values} FROM jsonb_array_elements($1::text::jsonb) AS r(v)`;
  for (let from = 0; from < rows.length;) {
    let to = from;
    for (let length = 0; to < rows.length && length < MOST_TEXT; to += 1) length += rows[to]?.length ?? 0;
    const written = await connection.executeRaw({ sql, args: [`[${rows.slice(from, to).join(",")}]`], argTypes: [{ scalarType: "string", arity: "scalar" }] });
    if (written !== to - from) throw new Error(`expected ${to - from} rows to be written into ${name}, got ${written}`);
    from = to;
  }
}

/** Columns that number their rows go on after the greatest number there is. */
async function countOn(ask: Ask, tables: readonly Table[]): Promise<void> {
  for (const { name, counters } of tables) {
    for (const { column, sequence } of counters) {
      await ask(`SELECT setval('${sequence.replaceAll("'", "''")}', coalesce(max(${quoted(column)}), 1), count(*) > 0)::text AS text FROM ${quoted(name)}`);
    }
  }
}
