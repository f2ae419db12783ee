/** What a database holds, in a form in which two can be laid side by side; and a kitchen with something of everything. */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import fc from "fast-check";
import { FACT_KINDS, type Change } from "@/lib/book";
import { type NodeRef, compile, costOf } from "@/lib/cascade";
import { exact } from "@/lib/measure";
import { type Store, makeStore } from "@/lib/store";
import { OF_THE_MOMENT } from "@/lib/store/backup/catalogue";
import type { Database } from "@/lib/store/database";
import { menuPrice, quote } from "../menu/small-books";
import { IDS, anyChange } from "./any-fact";
import { recordBare } from "./bare-change";
import { commission, from, openSmall, standingClock } from "./test-kitchen";

/** Every row of every table as PostgreSQL's own text, by table, in the order of that text. */
export async function rowsOf(database: Database): Promise<Record<string, readonly string[]>> {
  const tables = await database.prisma.$queryRaw<{ name: string }[]>`
    SELECT relname AS name FROM pg_class WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace AND relname <> '_prisma_migrations' ORDER BY relname`;
  const found: Record<string, readonly string[]> = {};
  for (const { name } of tables) {
    if (OF_THE_MOMENT.has(name)) continue;
    const [row] = await database.prisma.$queryRawUnsafe<{ rows: string }[]>(`SELECT coalesce(json_agg(t::text ORDER BY t::text COLLATE "C"), '[]')::text AS rows FROM "${name}" t`);
    found[name] = JSON.parse(row?.rows ?? "") as string[];
  }
  return found;
}

/** What every item, cut, portion, recipe and dish of a kitchen costs on some days, and what was recorded of it. */
export async function costsOf(store: Store, kitchen: string): Promise<unknown> {
  const days = [];
  for (const on of ["2026-11-10", "2026-11-25", "2026-12-10"]) {
    const book = await store.bookAsOf(kitchen, { on });
    const compiled = compile(book);
    if (!compiled.ok) throw new Error("expected the kitchen's book to compile");
    const costs = (["item", "cut", "spec", "recipe", "dish"] as const).flatMap((kind) =>
      [...book.shelves[kind].keys()].map((id) => ({ kind, id, cost: costOf(compiled.value, { kind, id } satisfies NodeRef) })));
    days.push({ on, book, costs });
  }
  return { days, record: await store.record(kitchen, { limit: 100 }) };
}

/** Opens a small kitchen with a few weeks of changes, and another one with facts at the edges of what they may be. */
export async function fillSomewhat(database: Database): Promise<string> {
  const store = makeStore(database, standingClock());
  const kitchen = await openSmall(store, { name: "Küche „Nord“ 肉" });
  for (const price of ["4.30", "4.3000", "5.05"]) await reprice(store, kitchen, price);
  await database.prisma.$executeRaw`INSERT INTO installation (id, secret, created_at) VALUES (1, 'a secret of its own', '2026-11-01T08:00:00.123Z')`;
  await database.prisma.$executeRaw`
    INSERT INTO person (id, name, username, email, email_verified, created_at, updated_at)
    VALUES ('person-1', 'Chef', 'chef', 'chef@kitchen.invalid', false, '2026-11-01T08:00:00.500Z', '2026-11-25T08:00:00Z')`;
  await database.prisma.$executeRaw`
    INSERT INTO session (id, token, person_id, expires_at, created_at, updated_at)
    VALUES ('session-1', 'signed in just now', 'person-1', '2026-11-30T08:00:00Z', '2026-11-25T08:00:00Z', '2026-11-25T08:00:00Z')`;
  const oneOfEach = FACT_KINDS.flatMap((kind) => IDS.map((id) => anyChange(kind, id)));
  for (const [index, changes] of fc.sample(fc.tuple(...oneOfEach) as fc.Arbitrary<Change[]>, { numRuns: 6, seed: 40 }).entries()) {
    await recordBare(database, `edge-${index % 2}`, changes.map((change) => ({ change, validFrom: "2026-11-25" })));
  }
  return kitchen;
}

/** One change of two facts: butter at another price, and on the menu the dish that is made with it. */
export async function reprice(store: Store, kitchen: string, price: string): Promise<void> {
  const live = await store.live(kitchen);
  const done = await store.commit(kitchen, commission(live, [
    ...from("2026-11-25", [quote("butter", `${exact(price)} a lb`), menuPrice("butter-bean", exact(price))]),
  ]));
  if (!done.ok) throw new Error(`expected the price to be recorded: ${JSON.stringify(done)}`);
}

/** A folder for backup files, taken away by `remove`. */
export function shelf(): { readonly file: (name: string) => string; remove(): void } {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-backups-"));
  return { file: (name) => path.join(folder, name), remove: () => { fs.rmSync(folder, { recursive: true, force: true }); } };
}
