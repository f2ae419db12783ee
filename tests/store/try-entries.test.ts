/** What is shown before saving is what the record tells afterwards, whatever day a change applies from and whatever it corrects. */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Store, makeStore } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { item, quote, recipe } from "../menu/small-books";
import { TODAY, commission, from, openSmall, standingClock } from "./test-kitchen";

let place: TestDatabase;
let database: Database;
let store: Store;
beforeAll(async () => {
  place = await migratedDatabase();
  database = await openDatabase(place.choice);
  store = makeStore(database, standingClock());
});
afterAll(async () => {
  await store.close();
  await place.remove();
});

/** Striploin at 7.10 since 1 November and at 7.50 since the 20th. */
async function repriced(): Promise<{ readonly id: string; readonly first: number; readonly second: number }> {
  const id = await openSmall(store);
  await store.commit(id, commission(await store.live(id), from("2026-11-20", [quote("striploin", "7.50 a lb")])));
  const [second, first] = await store.revisionsOf(id, "quote", "quote-striploin");
  if (!first || !second) throw new Error("expected two revisions");
  return { id, first: first.revision, second: second.revision };
}

async function bothWays(id: string, entries: Parameters<Store["tryEntries"]>[1]) {
  const tried = await store.tryEntries(id, entries);
  const live = await store.live(id);
  const committed = await store.commit(id, commission(live, entries));
  if (!tried.ok || !committed.ok) throw new Error("expected both to be good");
  return { tried: tried.value.report, committed: committed.report, moved: committed.report.dishes.length };
}

describe("trying dated changes", () => {
  test.each([
    ["from today", TODAY, true],
    ["from a past day after the price that counts", "2026-11-22", true],
    ["from the very day of the price that counts", "2026-11-20", true],
    ["from a day before the price that counts", "2026-11-10", false],
    ["from before there was any price", "2026-10-01", false],
  ])("%s tells what the record will tell", async (_name, day, moves) => {
    const { id } = await repriced();
    const { tried, committed, moved } = await bothWays(id, from(day, [quote("striploin", "9.90 a lb")]));
    expect(tried).toEqual(committed);
    expect(moved > 0).toBe(moves);
  });

  test("a correction of a price that no longer counts moves nothing, of the one that counts it does", async () => {
    const old = await repriced();
    const [correction] = from("2026-11-01", [quote("striploin", "9.90 a lb")]);
    if (!correction) throw new Error("expected an entry");
    const behind = await bothWays(old.id, [{ ...correction, replaces: old.first }]);
    expect(behind.tried).toEqual(behind.committed);
    expect(behind.moved).toBe(0);

    const standing = await repriced();
    const counts = await bothWays(standing.id, [{ ...correction, validFrom: "2026-11-20", replaces: standing.second }]);
    expect(counts.tried).toEqual(counts.committed);
    expect(counts.moved).toBeGreaterThan(0);
  });

  test("a correction that moves a price to an earlier day brings the one before it into view", async () => {
    const { id, second } = await repriced();
    const [correction] = from("2026-10-15", [quote("striploin", "9.90 a lb")]);
    if (!correction) throw new Error("expected an entry");
    const { tried, committed, moved } = await bothWays(id, [{ ...correction, replaces: second }]);
    expect(tried).toEqual(committed);
    // Back to 7.10, which was in force before.
    expect(moved).toBeGreaterThan(0);
  });

  test("a day to come is told as if it were today, while the record tells that nothing moves yet", async () => {
    const { id } = await repriced();
    const entries = from("2027-01-04", [quote("striploin", "9.90 a lb")]);
    const asToday = await store.tryEntries(id, from(TODAY, [quote("striploin", "9.90 a lb")]));
    const { tried, moved } = await bothWays(id, entries);
    if (!asToday.ok) throw new Error("expected it to be good");
    expect(tried).toEqual(asToday.value.report);
    expect(tried.dishes.length).toBeGreaterThan(0);
    expect(moved).toBe(0);
  });

  test("what a commit would refuse is refused, with the same sentences; nothing is recorded", async () => {
    const { id } = await repriced();
    for (const entries of [
      from(TODAY, [{ kind: "item", id: "butter", after: null }]),
      from("2027-01-04", [{ kind: "item", id: "butter", after: null }]),
      from(TODAY, [recipe("round", ["4 qt"], ["recipe round 1 qt"])]),
      from(TODAY, [quote("striploin", "0.01 a lb")]),
    ]) {
      const tried = await store.tryEntries(id, entries);
      const committed = await store.commit(id, commission(await store.live(id), entries));
      expect(committed).toEqual({ ok: false, reason: "problems", problems: tried.ok ? [] : tried.problems });
    }
    expect((await store.live(id)).changeNo).toBe(2);
  });

  test("of two dealers’ prices from one day the one recorded last counts, tried as recorded", async () => {
    const { id } = await repriced();
    const otherDealer = { kind: "dealer", id: "other", after: { id: "other", name: "Other Provisioners", note: "", minimumOrder: null, ordering: "" } } as const;
    const theirs = quote("striploin", "8.80 a lb", { id: "quote-other", dealerId: "other" });
    await store.commit(id, commission(await store.live(id), from(TODAY, [otherDealer, { ...theirs, id: "quote-other" }])));
    // The first dealer's price, touched again on the same day, is the newest of the two although its fact is the older one.
    const { tried, committed, moved } = await bothWays(id, from(TODAY, [quote("striploin", "9.90 a lb")]));
    expect(tried).toEqual(committed);
    expect(moved).toBeGreaterThan(0);
  });

  test("a correction must name a revision of its own fact; new facts may be tried together", async () => {
    const { id } = await repriced();
    const [entry] = from(TODAY, [quote("striploin", "8 a lb")]);
    if (!entry) throw new Error("expected an entry");
    expect(await store.tryEntries(id, [{ ...entry, replaces: 999_999 }])).toMatchObject({ ok: false, problems: [{ code: "no-such-revision" }] });
    const together = await store.tryEntries(id, from(TODAY, [item("cream"), quote("cream", "5 a lb"), recipe("whipped", ["2 lb"], ["item cream 2 lb"])]));
    expect(together.ok && together.value.report.stands.recipes.map(({ name }) => name)).toEqual(["whipped"]);
  });
});
