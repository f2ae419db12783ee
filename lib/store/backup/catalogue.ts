/**
 * Which tables there are, asked of the database itself rather than kept in a list here, so that a table which a later
 * migration adds is in the next backup without anybody thinking of it. `_prisma_migrations` is not among them: which
 * migrations were applied stands in a backup's header.
 */
import { z } from "zod";
import type { Ask } from "./ask";

/**
 * Tables whose rows are only of the moment: who is signed in, failed attempts to, sign-ins half done. Their
 * rows are not backed up, so a restored installation has nobody signed in.
 */
export const OF_THE_MOMENT: ReadonlySet<string> = new Set(["session", "sign_in_attempt", "verification"]);

/**
 * Tables in which the app writes by itself when it is started, before anybody has recorded anything: an installation
 * with rows in these alone is empty.
 */
export const WRITTEN_AT_START: ReadonlySet<string> = new Set(["installation"]);

const column = z.object({ name: z.string(), type: z.string() });
const table = z.object({
  name: z.string(),
  columns: z.array(column),
  /** Foreign keys, with the table each points to and whether the migration made it wait for the commit by itself. */
  foreignKeys: z.array(z.object({ name: z.string(), to: z.string(), deferrable: z.boolean() })),
  /** Columns that count by themselves, with their sequence. */
  counters: z.array(z.object({ column: z.string(), sequence: z.string() })),
  /** Whether the database refuses to change or delete its rows. */
  appendOnly: z.boolean(),
});

export type Column = z.infer<typeof column>;
export type Table = z.infer<typeof table>;

/** A row of _prisma_migrations: the migration's name and the SHA-256 of its file. */
export interface Applied {
  readonly name: string;
  readonly checksum: string;
}

/** The tables in an order in which those that are pointed to come first, as far as that is possible. */
export async function readTables(ask: Ask): Promise<readonly Table[]> {
  return inOrder(z.array(table).parse(JSON.parse(await ask(tablesSql))));
}

/** The migrations a database has, in the order of their names; null when it was never migrated. */
export async function readApplied(ask: Ask): Promise<readonly Applied[] | null> {
  if ((await ask(`SELECT (to_regclass('_prisma_migrations') IS NOT NULL)::text AS text`)) !== "true") return null;
  const applied = await ask(`
    SELECT coalesce(json_agg(json_build_object('name', migration_name, 'checksum', checksum) ORDER BY migration_name), '[]')::text AS text
    FROM _prisma_migrations WHERE finished_at IS NOT NULL AND rolled_back_at IS NULL`);
  return z.array(z.object({ name: z.string(), checksum: z.string() })).parse(JSON.parse(applied));
}

// A trigger's type is a sum: 1 for each row, 2 before, 8 delete, 16 update.
const tablesSql = `
  SELECT coalesce(json_agg(json_build_object(
    'name', c.relname,
    'columns', (
      SELECT coalesce(json_agg(json_build_object('name', a.attname, 'type', format_type(a.atttypid, a.atttypmod)) ORDER BY a.attnum), '[]')
      FROM pg_attribute a WHERE a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped AND a.attgenerated = ''),
    'foreignKeys', (
      SELECT coalesce(json_agg(json_build_object('name', k.conname, 'to', t.relname, 'deferrable', k.condeferrable) ORDER BY k.conname), '[]')
      FROM pg_constraint k JOIN pg_class t ON t.oid = k.confrelid WHERE k.conrelid = c.oid AND k.contype = 'f'),
    'counters', (
      SELECT coalesce(json_agg(json_build_object('column', a.attname, 'sequence', s.name)), '[]')
      FROM pg_attribute a CROSS JOIN LATERAL (SELECT pg_get_serial_sequence(quote_ident(c.relname), a.attname) AS name) s
      WHERE a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped AND s.name IS NOT NULL),
    'appendOnly', EXISTS (
      SELECT FROM pg_trigger g JOIN pg_proc p ON p.oid = g.tgfoid
      WHERE g.tgrelid = c.oid AND p.proname = 'refuse_to_rewrite' AND g.tgenabled <> 'D' AND (g.tgtype & 27) = 26)
  ) ORDER BY c.relname), '[]')::text AS text
  FROM pg_class c
  WHERE c.relkind = 'r' AND c.relnamespace = (SELECT oid FROM pg_namespace WHERE nspname = current_schema()) AND c.relname <> '_prisma_migrations'`;

/** By their foreign keys, then by name. Where tables point to each other in a circle the first by name comes first. */
function inOrder(tables: readonly Table[]): readonly Table[] {
  const placed = new Set<string>();
  const order: Table[] = [];
  let rest = [...tables];
  while (rest.length > 0) {
    const free = rest.filter(({ name, foreignKeys }) => foreignKeys.every(({ to }) => to === name || placed.has(to)));
    const next = free.length > 0 ? free : rest.slice(0, 1);
    for (const chosen of next) {
      placed.add(chosen.name);
      order.push(chosen);
    }
    rest = rest.filter(({ name }) => !placed.has(name));
  }
  return order;
}
