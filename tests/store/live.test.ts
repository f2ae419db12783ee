/**
 * The live book: however it came about, by the commits of this process or of another, one at a time or after a pause,
 * it is the book that a fresh reading gives, and its costs are those of a full recomputation, digit for digit.
 */
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Change, FACT_KINDS } from "@/lib/book";
import { type DatedChange, type LiveBook, type Store, makeStore } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { readDemo } from "@/seed/read";
import { type TestDatabase, kind, migratedDatabase } from "../database/test-database";
import { butcherTest, cut, dish, item, menuPrice, part, quote, randomBook, recipe, spec } from "../menu/small-books";
import { FACTS, commission, from, openSmall, standingClock } from "./test-kitchen";
import { compiled, contents, costs } from "./whole-book";

let place: TestDatabase;
let database: Database;
/** Another process, as far as the store can tell: its own memory, on a server its own connections too. */
let elsewhere: Database;
beforeAll(async () => {
  place = await migratedDatabase();
  database = await openDatabase(place.choice);
  elsewhere = kind === "server" ? await openDatabase(place.choice) : database;
});
afterAll(async () => {
  if (elsewhere !== database) await elsewhere.close();
  await database.close();
  await place.remove();
});

/** The live book is what a store that knows nothing yet reads, and what its own book costs from nothing. */
async function expectTrue(live: LiveBook, fresh: Store): Promise<void> {
  const read = await fresh.live(live.kitchenId);
  expect(live.changeNo).toBe(read.changeNo);
  expect(live.today).toBe(read.today);
  expect(contents(live.book)).toEqual(contents(read.book));
  expect(live.ahead).toEqual(read.ahead);
  expect(costs(live.cascade)).toEqual(costs(read.cascade));
  expect(costs(live.cascade)).toEqual(costs(compiled(live.book)));
  expect(contents(live.cascade.book)).toEqual(contents(live.book));
}

const cents = fc.integer({ min: 50, max: 4000 }).map((amount) => (amount / 100).toFixed(2));
const ounces = fc.integer({ min: 100, max: 1600 }).map((amount) => (amount / 100).toFixed(2));
const gone = (change: Change): Change => ({ kind: change.kind, id: change.id, after: null }) as Change;

/** An edit that leaves the small kitchen's book holding together, alone or after any others of these. */
const edit: fc.Arbitrary<Change> = fc.oneof(
  fc.tuple(fc.constantFrom("striploin", "chuck", "butter"), cents).map(([id, price]) => quote(id, `${price} a lb`)),
  // A second quote of the same item, by the ounce: the newest price counts.
  fc.tuple(fc.constantFrom("striploin", "butter"), cents).map(([id, price]): Change => ({ ...quote(id, `${price} a oz`), id: `second-${id}` }) as Change)
    .map((change) => (change.kind === "quote" && change.after ? { ...change, after: { ...change.after, id: change.id } } : change)),
  fc.constantFrom("striploin", "butter").map((id) => gone({ ...quote(id, "1 a oz"), id: `second-${id}` } as Change)),
  ounces.map((size) => spec("steak-10oz", "strip", `${size} oz`)),
  ounces.map((weight) => recipe("herb-butter", ["2 lb", "32 portion"], [`item butter ${weight} oz`, "item chuck 1 oz"])),
  ounces.map((weight) => recipe("burger-grind", ["10 lb"], [`item chuck ${weight} oz`])),
  ounces.map((weight) => dish("butter-bean", [`recipe herb-butter ${weight} oz`, "recipe burger-grind 3 oz"])),
  ounces.map((weight) => dish("now-and-then", [`item butter ${weight} oz`])),
  fc.constant(gone(dish("now-and-then", []))),
  cents.map((gross) => menuPrice("steak-frites", gross)),
  fc.constantFrom("8", "8.5", "8.75").map((usable) => butcherTest("test-1", "striploin", "13.5 lb", "6.80 a lb", [
    part("main", "steak", `${usable} lb`), part("by-product", "lean-trim", "1.625 lb", { value: { kind: "recipe", id: "burger-grind" } }),
  ])),
  fc.constantFrom("by-factor" as const, "by-products-at-own-price" as const, null).map((repricing) => cut("strip", { kind: "item", id: "striploin" }, ["test-1"], { repricing })),
  fc.constantFrom("Striploin", "Strip loin, 0x1").map((name) => item("striploin", "mass", { name })),
);
const day = fc.constantFrom("2026-11-10", "2026-11-20", "2026-11-25", "2026-11-25", "2026-11-25", "2026-11-26", "2026-12-01");

/** One step of an afternoon: an edit by one of two processes, from a day, perhaps as a correction; or midnight passes. */
const step = fc.oneof(
  { weight: 12, arbitrary: fc.record({ at: fc.constantFrom("here" as const, "elsewhere" as const), changes: fc.array(edit, { minLength: 1, maxLength: 3 }), day, corrects: fc.boolean() }) },
  { weight: 1, arbitrary: fc.constant("midnight" as const) },
);

describe("after any changes", () => {
  test("the live book is a fresh reading and a full recomputation, in either process", async () => {
    let saved = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 4, maxLength: 10 }), async (steps) => {
        const clock = standingClock();
        const stores = { here: makeStore(database, clock), elsewhere: makeStore(elsewhere, clock) };
        const id = await openSmall(stores.here);
        let midnights = 0;
        for (const next of steps) {
          if (next === "midnight") {
            midnights += 1;
            clock.set(`2026-11-${25 + midnights > 30 ? 30 : 25 + midnights}T17:00:00Z`);
            continue;
          }
          const store = stores[next.at];
          const live = await store.live(id);
          const unique = new Map(next.changes.map((change) => [`${change.kind}:${change.id}`, change]));
          const entries = [...unique].map(([key, change]): DatedChange => {
            const standing = live.book.provenance.get(key);
            return { change, validFrom: next.day, ...(next.corrects && standing ? { replaces: standing.revision } : {}) };
          });
          const committed = await store.commit(id, commission(live, entries));
          if (committed.ok) {
            saved += 1;
            expect(committed.live).toBe(await store.live(id));
            await expectTrue(committed.live, makeStore(database, clock));
          }
        }
        await expectTrue(await stores.here.live(id), makeStore(database, clock));
        await expectTrue(await stores.elsewhere.live(id), makeStore(elsewhere, clock));
      }),
      { numRuns: 12 },
    );
    // Some edits are refused (what is not on the book cannot be taken off it); most must not be, or nothing was shown.
    expect(saved).toBeGreaterThan(24);
  }, 240_000);

  test("a random book opened and read again costs what it cost before it was recorded", async () => {
    const store = makeStore(database, standingClock());
    await fc.assert(
      fc.asyncProperty(fc.gen(), async (draw) => {
        const book = randomBook(draw);
        const facts = FACT_KINDS.flatMap((shelf) => [...(book.shelves[shelf] as ReadonlyMap<string, unknown>)].flatMap(([id, after]) =>
          shelf === "kitchen" ? [] : [{ kind: shelf, id, after } as Change]));
        const { id: _, ...settings } = [...book.shelves.kitchen.values()][0] ?? { id: "" };
        const opened = await store.openKitchen(settings as Parameters<Store["openKitchen"]>[0], { name: "Chef" }, from("2026-11-01", facts));
        fc.pre(opened.ok);
        if (!opened.ok) return;
        await expectTrue(opened.value.live, makeStore(database, standingClock()));
        expect([...costs(opened.value.live.cascade)]).toEqual([...costs(compiled(book))]);
      }),
      { numRuns: 25 },
    );
  }, 120_000);
});

describe("two processes on one database", () => {
  test("stay in step without a word between them", async () => {
    const [here, there] = [makeStore(database, standingClock()), makeStore(elsewhere, standingClock())];
    const id = await openSmall(here);
    const before = await there.live(id);
    for (const price of ["4.30", "4.40", "4.50"]) {
      await here.commit(id, commission(await here.live(id), from("2026-11-25", [quote("butter", `${price} a lb`)])));
      expect((await there.live(id)).book.shelves.quote.get("quote-butter")?.price.amount).toBe(price);
    }
    // Several changes behind, it catches up in one go, and commits on top.
    await there.commit(id, commission(await there.live(id), from("2026-11-25", [menuPrice("butter-bean", "11.00")])));
    const now = await here.live(id);
    expect(now.changeNo).toBe(5);
    expect(now.book.shelves.menuPrice.get("butter-bean")?.gross.amount).toBe("11.00");
    expect(before.book.shelves.quote.get("quote-butter")?.price.amount).toBe("4.20");
    await expectTrue(now, makeStore(elsewhere, standingClock()));
  });

  test("share a kitchen's line: whoever saves on an older view of the same fact is told", async () => {
    const [here, there] = [makeStore(database, standingClock()), makeStore(elsewhere, standingClock())];
    const id = await openSmall(here);
    const views = [await here.live(id), await there.live(id)] as const;
    const saves = await Promise.all([
      here.commit(id, commission(views[0], from("2026-11-25", [quote("butter", "4.70 a lb")]))),
      there.commit(id, commission(views[1], from("2026-11-25", [quote("butter", "4.80 a lb")]))),
      there.commit(id, commission(views[1], from("2026-11-25", [menuPrice("butter-bean", "10.00")]))),
    ]);
    expect(saves.map((saved) => (saved.ok ? "saved" : saved.reason)).sort()).toEqual(["saved", "saved", "stale"]);
    await expectTrue(await here.live(id), makeStore(database, standingClock()));
    await expectTrue(await there.live(id), makeStore(database, standingClock()));
  });

  test("read once when many ask at once, and the same book is given to all", async () => {
    const here = makeStore(database, standingClock());
    const id = await openSmall(here);
    const there = makeStore(elsewhere, standingClock());
    const books = await Promise.all(Array.from({ length: 20 }, () => there.live(id)));
    expect(new Set(books).size).toBe(1);
  });
});

test("asking for the live book when nothing is new is one small query", async () => {
  let queries = 0;
  const counted = new Proxy(database.prisma, {
    get: (target, name) => {
      if (name === "$queryRaw") queries += 1;
      const found: unknown = Reflect.get(target, name);
      return typeof found === "function" ? (found as (...given: unknown[]) => unknown).bind(target) : found;
    },
  });
  const store = makeStore({ ...database, prisma: counted }, standingClock());
  const id = await openSmall(store);
  queries = 0;
  const live = await store.live(id);
  expect(await store.live(id)).toBe(live);
  expect(queries).toBe(2);
});

test("a kitchen whose settings move to another time zone lives by that one's day", async () => {
  const clock = standingClock();
  const store = makeStore(database, clock);
  const id = await openSmall(store);
  clock.set("2026-11-25T22:00:00Z"); // 17:00 on the 25th in New York, 11:00 on the 26th in Auckland
  const live = await store.live(id);
  const settings = live.book.shelves.kitchen.get(id);
  if (!settings) throw new Error("expected the kitchen's settings");
  await store.commit(id, commission(live, from("2026-11-26", [quote("butter", "5.00 a lb")])));
  const move: Change = { kind: "kitchen", id, after: { ...settings, timeZone: "Pacific/Auckland" } };
  await store.commit(id, commission(await store.live(id), from("2026-11-25", [move])));
  const moved = await store.live(id);
  expect(moved.today).toBe("2026-11-26");
  expect(moved.book.shelves.quote.get("quote-butter")?.price.amount).toBe("5.00");
  await expectTrue(moved, makeStore(database, clock));
});

test("the demo kitchen opens through the same door as any other, and reads again as it opened", async () => {
  const demo = readDemo();
  const clock = standingClock();
  const opened = await makeStore(database, clock).openKitchen(demo.kitchen, { name: "Chef" }, demo.entries, "demo");
  if (!opened.ok) throw new Error(opened.problems.map(({ path, sentence }) => `${path}: ${sentence}`).join("\n"));
  await expectTrue(opened.value.live, makeStore(database, clock));
});

test("the small kitchen holds every kind of fact", () => {
  expect(new Set(FACTS.map((change) => change.kind)).size).toBe(FACT_KINDS.length - 1);
});
