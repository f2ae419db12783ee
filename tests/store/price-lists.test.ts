/** Dealers' price lists in the database: kept once, changed by two people, dropped, recorded in one change or not at all, undone; and a list long enough to matter. */
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Book, type Change, type Quote, undoing } from "@/lib/book";
import { NO_CHOICES, guessLayout } from "@/lib/buying";
import { exact } from "@/lib/measure";
import { type CommitStep, type PriceList, type Store, basedOn, makeStore } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { item, quote } from "../menu/small-books";
import { CHEF, SOUS, TODAY, from, openSmall, standingClock } from "./test-kitchen";

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
  await database.close();
  await place.remove();
});

const FILE = Buffer.from("Code;Price\nB-1;4.40\n");
const LAYOUT = guessLayout([{ name: "", rows: [["Code", "Price"], ["B-1", "4.40"]].map((row) => row.map((text) => ({ text, number: null }))) }], { locale: "en-US", measures: "us", currency: "USD" });
const list = (id: string, bytes: Uint8Array = FILE) => ({ id, dealerId: "dealer", fileName: "november.csv", bytes, layout: LAYOUT, choices: NO_CHOICES });

async function added(house: string, id: string, bytes?: Uint8Array): Promise<PriceList> {
  const done = await store.addPriceList(house, CHEF, list(id, bytes));
  if (!done.ok) throw new Error(JSON.stringify(done));
  return done.list;
}
const dearer = (book: Book, price: string): Change => {
  const quoted = book.shelves.quote.get("quote-butter") as Quote;
  return { kind: "quote", id: quoted.id, after: { ...quoted, price: { amount: exact(price) } } };
};
async function recorded(house: string, { id, version }: PriceList, price = "4.40", more: Partial<Parameters<Store["recordPriceList"]>[2]> = {}) {
  const live = await store.live(house);
  const changes = [dearer(live.book, price)];
  return store.recordPriceList(house, id, { version, entries: from(TODAY, changes), basedOn: basedOn(live, changes), choices: { summary: "one" }, who: SOUS, why: "November", ...more });
}

test("kept with who and when; the same file of the same dealer is not kept twice, and another kitchen has none of it", async () => {
  const [house, other] = [await openSmall(store), await openSmall(store)];
  const one = await added(house, "list-1");
  expect(one).toMatchObject({ dealerId: "dealer", fileName: "november.csv", readBy: "Chef", version: 1, madeChange: null, dropped: null, layout: LAYOUT });
  expect(await store.readPriceList(house, "list-1")).toEqual(one);
  expect(await store.priceLists(house)).toEqual([one]);
  expect(Buffer.from(await store.priceListFile(house, "list-1") ?? [])).toEqual(FILE);
  expect([await store.readPriceList(other, "list-1"), await store.priceLists(other), await store.priceListFile(other, "list-1")]).toEqual([null, [], null]);
  expect(await store.addPriceList(house, SOUS, list("list-2"))).toMatchObject({ ok: false, reason: "known", list: { id: "list-1" } });
  expect(await store.addPriceList(house, SOUS, { ...list("list-2"), dealerId: "nobody" })).toMatchObject({ ok: false, reason: "problems", problems: [{ code: "not-in-the-book" }] });
  expect(await store.addPriceList(house, SOUS, list("list-2", Buffer.alloc(0)))).toMatchObject({ ok: false, reason: "problems", problems: [{ code: "empty" }] });
  // Of two who send it at the same moment one keeps it.
  const both = await Promise.all(["list-3", "list-4"].map((id) => store.addPriceList(other, CHEF, list(id))));
  expect(both.map((done) => done.ok).sort()).toEqual([false, true]);
});

test("of two people the second is told what the first has kept; a layout is remembered for the dealer when it is said to be", async () => {
  const house = await openSmall(store);
  const one = await added(house, "list-1");
  expect(await store.dealerLayout(house, "dealer")).toBeNull();
  const choices = { ...NO_CHOICES, from: "2026-12-01" };
  expect(await store.keepPriceList(house, SOUS, { id: one.id, version: 1, layout: LAYOUT, choices, remember: true })).toMatchObject({ ok: true, list: { version: 2, changedBy: "Sous chef", choices } });
  expect(await store.dealerLayout(house, "dealer")).toEqual(LAYOUT);
  expect(await store.keepPriceList(house, CHEF, { id: one.id, version: 1, layout: LAYOUT, choices: NO_CHOICES, remember: false })).toMatchObject({ ok: false, reason: "stale", theirs: { version: 2, changedBy: "Sous chef", choices } });
  expect(await store.keepPriceList(house, CHEF, { id: "list-9", version: 1, layout: LAYOUT, choices: NO_CHOICES, remember: false })).toEqual({ ok: false, reason: "not-there" });
  expect(await store.keepPriceList(house, CHEF, { id: one.id, version: 2, layout: { ...LAYOUT, sheet: "\uD800" }, choices: NO_CHOICES, remember: false })).toMatchObject({ ok: false, reason: "problems" });
});

test("dropped, its file is let go and may come again", async () => {
  const house = await openSmall(store);
  const one = await added(house, "list-1");
  expect(await store.dropPriceList(house, one.id, SOUS)).toMatchObject({ ok: true, list: { version: 2, dropped: { by: "Sous chef" } } });
  expect(await store.dropPriceList(house, one.id, CHEF)).toMatchObject({ ok: true, list: { dropped: { by: "Sous chef" } } });
  expect(await store.priceListFile(house, one.id)).toBeNull();
  expect(await recorded(house, one)).toMatchObject({ ok: false, reason: "moved-on" });
  expect((await added(house, "list-2")).version).toBe(1);
});

test("recorded as one change, which it is marked with; the file is let go; the same file does nothing, until the change is undone", async () => {
  const house = await openSmall(store);
  const one = await added(house, "list-1");
  const done = await recorded(house, one);
  if (!done.ok) throw new Error(JSON.stringify(done));
  expect(await store.readPriceList(house, one.id)).toMatchObject({ madeChange: done.changeNo, changedBy: "Sous chef", version: 2, choices: { summary: "one" } });
  expect(await store.priceListFile(house, one.id)).toBeNull();
  expect(await store.dealerLayout(house, "dealer")).toEqual(LAYOUT);
  expect(await store.addPriceList(house, CHEF, list("list-2"))).toMatchObject({ ok: false, reason: "known", list: { id: "list-1", madeChange: done.changeNo } });
  expect(await recorded(house, one)).toMatchObject({ ok: false, reason: "moved-on", theirs: { madeChange: done.changeNo } });
  expect(await store.dropPriceList(house, one.id, CHEF)).toMatchObject({ ok: false, reason: "stale" });
  const entry = await store.recordEntry(house, done.changeNo);
  const undone = undoing(entry as NonNullable<typeof entry>);
  if (!undone.ok) throw new Error(JSON.stringify(undone));
  const live = await store.live(house);
  expect(await store.commit(house, { entries: undone.value, basedOn: basedOn(live, undone.value.map(({ change }) => change)), who: CHEF, why: "" })).toMatchObject({ ok: true });
  expect((await added(house, "list-3")).id).toBe("list-3");
});

test("a price that somebody changed meanwhile, and a commit that is stopped: nothing is recorded, and the list waits on", async () => {
  const house = await openSmall(store);
  const one = await added(house, "list-1");
  const before = await store.live(house);
  const mine = [dearer(before.book, "4.40")];
  const theirs = [dearer(before.book, "4.60")];
  expect(await store.commit(house, { entries: from(TODAY, theirs), basedOn: basedOn(before, theirs), who: SOUS, why: "" })).toMatchObject({ ok: true });
  expect(await recorded(house, one, "4.40", { entries: from(TODAY, mine), basedOn: basedOn(before, mine) })).toMatchObject({ ok: false, reason: "stale", stale: [{ by: "Sous chef" }] });
  const { changeNo } = await store.live(house);
  const steps: CommitStep[] = [];
  for (const stopAt of ["reading", "checking", "writing the facts", "writing what moved", "closing"] as const) {
    const stopped = recorded(house, one, "4.70", { watch: (step) => { steps.push(step); if (step === stopAt) throw new Error("hung up"); } });
    await expect(stopped).rejects.toThrow("hung up");
  }
  expect(steps.slice(-5)).toEqual(["reading", "checking", "writing the facts", "writing what moved", "closing"]);
  expect((await store.live(house)).changeNo).toBe(changeNo);
  expect(await store.readPriceList(house, one.id)).toEqual(one);
  expect(await store.priceListFile(house, one.id)).not.toBeNull();
  expect(await recorded(house, one, "4.70")).toMatchObject({ ok: true });
});

test("a long list is one change, read in the record and undone as one", { timeout: 60_000 }, async () => {
  const house = await openSmall(store);
  const many = Array.from({ length: 1_500 }, (_, at) => [item(`thing-${at}`, "mass", { dealerId: "dealer" }), quote(`thing-${at}`, "2.00 a lb")]).flat();
  const empty = await store.live(house);
  expect(await store.commit(house, { entries: from("2026-11-02", many), basedOn: basedOn(empty, many), who: CHEF, why: "" })).toMatchObject({ ok: true });
  const one = await added(house, "list-1");
  const live = await store.live(house);
  const changes = [...live.book.shelves.quote.values()].filter(({ id }) => id.startsWith("quote-thing")).map((was): Change => ({ kind: "quote", id: was.id, after: { ...was, price: { amount: exact("2.10") } } }));
  const done = await store.recordPriceList(house, one.id, { version: 1, entries: from(TODAY, changes), basedOn: basedOn(live, changes), choices: {}, who: CHEF, why: "" });
  if (!done.ok) throw new Error(JSON.stringify(done).slice(0, 500));
  const entry = await store.recordEntry(house, done.changeNo);
  expect([entry?.factCount, entry?.facts.length, entry?.moved.item]).toEqual([1_500, 1_500, 1_500]);
  const undone = undoing(entry as NonNullable<typeof entry>);
  if (!undone.ok) throw new Error(JSON.stringify(undone));
  const now = await store.live(house);
  expect(await store.commit(house, { entries: undone.value, basedOn: basedOn(now, undone.value.map(({ change }) => change)), who: CHEF, why: "" })).toMatchObject({ ok: true });
  const back = (await store.live(house)).book.shelves.quote;
  expect([...back.values()].filter(({ id, price }) => id.startsWith("quote-thing") && price.amount !== "2.00")).toEqual([]);
});
