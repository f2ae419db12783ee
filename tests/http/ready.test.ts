/** Whether the database can be worked with: asked in few words, answered in time. */
import { expect, test } from "vitest";
import type { Database } from "../../lib/store/database";
import { readMigrations } from "../../lib/store/database/migrations";
import { databaseIsReady } from "../../lib/store/ready";

const known = readMigrations().migrationDirectories.map(({ path }) => path);
const having = (names: readonly string[]) => () => Promise.resolve({ prisma: { $queryRaw: () => Promise.resolve(names.map((name) => ({ name }))) } } as unknown as Database);

test("with every migration that this version knows, and perhaps more", async () => {
  expect(await databaseIsReady(2_000, having(known))).toEqual({ ok: true });
  expect(await databaseIsReady(2_000, having([...known, "29990101000000_later"]))).toEqual({ ok: true });
});

test("not while one is missing", async () => {
  expect(await databaseIsReady(2_000, having(known.slice(1)))).toEqual({ ok: false, why: "1 of its migrations is not applied" });
});

test("not when it does not answer, or cannot be opened; why is nobody else’s business", async () => {
  expect(await databaseIsReady(50, () => new Promise(() => undefined))).toEqual({ ok: false, why: "the database did not answer within 0.05 seconds" });
  expect(await databaseIsReady(2_000, () => Promise.reject(new Error("no postgresql://trim:pa55@db")))).toEqual({ ok: false, why: "the database cannot be asked" });
});
