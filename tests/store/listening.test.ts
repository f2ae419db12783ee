/** Listening for changes: told of every one once, whichever store over the same database recorded it, and by names alone. */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Store, makeStore } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { LISTEN_EVERY, Listeners } from "@/lib/store/listening";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { dish, menuPrice, quote, recipe } from "../menu/small-books";
import { CHEF, SOUS, TODAY, commission, from, openSmall, standingClock } from "./test-kitchen";

let place: TestDatabase;
let database: Database;
let here: Store;
/** As another process would have it: a store of its own over the same database. */
let there: Store;
beforeAll(async () => {
  place = await migratedDatabase();
  database = await openDatabase(place.choice);
  here = makeStore(database, standingClock());
  there = makeStore(database, standingClock());
});
afterAll(async () => {
  await here.close();
  await place.remove();
});

const pause = (ms: number): Promise<void> => new Promise((resolve) => { setTimeout(resolve, ms); });

/** Waits until something holds, at most so long; returns how long it took, in milliseconds. */
async function until(holds: () => boolean, most = 5_000): Promise<number> {
  const began = performance.now();
  while (!holds() && performance.now() - began < most) await pause(5);
  return performance.now() - began;
}

describe("who listens", () => {
  test("hears of what this process records at once, and of what another one records within a second; each once", async () => {
    const id = await openSmall(here);
    const heard: number[] = [];
    const stop = here.listen(id, 1, (changeNo) => heard.push(changeNo));
    await here.commit(id, commission(await here.live(id), from(TODAY, [quote("butter", "3.10 a lb")])));
    expect(heard).toEqual([2]);
    await there.commit(id, commission(await there.live(id), from(TODAY, [quote("butter", "3.30 a lb")]), SOUS));
    const took = await until(() => heard.length === 2);
    expect(heard).toEqual([2, 3]);
    expect(took).toBeLessThan(1_000);
    await pause(2 * LISTEN_EVERY);
    expect(heard).toEqual([2, 3]);
    stop();
    await there.commit(id, commission(await there.live(id), from(TODAY, [quote("butter", "3.50 a lb")])));
    await pause(2 * LISTEN_EVERY);
    expect(heard).toEqual([2, 3]);
  });

  test("hears what was recorded between the page and the listening, and nothing of another kitchen", async () => {
    const [id, other] = [await openSmall(here), await openSmall(here)];
    const live = await there.live(id);
    await there.commit(id, commission(live, from(TODAY, [quote("butter", "3.10 a lb")])));
    const heard: number[] = [];
    const stop = here.listen(id, live.changeNo, (changeNo) => heard.push(changeNo));
    await here.commit(other, commission(await here.live(other), from(TODAY, [quote("butter", "9.10 a lb")])));
    await until(() => heard.length > 0);
    expect(heard).toEqual([2]);
    stop();
  });

  test("costs the database one small question at a time, however many listen, and none when nobody does", async () => {
    let asked = 0;
    let underWay = 0;
    let most = 0;
    const slow = {
      $queryRaw: (async () => {
        asked += 1;
        underWay += 1;
        most = Math.max(most, underWay);
        await pause(10);
        underWay -= 1;
        return [{ id: "a", change_no: asked }, { id: "b", change_no: 1 }];
      }) as unknown as Database["prisma"]["$queryRaw"],
    };
    const listeners = new Listeners(slow, 20);
    const heard = { a: 0, b: 0 };
    const stops = Array.from({ length: 200 }, (_, n) => listeners.listen(n % 2 === 0 ? "a" : "b", 1, () => { heard[n % 2 === 0 ? "a" : "b"] += 1; }));
    expect(listeners.count).toBe(200);
    await until(() => asked >= 5);
    expect(most).toBe(1);
    expect(heard.a).toBeGreaterThanOrEqual(300);
    expect(heard.b).toBe(0);
    for (const stop of stops) stop();
    expect(listeners.count).toBe(0);
    await pause(60);
    const then = asked;
    await pause(120);
    expect(asked).toBe(then);
  });
});

describe("what is told", () => {
  test("the last change, by names, and how many were not heard of", async () => {
    const id = await openSmall(here);
    await here.commit(id, commission(await here.live(id), from(TODAY, [quote("butter", "3.10 a lb")]), SOUS));
    const news = await here.news(id, 1);
    expect(news).toMatchObject({ changeNo: 2, changes: 1, by: "Sous chef", byPerson: null, others: false, factCount: 1 });
    expect(news?.facts).toEqual([{ kind: "quote", id: "quote-butter", name: expect.stringContaining("utter"), became: "changed" }]);
    // No figure of any kind goes out with it.
    expect(JSON.stringify(news)).not.toContain("3.1");

    await here.commit(id, commission(await here.live(id), from(TODAY, [recipe("leek", ["2 lb"], ["item butter 1 lb"]), dish("soup", ["recipe leek 8 oz"]), menuPrice("soup", "9.00")]), CHEF));
    expect(await here.news(id, 1)).toMatchObject({ changeNo: 3, changes: 2, by: "Chef", others: true, factCount: 3, facts: [{ kind: "recipe", became: "new" }, { kind: "dish", became: "new" }, { kind: "menuPrice", became: "new" }] });
    await here.commit(id, commission(await here.live(id), from(TODAY, [{ kind: "menuPrice", id: "soup", after: null }, { kind: "dish", id: "soup", after: null }]), CHEF));
    expect(await here.news(id, 3)).toMatchObject({ changeNo: 4, changes: 1, facts: [{ became: "taken off" }, { became: "taken off" }] });
    expect(await here.news(id, 4)).toBeNull();
    expect(await here.news("kitchen-nowhere", 0)).toBeNull();
  });
});
