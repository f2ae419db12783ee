/** Try-outs in the database: kept, changed by two people, dropped and taken up, made real in one commit or not at all. */
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Book, type Move, type MoveBody, aboutOf, basisOf, overtaken, revisionsSeen } from "@/lib/book";
import { exact } from "@/lib/measure";
import { type Store, type Tryout, makeStore } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { menuPrice, q, quote, recipe } from "../menu/small-books";
import { CHEF, SOUS, TODAY, commission, from, openSmall, standingClock } from "./test-kitchen";

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

let keys = 0;
const move = (body: MoveBody, book: Book): Move => ({ key: `m${(keys += 1)}`, about: aboutOf(body, book), body, basis: basisOf(book, body), added: null });
const dearer: MoveBody = { kind: "share", of: { kind: "item", id: "striploin" }, share: exact("0.08") };
const smaller: MoveBody = { kind: "size", specId: "steak-10oz", size: q("8 oz") };
const priced: MoveBody = { kind: "menu price", dishId: "steak-frites", gross: { amount: exact("34") } };

async function kept(house: string, id: string, bodies: readonly MoveBody[] = [dearer, smaller, priced]): Promise<Tryout> {
  const { book } = await store.live(house);
  const done = await store.keepTryout(house, CHEF, { id, name: "  Beef  in December ", moves: bodies.map((body) => move(body, book)), version: null });
  if (!done.ok) throw new Error(JSON.stringify(done));
  return done.tryout;
}

test("kept by name with who and when, and read again as it was; another kitchen has none of it", async () => {
  const [house, other] = [await openSmall(store), await openSmall(store)];
  const before = await store.live(house);
  const one = await kept(house, "try-1");
  expect(one).toMatchObject({ name: "Beef in December", createdBy: "Chef", version: 1, madeChange: null, dropped: null, lost: 0 });
  expect(one.moves.map(({ added }) => added?.by)).toEqual(["Chef", "Chef", "Chef"]);
  expect(await store.readTryout(house, "try-1")).toEqual(one);
  expect(await store.tryouts(house)).toEqual([one]);
  expect([await store.readTryout(other, "try-1"), await store.tryouts(other)]).toEqual([null, []]);
  // Keeping changes nothing of the book.
  expect((await store.live(house)).changeNo).toBe(before.changeNo);
});

test("of two people the second is told what the first has kept, and nothing is lost", async () => {
  const house = await openSmall(store);
  const one = await kept(house, "try-1", [dearer]);
  const { book } = await store.live(house);
  const first = await store.keepTryout(house, SOUS, { id: "try-1", name: one.name, moves: [...one.moves, move(smaller, book)], version: 1 });
  expect(first).toMatchObject({ ok: true, tryout: { version: 2, changedBy: "Sous chef" } });
  const second = await store.keepTryout(house, CHEF, { id: "try-1", name: one.name, moves: [...one.moves, move(priced, book)], version: 1 });
  expect(second).toMatchObject({ ok: false, reason: "stale", theirs: { version: 2, moves: [{ body: dearer }, { body: smaller, added: { by: "Sous chef" } }] } });
  // A new one under an id that is taken is no new one.
  expect(await store.keepTryout(house, CHEF, { id: "try-1", name: "Other", moves: [], version: null })).toMatchObject({ ok: false, reason: "stale" });
  expect(await store.keepTryout(house, CHEF, { id: "try-9", name: "Other", moves: [], version: 3 })).toEqual({ ok: false, reason: "not-there" });
  expect(await store.keepTryout(house, CHEF, { id: "try-9", name: " ", moves: [], version: null })).toMatchObject({ ok: false, reason: "problems", problems: [{ path: "name", code: "no-name" }] });
});

test("dropped, it takes nothing more; taken up again, it is as it was", async () => {
  const house = await openSmall(store);
  const one = await kept(house, "try-1");
  expect(await store.dropTryout(house, "try-1", SOUS, true)).toMatchObject({ ok: true, tryout: { version: 2, dropped: { by: "Sous chef" } } });
  expect(await store.keepTryout(house, CHEF, { ...one, version: 2 })).toMatchObject({ ok: false, reason: "stale" });
  expect(await store.makeTryoutReal(house, "try-1", { version: 2, from: TODAY, seen: {}, who: CHEF, why: "" })).toMatchObject({ ok: false, reason: "moved-on" });
  expect(await store.dropTryout(house, "try-1", SOUS, false)).toMatchObject({ ok: true, tryout: { version: 3, dropped: null, moves: one.moves } });
  expect(await store.dropTryout(house, "try-8", SOUS, true)).toEqual({ ok: false, reason: "not-there" });
});

test("made real in one change, which it is marked with, and only once", async () => {
  const house = await openSmall(store);
  await kept(house, "try-1");
  const made = await store.makeTryoutReal(house, "try-1", { version: 1, from: TODAY, seen: {}, who: SOUS, why: "New menu" });
  if (!made.ok) throw new Error(JSON.stringify(made));
  const entry = await store.recordEntry(house, made.changeNo);
  expect(entry).toMatchObject({ by: "Sous chef", why: "New menu" });
  expect(entry?.facts.map(({ kind, id }) => `${kind} ${id}`).sort()).toEqual(["menuPrice steak-frites", "quote quote-striploin", "spec steak-10oz"]);
  const { book } = await store.live(house);
  expect([book.shelves.quote.get("quote-striploin")?.price.amount, book.shelves.spec.get("steak-10oz")?.size.amount, book.shelves.menuPrice.get("steak-frites")?.gross.amount]).toEqual(["7.668", "8", "34"]);
  expect(await store.readTryout(house, "try-1")).toMatchObject({ madeChange: made.changeNo, version: 2, changedBy: "Sous chef" });
  expect(await store.makeTryoutReal(house, "try-1", { version: 2, from: TODAY, seen: {}, who: SOUS, why: "" })).toMatchObject({ ok: false, reason: "moved-on" });
  expect(await store.dropTryout(house, "try-1", CHEF, true)).toMatchObject({ ok: false, reason: "stale" });
});

test("what has been overtaken must be seen first, as it now stands; then the move applies to what stands", async () => {
  const house = await openSmall(store);
  const one = await kept(house, "try-1", [dearer]);
  const record = async (price: string) => store.commit(house, commission(await store.live(house), from(TODAY, [quote("striploin", price)]), SOUS));
  await record("7.50 a lb");
  const refused = await store.makeTryoutReal(house, "try-1", { version: 1, from: TODAY, seen: {}, who: CHEF, why: "" });
  expect(refused.ok ? null : refused.reason).toBe("overtaken");
  const seen = revisionsSeen(overtaken((await store.live(house)).book, one.moves));
  await record("8.00 a lb");
  // What was seen is not what stands now.
  expect(await store.makeTryoutReal(house, "try-1", { version: 1, from: TODAY, seen, who: CHEF, why: "" })).toMatchObject({ ok: false, reason: "overtaken" });
  const now = revisionsSeen(overtaken((await store.live(house)).book, one.moves));
  expect(await store.makeTryoutReal(house, "try-1", { version: 1, from: TODAY, seen: now, who: CHEF, why: "" })).toMatchObject({ ok: true });
  expect((await store.live(house)).book.shelves.quote.get("quote-striploin")?.price.amount).toBe("8.64");
});

test("somebody faster with one of its facts: told, nothing recorded and nothing marked", async () => {
  const house = await openSmall(store);
  await kept(house, "try-1");
  const before = await store.live(house);
  await store.commit(house, commission(before, from(TODAY, [menuPrice("steak-frites", "33")]), SOUS));
  const seen = revisionsSeen(overtaken((await store.live(house)).book, (await store.readTryout(house, "try-1"))?.moves ?? []));
  const { provenance } = before.book;
  const made = await store.makeTryoutReal(house, "try-1", { version: 1, from: TODAY, seen, basedOn: { "menuPrice:steak-frites": provenance.get("menuPrice:steak-frites")?.revision ?? null }, who: CHEF, why: "" });
  expect(made).toMatchObject({ ok: false, reason: "stale", stale: [{ kind: "menuPrice", by: "Sous chef" }] });
  expect(await store.readTryout(house, "try-1")).toMatchObject({ madeChange: null, version: 1 });
});

test("two who make it real at once: one change, and the other is told", async () => {
  const house = await openSmall(store);
  await kept(house, "try-1");
  const before = (await store.live(house)).changeNo;
  const both = await Promise.all([CHEF, SOUS].map((who) => store.makeTryoutReal(house, "try-1", { version: 1, from: TODAY, seen: {}, who, why: "" })));
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  expect((await store.live(house)).changeNo).toBe(before + 1);
});

test("a replacement for some days is recorded with its end, and a move that does nothing any more stops the rest", async () => {
  const house = await openSmall(store);
  const swap: MoveBody = { kind: "replace", itemId: "butter", byId: "chuck", from: null, until: "2026-12-15" };
  await kept(house, "try-1", [swap]);
  const made = await store.makeTryoutReal(house, "try-1", { version: 1, from: TODAY, seen: {}, who: CHEF, why: "" });
  if (!made.ok) throw new Error(JSON.stringify(made));
  expect(made.later.map(({ kind, id, validFrom }) => [kind, id, validFrom])).toEqual([["recipe", "herb-butter", "2026-12-15"]]);
  const then = await store.bookAsOf(house, { on: "2026-12-16" });
  expect([made.live.book, then].map((book) => book.shelves.recipe.get("herb-butter")?.lines[0]?.of.id)).toEqual(["chuck", "butter"]);

  const next = await openSmall(store);
  await kept(next, "try-2", [{ kind: "line", in: { kind: "recipe", id: "herb-butter" }, lineKey: "line-0", to: { kind: "quantity", quantity: q("3 lb") } }, priced]);
  await store.commit(next, commission(await store.live(next), from(TODAY, [recipe("herb-butter", ["2 lb", "32 portion"], [])]), SOUS));
  const seen = revisionsSeen(overtaken((await store.live(next)).book, (await store.readTryout(next, "try-2"))?.moves ?? []));
  expect(await store.makeTryoutReal(next, "try-2", { version: 1, from: TODAY, seen, who: CHEF, why: "" })).toMatchObject({ ok: false, reason: "problems", problems: [{ code: "no-such-line" }] });
});
