/** Sheets at the block in the database: each entry once, in the order of its arrival, and nobody else's kitchen. */
import { afterAll, beforeAll, expect, test } from "vitest";
import { type BlockBody, type BlockEntry } from "@/lib/book";
import { exact } from "@/lib/measure";
import { type Store, makeStore } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { CHEF, SOUS, openSmall } from "./test-kitchen";

let place: TestDatabase;
let database: Database;
let store: Store;
let house: string;
let other: string;
beforeAll(async () => {
  place = await migratedDatabase();
  database = await openDatabase(place.choice);
  store = makeStore(database);
  house = await openSmall(store);
  other = await openSmall(store, { name: "The other house" });
});
afterAll(async () => {
  await database.close();
  await place.remove();
});

const entry = (n: number, body: BlockBody = { kind: "reading", key: "fat", gross: { amount: exact(String(n + 1)), unit: "oz" }, tare: null, piece: false }): BlockEntry => ({
  id: `entry-${String(n).padStart(5, "0")}`, at: new Date(Date.UTC(2026, 10, 25, 9, 0, n)).toISOString(), body,
});

test("what is sent twice is kept once, and a device is told what is new to it", async () => {
  await store.startSheet(house, "test-one", CHEF, [entry(0)]);
  await store.startSheet(house, "test-one", CHEF, [entry(0)]);
  const first = await store.syncSheet(house, "test-one", CHEF, { entries: [entry(1), entry(2), entry(1)], since: 0 });
  expect(first).toMatchObject({ ok: true, value: { last: 3 } });
  const again = await store.syncSheet(house, "test-one", SOUS, { entries: [entry(2), entry(3)], since: 3 });
  expect(again?.ok && again.value.entries.map(({ id, no, by, body }) => [id, no, by, body.kind])).toEqual([["entry-00003", 4, "Sous chef", "reading"]]);
  expect((await store.readSheet(house, "test-one"))?.entries.map(({ body }) => body)).toEqual([0, 1, 2, 3].map((n) => entry(n).body));
});

test("many devices at once: numbered without gaps, nothing lost, nothing twice", async () => {
  await store.startSheet(house, "test-many", CHEF, []);
  await Promise.all(Array.from({ length: 12 }, (_, n) => store.syncSheet(house, "test-many", CHEF, { entries: [entry(100 + n), entry(100 + ((n + 1) % 12))], since: 0 })));
  const sheet = await store.readSheet(house, "test-many");
  expect(sheet?.entries.map(({ no }) => no)).toEqual(Array.from({ length: 12 }, (_, n) => n + 1));
  expect(new Set(sheet?.entries.map(({ id }) => id)).size).toBe(12);
});

test("a sheet is of its kitchen alone", async () => {
  expect(await store.readSheet(other, "test-one")).toBeNull();
  expect(await store.syncSheet(other, "test-one", CHEF, { entries: [entry(9)], since: 0 })).toBeNull();
  expect(await store.putSheetAway(other, "test-one", CHEF, true)).toBe(false);
  expect((await store.sheetsUnderWay(other)).map(({ id }) => id)).toEqual([]);
  expect((await store.sheetsUnderWay(house)).map(({ id }) => id).sort()).toEqual(["test-many", "test-one"]);
});

test("what comes late to a sheet that was recorded is refused, not kept half; put away, it can be taken out again", async () => {
  await store.startSheet(house, "test-late", CHEF, [entry(0)]);
  expect(await store.putSheetAway(house, "test-late", CHEF, true)).toBe(true);
  expect(await store.syncSheet(house, "test-late", CHEF, { entries: [entry(1)], since: 0 })).toMatchObject({ ok: false, problems: [{ code: "closed" }] });
  expect(await store.putSheetAway(house, "test-late", CHEF, false)).toBe(true);
  expect(await store.syncSheet(house, "test-late", CHEF, { entries: [entry(1)], since: 0 })).toMatchObject({ ok: true });
  await store.sheetRecorded(house, "test-late", 7);
  expect(await store.readSheet(house, "test-late")).toMatchObject({ recordedChange: 7 });
  expect(await store.syncSheet(house, "test-late", CHEF, { entries: [entry(1)], since: 2 })).toMatchObject({ ok: true, value: { entries: [] } });
  expect(await store.syncSheet(house, "test-late", CHEF, { entries: [entry(2)], since: 2 })).toMatchObject({ ok: false });
  await expect(database.prisma.$executeRaw`DELETE FROM block_entry`).rejects.toThrow(/recorded for good/);
});
