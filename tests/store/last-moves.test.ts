/** What last moved each of many costs: the newest change that did, which way it went, and by which fact. */
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Store, makeStore } from "@/lib/store";
import { openDatabase } from "@/lib/store/database";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { menuPrice, quote } from "../menu/small-books";
import { SOUS, TODAY, commission, from, openSmall, standingClock } from "./test-kitchen";

let place: TestDatabase;
let store: Store;
beforeAll(async () => {
  place = await migratedDatabase();
  store = makeStore(await openDatabase(place.choice), standingClock());
});
afterAll(async () => {
  await store.close();
  await place.remove();
});

const DISHES = ["steak-frites", "butter-bean", "no-such-dish"];

test("a dish that stands as it was put in the book went neither way; one that is not there is not told", async () => {
  const id = await openSmall(store);
  const moves = await store.lastMoves(id, "dish", DISHES);
  expect([...moves.keys()].sort()).toEqual(["butter-bean", "steak-frites"]);
  expect(moves.get("steak-frites")).toMatchObject({ changeNo: 1, direction: null, by: "Chef" });
  expect(await store.lastMoves(id, "dish", [])).toEqual(new Map());
});

test("the newest change that moved the cost, dearer or cheaper; a menu price moves none", async () => {
  const id = await openSmall(store);
  await store.commit(id, commission(await store.live(id), from(TODAY, [quote("striploin", "8.40 a lb")]), SOUS));
  await store.commit(id, commission(await store.live(id), from(TODAY, [quote("butter", "3.10 a lb")])));
  await store.commit(id, commission(await store.live(id), from(TODAY, [menuPrice("butter-bean", "12.00")])));
  await store.commit(id, commission(await store.live(id), from(TODAY, [quote("striploin", "9.10 a lb")]), SOUS));
  const moves = await store.lastMoves(id, "dish", DISHES);
  expect(moves.get("steak-frites")).toMatchObject({ changeNo: 5, direction: "up", by: "Sous chef", cause: { kind: "quote", id: "quote-striploin" }, factCount: 1 });
  expect(moves.get("butter-bean")).toMatchObject({ changeNo: 3, direction: "down", by: "Chef", cause: { kind: "quote", id: "quote-butter" } });
});
