/**
 * Whether the changes in a database are whole: every row that belongs to one (its facts, their details, its ripple,
 * its cost points) told as one print of it, so that a change which is there can be held, row for row, against what it
 * was when it was recorded; and what must hold of any database however it was left: numbers without gaps, the
 * kitchen's counters at the last of them, no row without its change, a live book that compiles, whose costs are those
 * of a full recomputation.
 */
import type { Store } from "@/lib/store";
import type { Database } from "@/lib/store/database";
import { compiled, costs } from "./whole-book";

export interface KitchenAsFound {
  readonly kitchenId: string;
  /** The prints of its changes, by number. */
  readonly changes: ReadonlyMap<number, string>;
  /** The number of its last change. */
  readonly last: number;
}

/** Every kitchen in the database with its changes; `faults` are sentences. */
export async function findChanges(database: Database): Promise<{ readonly kitchens: readonly KitchenAsFound[]; readonly faults: readonly string[] }> {
  const faults: string[] = [];
  const prints = new Map<string, Map<number, string>>();
  for (const { kitchen_id: id, no, print, tables } of await readPrints(database)) {
    if (no === null) faults.push(`Rows of ${tables} in kitchen ${id} belong to no change.`);
    else prints.set(id, (prints.get(id) ?? new Map<number, string>()).set(no, print));
  }
  const rows = await database.prisma.$queryRaw<{ id: string; change_no: number; revision_no: bigint; last_revision: bigint | null }[]>`
    SELECT k.id, k.change_no, k.revision_no, (SELECT max(r.id) FROM revision r WHERE r.kitchen_id = k.id) AS last_revision FROM kitchen k ORDER BY k.id`;
  const kitchens = rows.map(({ id, change_no: last, revision_no, last_revision }): KitchenAsFound => {
    const changes = prints.get(id) ?? new Map<number, string>();
    const numbers = [...changes.keys()].sort((a, b) => a - b);
    if (numbers.some((no, index) => no !== index + 1) || numbers.length !== last) faults.push(`Kitchen ${id} counts ${last} changes and has ${numbers.join(", ") || "none"}.`);
    if (revision_no !== (last_revision ?? 0n)) faults.push(`Kitchen ${id} counts ${revision_no} revisions, and its last is ${last_revision ?? "none"}.`);
    return { kitchenId: id, changes, last };
  });
  for (const id of prints.keys()) if (!rows.some((row) => row.id === id)) faults.push(`There are rows of a kitchen ${id}, and no such kitchen.`);
  return { kitchens, faults };
}

/** The live book of a kitchen costs what a computation from nothing says; otherwise a sentence. */
export async function recomputes(store: Store, kitchenId: string): Promise<readonly string[]> {
  const live = await store.live(kitchenId);
  const anew = costs(compiled(live.book));
  const held = costs(live.cascade);
  const off = [...new Set([...anew.keys(), ...held.keys()])].filter((key) => anew.get(key) !== held.get(key));
  return off.map((key) => `${key} costs ${held.get(key) ?? "nothing"} in the live book and ${anew.get(key) ?? "nothing"} computed anew.`);
}

/** How a table's rows tell which change they belong to. */
const BELONGS: Readonly<Record<string, string>> = {
  change_no: "t.change_no",
  revision: "(SELECT r.change_no FROM revision r WHERE r.kitchen_id = t.kitchen_id AND r.id = t.revision)",
  first_revision: "(SELECT r.change_no FROM revision r WHERE r.kitchen_id = t.kitchen_id AND r.id = t.first_revision)",
};

async function readPrints(database: Database): Promise<{ kitchen_id: string; no: number | null; print: string; tables: string }[]> {
  const tables = await database.prisma.$queryRaw<{ name: string; by: string }[]>`
    SELECT c.table_name::text AS name, min(c.column_name)::text AS by FROM information_schema.columns c
    WHERE c.table_schema = 'public' AND c.column_name IN ('change_no', 'revision', 'first_revision')
      AND EXISTS (SELECT FROM information_schema.columns k WHERE k.table_schema = 'public' AND k.table_name = c.table_name AND k.column_name = 'kitchen_id')
    GROUP BY 1 ORDER BY 1`;
  if (tables.length < 20) throw new Error(`expected the tables of facts and ripples, found ${tables.length}`);
  const rows = [
    ...tables.map(({ name, by }) => `SELECT t.kitchen_id, ${BELONGS[by]} AS no, '${name}' AS of, t::text AS said FROM "${name}" t`),
    `SELECT t.kitchen_id, t.no, 'change' AS of, t::text AS said FROM change t`,
  ].join(" UNION ALL ");
  return database.prisma.$queryRawUnsafe(`
    SELECT kitchen_id, no, string_agg(DISTINCT of, ', ') AS tables,
      count(*) || ' rows ' || md5(string_agg(of || ' ' || said, E'\\n' ORDER BY of COLLATE "C", said COLLATE "C")) AS print
    FROM (${rows}) every GROUP BY kitchen_id, no ORDER BY kitchen_id, no`);
}
