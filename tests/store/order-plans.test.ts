/** Orders in the database: kept, changed by two people, dropped and taken up; none of it changes the book. */
import { afterAll, beforeAll, expect, test } from "vitest";
import { type OrderPlan, EMPTY_PLAN, MOST_ORDER_ROWS } from "@/lib/buying";
import { exact } from "@/lib/measure";
import { type KeptOrder, type KeptOrderPlan, type Store, makeStore } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { q } from "../menu/small-books";
import { CHEF, SOUS, openSmall, standingClock } from "./test-kitchen";

let place: TestDatabase;
let database: Database;
let store: Store;
beforeAll(async () => {
  place = await migratedDatabase();
  database = await openDatabase(place.choice);
  store = makeStore(database, standingClock());
});
afterAll(async () => {
  await database.close();
  await place.remove();
});

const PLAN: OrderPlan = {
  ...EMPTY_PLAN, dishes: [{ key: "d1", dishId: "steak-frites", covers: exact("60") }], onHand: [{ key: "o1", of: { kind: "spec", id: "steak-10oz" }, quantity: { ...q("20 portion"), typed: "20 portions" }, note: "" }], sureness: exact("0.9"), way: "away", note: "Marquee",
};
const kept = (done: KeptOrder): KeptOrderPlan => { if (!done.ok) throw new Error(JSON.stringify(done)); return done.order; };

test("kept by name for a day, and read again as it was; another kitchen has none of it", async () => {
  const [house, other] = [await openSmall(store), await openSmall(store)];
  const before = (await store.live(house)).changeNo;
  const one = kept(await store.keepOrderPlan(house, CHEF, { id: "order-1", name: "  Harbour   supper ", forDay: "2026-12-12", plan: PLAN, version: null }));
  expect(one).toMatchObject({ name: "Harbour supper", forDay: "2026-12-12", createdBy: "Chef", changedBy: "Chef", version: 1, lost: 0, dropped: null, plan: PLAN });
  expect(await store.readOrderPlan(house, "order-1")).toEqual(one);
  expect(await store.orderPlans(house)).toEqual([one]);
  expect([await store.readOrderPlan(other, "order-1"), await store.orderPlans(other)]).toEqual([null, []]);
  expect((await store.live(house)).changeNo).toBe(before);
});

test("of two people the second is told what the first has kept", async () => {
  const house = await openSmall(store);
  const id = "order-1";
  await store.keepOrderPlan(house, CHEF, { id, name: "Supper", forDay: null, plan: PLAN, version: null });
  expect(await store.keepOrderPlan(house, SOUS, { id, name: "Supper", forDay: "2026-12-13", plan: { ...PLAN, way: "table" }, version: 1 })).toMatchObject({ ok: true, order: { version: 2, changedBy: "Sous chef" } });
  expect(await store.keepOrderPlan(house, CHEF, { id, name: "Mine", forDay: null, plan: PLAN, version: 1 })).toMatchObject({ ok: false, reason: "stale", theirs: { version: 2, name: "Supper", forDay: "2026-12-13", plan: { way: "table" } } });
  expect(await store.keepOrderPlan(house, CHEF, { id, name: "Other", forDay: null, plan: PLAN, version: null })).toMatchObject({ ok: false, reason: "stale" });
  expect(await store.keepOrderPlan(house, CHEF, { id: "order-9", name: "Other", forDay: null, plan: PLAN, version: 3 })).toEqual({ ok: false, reason: "not-there" });
});

test("dropped it takes nothing more; taken up again it is as it was", async () => {
  const house = await openSmall(store);
  const id = "order-1";
  kept(await store.keepOrderPlan(house, CHEF, { id, name: "Supper", forDay: null, plan: PLAN, version: null }));
  expect(await store.dropOrderPlan(house, id, SOUS, true)).toMatchObject({ ok: true, order: { version: 2, dropped: { by: "Sous chef" } } });
  expect(await store.dropOrderPlan(house, id, CHEF, true)).toMatchObject({ ok: true, order: { version: 2, dropped: { by: "Sous chef" } } });
  expect(await store.keepOrderPlan(house, CHEF, { id, name: "Supper", forDay: null, plan: PLAN, version: 2 })).toMatchObject({ ok: false, reason: "stale" });
  expect(await store.dropOrderPlan(house, id, SOUS, false)).toMatchObject({ ok: true, order: { version: 3, dropped: null, plan: PLAN } });
  expect(await store.dropOrderPlan(house, "order-9", SOUS, true)).toEqual({ ok: false, reason: "not-there" });
});

test("what cannot be kept is said, and nothing is saved", async () => {
  const house = await openSmall(store);
  const keep = (more: { readonly name?: string; readonly plan?: OrderPlan }): Promise<KeptOrder> => store.keepOrderPlan(house, CHEF, { id: "order-1", name: "Supper", forDay: null, plan: PLAN, version: null, ...more });
  const codes = async (done: Promise<KeptOrder>): Promise<readonly string[]> => { const one = await done; return !one.ok && one.reason === "problems" ? one.problems.map(({ path, code }) => `${path} ${code}`) : []; };
  expect(await codes(keep({ name: " " }))).toEqual(["name no-name"]);
  expect(await codes(keep({ name: "a".repeat(121) }))).toEqual(["name too-long"]);
  expect(await codes(keep({ plan: { ...PLAN, note: "a".repeat(2001) } }))).toEqual(["note too-long"]);
  expect(await codes(keep({ plan: { ...PLAN, dishes: Array.from({ length: MOST_ORDER_ROWS + 1 }, (_, n) => ({ key: `d${n}`, dishId: "steak-frites", covers: exact("1") })) } }))).toEqual([" too-many"]);
  expect(await codes(keep({ name: "a\u0000b" }))).toEqual([" unreadable-character"]);
  expect(await store.orderPlans(house)).toEqual([]);
});
