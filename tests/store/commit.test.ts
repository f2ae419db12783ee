/** Committing: whole or not at all, never over what somebody else did unseen, and told in the record for good. */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Quote } from "@/lib/book";
import { costOf } from "@/lib/cascade";
import { exact } from "@/lib/measure";
import { type LiveBook, type Store, basedOn, makeStore } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { dish, item, menuPrice, quote, recipe, spec } from "../menu/small-books";
import { CHEF, SOUS, TODAY, commission, from, kitchen, openSmall, standingClock } from "./test-kitchen";

let place: TestDatabase;
let database: Database;
let store: Store;
const clock = standingClock();
beforeAll(async () => {
  place = await migratedDatabase();
  database = await openDatabase(place.choice);
  store = makeStore(database, clock);
});
afterAll(async () => {
  await store.close();
  await place.remove();
});

const priceOf = (live: LiveBook, id: string): string | undefined => live.book.shelves.quote.get(id)?.price.amount;
const plate = (live: LiveBook, id: string) => costOf(live.cascade, { kind: "dish", id })?.amount.toFixed();

async function rowCounts(): Promise<string> {
  const tables = await database.prisma.$queryRaw<{ name: string }[]>`
    SELECT relname AS name FROM pg_class WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace ORDER BY relname`;
  const counts = await Promise.all(tables.map(async ({ name }) => {
    const [row] = await database.prisma.$queryRawUnsafe<{ n: number }[]>(`SELECT count(*)::int AS n FROM "${name}"`);
    return `${name} ${row?.n}`;
  }));
  return counts.join("\n");
}

describe("a kitchen", () => {
  test("opens with what it begins with, as one change, and is listed", async () => {
    const id = await openSmall(store, { name: "First kitchen", place: "Lisbon" });
    expect(await store.kitchens()).toContainEqual({ id, name: "First kitchen", place: "Lisbon" });
    const live = await store.live(id);
    expect(live).toMatchObject({ kitchenId: id, changeNo: 1, today: TODAY, ahead: [] });
    expect(live.book.shelves.kitchen.get(id)?.name).toBe("First kitchen");
    expect(plate(live, "steak-frites")).toBeDefined();
    const [entry] = await store.record(id, { limit: 10 });
    expect(entry).toMatchObject({ changeNo: 1, by: "Chef", why: "opening", factCount: 1 + (live.book.provenance.size - 1) });
  });

  test("does not open with a book that does not hold together, and then leaves nothing", async () => {
    const before = await rowCounts();
    const opened = await store.openKitchen(kitchen, CHEF, from(TODAY, [recipe("stock", ["4 qt"], ["item no-such-bones 8 lb"])]));
    expect(opened).toMatchObject({ ok: false, problems: [{ sentence: expect.any(String) }] });
    expect(await rowCounts()).toBe(before);
  });

  test("that is not there is refused by name", async () => {
    await expect(store.live("kitchen-nowhere")).rejects.toThrow(/kitchen-nowhere/);
  });

  test("never sees what another one holds, though their facts have the same ids", async () => {
    const [here, there] = [await openSmall(store), await openSmall(store)];
    const before = await store.live(there);
    const live = await store.live(here);
    expect(await store.commit(here, commission(live, from(TODAY, [quote("butter", "9.99 a lb"), dish("only-here", [])])))).toMatchObject({ ok: true });
    const after = await store.live(there);
    expect(after.changeNo).toBe(1);
    expect(after.book).toEqual(before.book);
    expect((await store.bookAsOf(there, { on: TODAY })).shelves.dish.has("only-here")).toBe(false);
    expect(await store.revisionsOf(there, "quote", "quote-butter")).toHaveLength(1);
    expect(await store.record(there, { limit: 10 })).toHaveLength(1);
    expect(await store.costHistory(there, { kind: "item", id: "butter" })).toHaveLength(1);
  });
});

describe("a commit", () => {
  test("writes fact, ripple and history, and the live book shows it", async () => {
    const id = await openSmall(store);
    const live = await store.live(id);
    const tried = await store.tryOut(id, [quote("striploin", "8.40 a lb")]);
    const committed = await store.commit(id, commission(live, from(TODAY, [quote("striploin", "8.40 a lb")]), SOUS, "dearer this week"));
    if (!committed.ok || !tried.ok) throw new Error("expected both to be good");
    expect(committed.changeNo).toBe(2);
    expect(committed.report).toEqual(tried.value.report);
    expect(committed.report.crossings.length + committed.report.dishes.length).toBeGreaterThan(0);

    const now = await store.live(id);
    expect(now.changeNo).toBe(2);
    expect(priceOf(now, "quote-striploin")).toBe("8.40");
    expect(now.book.provenance.get("quote:quote-striploin")).toMatchObject({ by: "Sous chef", why: "dearer this week", validFrom: TODAY });
    // Who holds the older book still sees the older figures.
    expect(priceOf(live, "quote-striploin")).toBe("7.10");
    expect(plate(live, "steak-frites")).not.toBe(plate(now, "steak-frites"));

    const history = await store.costHistory(id, { kind: "dish", id: "steak-frites" });
    expect(history.map(({ changeNo, amount }) => [changeNo, amount?.toFixed()])).toEqual([[1, plate(live, "steak-frites")], [2, plate(now, "steak-frites")]]);
  });

  test("is told in the record with the ripple as it was shown before saving, digit for digit", async () => {
    const id = await openSmall(store);
    const live = await store.live(id);
    const changes = [quote("striploin", "11.90 a lb"), menuPrice("butter-bean", "1.00"), dish("new-dish", ["item butter 1 oz"])];
    const committed = await store.commit(id, commission(live, from(TODAY, changes)));
    if (!committed.ok) throw new Error("expected the commit to be good");
    const entry = await store.recordEntry(id, committed.changeNo);
    const { usualWeek, ...told } = committed.report;
    const { usualWeek: weekAgain, ...again } = entry?.ripple ?? committed.report;
    expect(entry).not.toBeNull();
    expect(again).toEqual(told);
    expect(weekAgain).toMatchObject({ weeks: usualWeek.weeks, from: usualWeek.from, to: usualWeek.to });
    expect(entry?.crossings).toEqual(told.crossings.map(({ dishId, name, direction }) => ({ dishId, name, direction })));
    expect(entry?.moved.dish).toBe(told.dishes.length);
    expect(entry?.facts.map((fact) => [fact.kind, fact.name, (fact.before as Quote | null)?.price?.amount])).toEqual([
      ["quote", "striploin from Harbour Provisioners", "7.10"], ["menuPrice", "butter-bean", undefined], ["dish", "new-dish", undefined],
    ]);
    expect(entry?.facts.map(({ before }) => before !== null)).toEqual([true, true, false]);
    expect(entry?.facts.map(({ after }) => after)).toEqual(changes.map(({ after }) => after));
    expect(await store.recordEntry(id, 99)).toBeNull();
  });

  test("that fails half-way leaves nothing, in the database or in memory", async () => {
    const id = await openSmall(store);
    const live = await store.live(id);
    const before = await rowCounts();
    // The last table that a commit writes refuses: everything before it has been written by then.
    await database.prisma.$executeRawUnsafe(`CREATE FUNCTION full_disk() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN RAISE EXCEPTION 'no space left'; END $$`);
    await database.prisma.$executeRawUnsafe(`CREATE TRIGGER full_disk BEFORE INSERT ON cost_point EXECUTE FUNCTION full_disk()`);
    try {
      await expect(store.commit(id, commission(live, from(TODAY, [quote("butter", "5.00 a lb")])))).rejects.toThrow(/no space left/);
    } finally {
      await database.prisma.$executeRawUnsafe(`DROP TRIGGER full_disk ON cost_point`);
      await database.prisma.$executeRawUnsafe(`DROP FUNCTION full_disk()`);
    }
    expect(await rowCounts()).toBe(before);
    expect(await store.live(id)).toBe(live);
    expect(await store.commit(id, commission(live, from(TODAY, [quote("butter", "5.00 a lb")])))).toMatchObject({ ok: true, changeNo: 2 });
  });

  test("of a book that would not hold together is refused with sentences, and nothing is saved", async () => {
    const id = await openSmall(store);
    const live = await store.live(id);
    const before = await rowCounts();
    for (const changes of [
      [recipe("herb-butter", ["2 lb"], ["recipe herb-butter 1 lb"])],
      [{ kind: "item", id: "butter", after: null } as const],
      [spec("steak-huge", "strip", "40 lb")],
    ]) {
      const refused = await store.commit(id, commission(live, from(TODAY, changes)));
      expect(refused).toMatchObject({ ok: false, reason: "problems", problems: [{ sentence: expect.stringMatching(/\w{3}/) }] });
    }
    expect(await store.commit(id, commission(live, []))).toMatchObject({ ok: false, problems: [{ code: "nothing-to-save" }] });
    expect(await store.commit(id, commission(live, from("2026-02-30", [quote("butter", "5 a lb")])))).toMatchObject({ ok: false, problems: [{ code: "no-day" }] });
    expect(await store.commit(id, commission(live, from(TODAY, [item("butter", "mass", { name: "but\0ter" })])))).toMatchObject({ ok: false, problems: [{ code: "unreadable-character" }] });
    expect(await store.commit(id, commission(live, from(TODAY, [quote("butter", "5 a lb")]), { name: " " }))).toMatchObject({ ok: false, problems: [{ code: "no-name" }] });
    expect(await rowCounts()).toBe(before);
  });

  test("that speaks of what has never been in the book is refused, even where a newer price stands before it", async () => {
    const id = await openSmall(store);
    const before = await rowCounts();
    const behind = from("2026-10-01", [dish("butter-bean", ["item no-such-bones 8 oz"])]);
    const refused = { ok: false, problems: [{ path: "lines.0.of", code: "not-in-the-book", sentence: "There is no such item in the book: choose another." }] };
    expect(await store.tryEntries(id, behind)).toMatchObject(refused);
    expect(await store.commit(id, commission(await store.live(id), behind))).toMatchObject(refused);
    const off = from(TODAY, [{ kind: "cut", id: "no-such-cut", after: null }]);
    expect(await store.commit(id, commission(await store.live(id), off))).toMatchObject({ ok: false, problems: [{ sentence: "There is no such cut in the book, so there is nothing to take off it." }] });
    expect(await rowCounts()).toBe(before);
    // What has left the book meanwhile was in it, and the past may speak of it.
    expect(await store.commit(id, commission(await store.live(id), from("2026-11-10", [item("bones"), dish("butter-bean", [])])))).toMatchObject({ ok: true });
    expect(await store.commit(id, commission(await store.live(id), from("2026-11-20", [{ kind: "item", id: "bones", after: null }])))).toMatchObject({ ok: true });
    expect(await store.commit(id, commission(await store.live(id), from("2026-11-09", [dish("butter-bean", ["item bones 8 oz"])])))).toMatchObject({ ok: true });
  });

  test("of the kitchen's own settings cannot take them off the book", async () => {
    const id = await openSmall(store);
    const gone = from(TODAY, [{ kind: "kitchen", id, after: null }]);
    const refused = { ok: false, problems: [{ code: "no-settings" }] };
    expect(await store.tryEntries(id, gone)).toMatchObject(refused);
    expect(await store.commit(id, commission(await store.live(id), gone))).toMatchObject(refused);
  });

  test("takes thousands of entries in one go, and several days of one fact", async () => {
    const id = await openSmall(store);
    const live = await store.live(id);
    const days = Array.from({ length: 28 }, (_, day) => `2026-10-${String(day + 1).padStart(2, "0")}`);
    const items = Array.from({ length: 60 }, (_, at) => `extra-${at}`);
    const entries = [
      ...from("2026-10-01", items.map((extra) => item(extra))),
      ...days.flatMap((day, at) => from(day, items.map((extra) => quote(extra, `${5 + at}.10 a lb`)))),
    ];
    const committed = await store.commit(id, commission(live, entries));
    expect(committed).toMatchObject({ ok: true, changeNo: 2 });
    const now = await store.live(id);
    expect(priceOf(now, "quote-extra-7")).toBe("32.10");
    expect((await store.bookAsOf(id, { on: "2026-10-03" })).shelves.quote.get("quote-extra-7")?.price.amount).toBe("7.10");
    const [entry] = await store.record(id, { limit: 1 });
    expect(entry?.factCount).toBe(entries.length);
    expect(entry?.facts.length).toBeLessThan(50);
    // The database has gathered no statistics of any of this: a query left to the planner's guess took a minute here.
    const started = performance.now();
    expect((await makeStore(database, clock).live(id)).book.provenance.size).toBe(now.book.provenance.size);
    expect(performance.now() - started).toBeLessThan(5_000);
  }, 120_000);
});

describe("days other than today", () => {
  test("a price ahead applies by itself when its day comes in the kitchen's time zone", async () => {
    const ours = standingClock();
    const own = makeStore(database, ours);
    const id = await openSmall(own);
    const live = await own.live(id);
    const committed = await own.commit(id, commission(live, from("2026-11-27", [quote("butter", "5.00 a lb")])));
    if (!committed.ok) throw new Error("expected the commit to be good");
    expect(committed.report.dishes).toEqual([]);
    expect(committed.later).toMatchObject([{ kind: "quote", id: "quote-butter", validFrom: "2026-11-27" }]);
    const today = await own.live(id);
    expect(priceOf(today, "quote-butter")).toBe("4.20");
    expect(today.ahead).toHaveLength(1);
    ours.set("2026-11-27T04:59:00Z"); // still the evening of the 26th in New York
    expect(priceOf(await own.live(id), "quote-butter")).toBe("4.20");
    ours.set("2026-11-27T05:00:00Z");
    const then = await own.live(id);
    expect(then).toMatchObject({ today: "2026-11-27", ahead: [], changeNo: 2 });
    expect(priceOf(then, "quote-butter")).toBe("5.00");
    expect(plate(then, "butter-bean")).not.toBe(plate(today, "butter-bean"));
  });

  test("a price ahead stays when today's changes, and a book that would break on its day is refused", async () => {
    const id = await openSmall(store);
    await store.commit(id, commission(await store.live(id), from("2026-12-01", [dish("winter", ["recipe herb-butter 1 oz"]), quote("butter", "6.00 a lb")])));
    const live = await store.live(id);
    expect(await store.commit(id, commission(live, from(TODAY, [quote("butter", "4.50 a lb")])))).toMatchObject({ ok: true });
    expect((await store.bookAsOf(id, { on: "2026-12-01" })).shelves.quote.get("quote-butter")?.price.amount).toBe("6.00");
    // Nothing on today's book would miss the recipe once the dishes are gone, but the dish of December would.
    const off = ["dish:steak-frites", "dish:butter-bean", "menuPrice:steak-frites", "menuPrice:butter-bean", "sales:2026-11-16", "recipe:herb-butter"].map((text) => {
      const [kind = "", factId = ""] = text.split(":");
      return { kind, id: factId, after: null } as { kind: "dish"; id: string; after: null };
    });
    const refused = await store.commit(id, commission(await store.live(id), from(TODAY, off)));
    if (refused.ok || refused.reason !== "problems") throw new Error("expected problems");
    expect(refused.problems.map(({ code }) => code)).toContain("still-used");
    for (const { sentence } of refused.problems) expect(sentence).toMatch(/^From Tue 1 Dec 2026 on: /);
  });

  test("a price of a day gone by fills in the past and leaves today", async () => {
    const id = await openSmall(store);
    const live = await store.live(id);
    await store.commit(id, commission(live, from("2026-11-20", [quote("butter", "4.40 a lb")])));
    const next = await store.live(id);
    expect(priceOf(next, "quote-butter")).toBe("4.40");
    const filled = await store.commit(id, commission(next, from("2026-11-10", [quote("butter", "4.30 a lb")])));
    expect(filled).toMatchObject({ ok: true, report: { dishes: [] } });
    expect(priceOf(await store.live(id), "quote-butter")).toBe("4.40");
    const priceOn = async (on: string, afterChange?: number) => (await store.bookAsOf(id, { on, afterChange })).shelves.quote.get("quote-butter")?.price.amount;
    expect([await priceOn("2026-11-05"), await priceOn("2026-11-15"), await priceOn("2026-11-15", 2)]).toEqual(["4.20", "4.30", "4.20"]);
  });

  test("a correction takes the slip out of every day it touched, and can bring an older price back", async () => {
    const id = await openSmall(store);
    await store.commit(id, commission(await store.live(id), from("2026-11-20", [quote("butter", "44.00 a lb")])));
    const slipped = await store.live(id);
    const slip = slipped.book.provenance.get("quote:quote-butter")?.revision;
    const corrected = await store.commit(id, commission(slipped, [{ change: quote("butter", "4.40 a lb"), validFrom: "2026-12-01", replaces: slip }]));
    expect(corrected).toMatchObject({ ok: true, later: [{ validFrom: "2026-12-01" }] });
    const now = await store.live(id);
    expect(priceOf(now, "quote-butter")).toBe("4.20");
    expect(now.book.provenance.get("quote:quote-butter")?.validFrom).toBe("2026-11-01");
    expect((await store.bookAsOf(id, { on: "2026-12-01" })).shelves.quote.get("quote-butter")?.price.amount).toBe("4.40");
    expect((await store.bookAsOf(id, { on: TODAY, afterChange: 2 })).shelves.quote.get("quote-butter")?.price.amount).toBe("44.00");
    const revisions = await store.revisionsOf(id, "quote", "quote-butter");
    expect(revisions.map(({ validFrom, replaces, replacedBy }) => ({ validFrom, replaces, replacedBy }))).toEqual([
      { validFrom: "2026-12-01", replaces: slip, replacedBy: null },
      { validFrom: "2026-11-20", replaces: null, replacedBy: revisions[0]?.revision },
      { validFrom: "2026-11-01", replaces: null, replacedBy: null },
    ]);
    expect(await store.commit(id, commission(now, [{ change: quote("butter", "4.45 a lb"), validFrom: TODAY, replaces: 99_999 }]))).toMatchObject({ ok: false, problems: [{ code: "no-such-revision" }] });
  });
});

describe("two editors of one fact", () => {
  test("the second is told what changed, by whom and when, and may save over it having seen it", async () => {
    const id = await openSmall(store);
    const both = await store.live(id);
    clock.set("2026-11-25T18:00:00Z");
    expect(await store.commit(id, commission(both, from(TODAY, [quote("butter", "4.50 a lb")]), SOUS))).toMatchObject({ ok: true });
    const mine = commission(both, from(TODAY, [quote("butter", "4.60 a lb"), menuPrice("butter-bean", "9.50")]));
    const before = await rowCounts();
    const refused = await store.commit(id, mine);
    expect(refused).toMatchObject({
      ok: false, reason: "stale",
      stale: [{ kind: "quote", id: "quote-butter", by: "Sous chef", at: "2026-11-25T18:00:00.000Z", mine: { price: { amount: "4.60" } }, theirs: { price: { amount: "4.50" } } }],
    });
    expect(await rowCounts()).toBe(before);
    if (refused.ok || refused.reason !== "stale") throw new Error("expected to be stale");
    const seen = { ...mine.basedOn, "quote:quote-butter": refused.stale[0]?.revision ?? null };
    expect(await store.commit(id, { ...mine, basedOn: seen })).toMatchObject({ ok: true });
    expect(priceOf(await store.live(id), "quote-butter")).toBe("4.60");
  });

  test("who makes what somebody else has made meanwhile, or edits what was taken off, is told", async () => {
    const id = await openSmall(store);
    const both = await store.live(id);
    await store.commit(id, commission(both, [...from(TODAY, [dish("special", ["item butter 1 oz"])]), ...from(TODAY, [{ kind: "sales", id: "2026-11-16", after: null }])], SOUS));
    expect(await store.commit(id, commission(both, from(TODAY, [dish("special", [])])))).toMatchObject({ ok: false, reason: "stale", stale: [{ theirs: { lines: [{}] } }] });
    const week = both.book.shelves.sales.get("2026-11-16") ?? null;
    expect(await store.commit(id, commission(both, from(TODAY, [{ kind: "sales", id: "2026-11-16", after: week }])))).toMatchObject({ ok: false, reason: "stale", stale: [{ theirs: null, by: "Sous chef" }] });
    // Seen as absent, it may come back.
    const now = await store.live(id);
    expect(basedOn(now, [{ kind: "sales", id: "2026-11-16" }])).toEqual({ "sales:2026-11-16": null });
    expect(await store.commit(id, commission(now, from(TODAY, [{ kind: "sales", id: "2026-11-16", after: week }])))).toMatchObject({ ok: true });
  });

  test("of the same day ahead: the second is told, though today's price is as both saw it", async () => {
    const id = await openSmall(store);
    const both = await store.live(id);
    await store.commit(id, commission(both, from("2026-11-30", [quote("butter", "4.80 a lb")]), SOUS));
    const refused = await store.commit(id, commission(both, from("2026-11-30", [quote("butter", "4.90 a lb")])));
    expect(refused).toMatchObject({ ok: false, reason: "stale", stale: [{ theirs: { price: { amount: "4.80" } } }] });
  });

  test("who corrects what has been corrected already is told", async () => {
    const id = await openSmall(store);
    const both = await store.live(id);
    const slip = both.book.provenance.get("quote:quote-butter")?.revision;
    const correct = (price: string, who = CHEF) =>
      store.commit(id, commission(both, [{ change: quote("butter", price), validFrom: "2026-11-01", replaces: slip }], who));
    expect(await correct("4.21 a lb", SOUS)).toMatchObject({ ok: true });
    expect(await correct("4.22 a lb")).toMatchObject({ ok: false, reason: "stale", stale: [{ by: "Sous chef", theirs: { price: { amount: "4.21" } } }] });
  });

  test("who save at the same moment are put in line: one is saved, the others are told", async () => {
    const id = await openSmall(store);
    const both = await store.live(id);
    const saves = await Promise.all(["4.31", "4.32", "4.33", "4.34"].map((price) => store.commit(id, commission(both, from(TODAY, [quote("butter", `${price} a lb`)])))));
    expect(saves.filter(({ ok }) => ok)).toHaveLength(1);
    expect(saves.flatMap((saved) => (saved.ok ? [] : [saved.reason]))).toEqual(["stale", "stale", "stale"]);
    const others = await Promise.all([dish("one", []), dish("two", []), menuPrice("steak-frites", "33.00")].map((change) => store.commit(id, commission(both, from(TODAY, [change])))));
    expect(others.map((saved) => saved.ok && saved.changeNo).sort()).toEqual([3, 4, 5]);
    expect((await store.live(id)).changeNo).toBe(5);
  });

  test("a commit that does not say what its editor saw is our own mistake", async () => {
    const id = await openSmall(store);
    await expect(store.commit(id, { entries: from(TODAY, [quote("butter", "5 a lb")]), basedOn: {}, who: CHEF, why: "" })).rejects.toThrow(/which revision/);
  });
});

test("the moments of a kitchen's changes never run backwards, whatever the clock does", async () => {
  const ours = standingClock();
  const own = makeStore(database, ours);
  const id = await openSmall(own);
  ours.set("2026-11-25T20:00:00Z");
  await own.commit(id, commission(await own.live(id), from(TODAY, [quote("butter", "4.50 a lb")])));
  ours.set("2026-11-25T19:00:00Z");
  await own.commit(id, commission(await own.live(id), from(TODAY, [quote("butter", "4.60 a lb")])));
  const record = await own.record(id, { limit: 2 });
  expect(record.map(({ at }) => at)).toEqual(["2026-11-25T20:00:00.000Z", "2026-11-25T20:00:00.000Z"]);
  expect((await own.record(id, { before: 3, limit: 1 })).map(({ changeNo }) => changeNo)).toEqual([2]);
  expect(exact("4.60")).toBe(priceOf(await own.live(id), "quote-butter"));
});
