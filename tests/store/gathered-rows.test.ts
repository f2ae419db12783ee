/** Rows gathered before a transaction: all of them, in the order of their tables, however many; and nothing left behind. */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { afterAll, expect, test } from "vitest";
import { GatheredRows, writeRows } from "@/lib/store/write-rows";

const own = fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-gathered-"));
process.env.TMPDIR = own;
afterAll(() => { fs.rmSync(own, { recursive: true }); });

test.each([1, 1_999, 2_000, 2_001, 7_003])("%i rows come back as they were given, and the files go", async (many) => {
  const gathered = new GatheredRows();
  const rows = Array.from({ length: many }, (_, n) => ({ kitchen_id: "k", revision: n, name: `Crème ${n} “½” \n 🥩` }));
  await writeRows(gathered, "change", [{ no: 1 }]);
  for (let from = 0; from < many; from += 7) await writeRows(gathered, "revision", rows.slice(from, from + 7));
  await writeRows(gathered, "change", [{ no: 2 }]);
  await writeRows(gathered, "empty", []);
  const written: { table: string; rows: readonly unknown[] }[] = [];
  const tx = { $executeRaw: (_: TemplateStringsArray, name: { readonly sql: string }, __: unknown, batch: string) => { written.push({ table: name.sql, rows: JSON.parse(batch) as unknown[] }); return Promise.resolve(1); } };
  await gathered.write(tx as never);
  expect([...new Set(written.map(({ table }) => table))]).toEqual([`"change"`, `"revision"`]);
  expect(written.filter(({ table }) => table === `"revision"`).flatMap((one) => one.rows)).toEqual(rows);
  expect(written.filter(({ table }) => table === `"change"`).flatMap((one) => one.rows)).toEqual([{ no: 1 }, { no: 2 }]);
  expect(fs.readdirSync(own)).toHaveLength(many < 2_000 ? 0 : 1);
  gathered.remove();
  expect(fs.readdirSync(own)).toEqual([]);
});
