/**
 * `npm run migration -- <name>`: writes prisma/migrations/<time>_<name>/migration.sql, the SQL that brings the
 * migrations so far to prisma/schema.prisma. Both are compared in a database in memory, so no data is touched and no
 * server is needed. Read what it writes: the engine does not know what the rows mean, and renames look to it like a
 * drop and a create. Edit freely before it is applied anywhere, never after.
 */
import fs from "node:fs";
import path from "node:path";
import { openScratch } from "../lib/store/database/embedded";
import { lockfileText, missingMigration } from "../lib/store/database/migrations";
import { migrationsPath } from "../lib/store/database/schema-engine";

const name = process.argv.slice(2).join("_").toLowerCase().replace(/[^a-z0-9]+/g, "_").replace(/^_+|_+$/g, "");
if (name === "") {
  console.error("Give the migration a name that says what it changes: npm run migration -- add_dealers");
  process.exit(2);
}

const scratch = await openScratch();
const script = await missingMigration(scratch.adapter).finally(() => scratch.close());
if (script === null) {
  console.log("prisma/schema.prisma and the migrations agree: nothing to write.");
} else {
  const stamp = new Date().toISOString().replace(/\D/g, "").slice(0, 14);
  const folder = path.join(migrationsPath(), `${stamp}_${name}`);
  fs.mkdirSync(folder, { recursive: true });
  fs.writeFileSync(path.join(folder, "migration.sql"), script.endsWith("\n") ? script : `${script}\n`);
  fs.writeFileSync(path.join(migrationsPath(), "migration_lock.toml"), lockfileText);
  console.log(`Wrote ${path.relative(process.cwd(), folder)}/migration.sql. Read it before you commit it.`);
}
