/** Undoing a recorded change: afterwards the book says what it said before, on every day; and undoing that brings it back. */
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Change, type DoneChange, type Shelves, undoing } from "@/lib/book";
import { type DatedChange, type Store, basedOn, makeStore } from "@/lib/store";
import { openDatabase } from "@/lib/store/database";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { dish, item, menuPrice, quote, recipe, spec } from "../menu/small-books";
import { CHEF, SOUS, TODAY, commission, from, openSmall, standingClock } from "./test-kitchen";

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

const LONG = process.env["LONG"] === "1";
/** The opening, a past day, today, and days to come. */
const DAYS = ["2026-11-01", "2026-11-20", TODAY, "2026-12-01", "2027-01-01"];

async function record(id: string, entries: readonly DatedChange[], who = CHEF): Promise<number> {
  const committed = await store.commit(id, commission(await store.live(id), entries, who));
  if (!committed.ok) throw new Error(`expected it to be recorded: ${JSON.stringify(committed)}`);
  return committed.changeNo;
}

async function undo(id: string, changeNo: number): Promise<number> {
  const entry = await store.recordEntry(id, changeNo);
  const undone = undoing(entry as DoneChange);
  if (!undone.ok) throw new Error(undone.problems[0]?.sentence);
  const live = await store.live(id);
  // What a try shows is what is recorded.
  const tried = await store.tryEntries(id, undone.value);
  const committed = await store.commit(id, { entries: undone.value, basedOn: basedOn(live, undone.value.map(({ change }) => change)), who: SOUS, why: `Undoes change ${changeNo}` });
  if (!committed.ok) throw new Error(`expected it to be undone: ${JSON.stringify(committed)}`);
  if (undone.value.every(({ validFrom }) => validFrom <= TODAY)) expect(tried.ok && tried.value.report).toEqual(committed.report);
  return committed.changeNo;
}

const shelvesOf = async (id: string): Promise<readonly Shelves[]> => Promise.all(DAYS.map(async (on) => (await store.bookAsOf(id, { on })).shelves));
const refusal = async (id: string, changeNo: number): Promise<string> => {
  const undone = undoing((await store.recordEntry(id, changeNo)) as DoneChange);
  return undone.ok ? "can be undone" : undone.problems.map(({ sentence }) => sentence).join(" ");
};

describe("undoing", () => {
  const CHANGES: readonly (readonly [string, readonly DatedChange[]])[] = [
    ["a new price", from(TODAY, [quote("butter", "3.10 a lb")])],
    ["a price of a past day", from("2026-11-20", [quote("butter", "3.10 a lb")])],
    ["a price of a day to come", from("2026-12-01", [quote("butter", "3.10 a lb")])],
    ["new things, one upon the other", from(TODAY, [item("leek"), quote("leek", "1.20 a lb"), recipe("leek-butter", ["2 lb"], ["item leek 1 lb", "item butter 1 lb"]), dish("leeks", ["recipe leek-butter 2 oz"]), menuPrice("leeks", "11.00")])],
    ["new things of a day to come", from("2026-12-01", [item("leek"), quote("leek", "1.20 a lb")])],
    ["a dish taken off with its price", from(TODAY, [{ kind: "menuPrice", id: "butter-bean", after: null }, { kind: "dish", id: "butter-bean", after: null }])],
    ["a portion's size", from(TODAY, [spec("steak-10oz", "strip", "9 oz")])],
  ];

  test.each(CHANGES)("%s leaves the book as it was on every day; undoing that brings it back; and so on", async (_, entries) => {
    const id = await openSmall(store);
    const before = await shelvesOf(id);
    const changed = await record(id, entries);
    const after = await shelvesOf(id);
    expect(after).not.toEqual(before);
    const undone = await undo(id, changed);
    expect(await shelvesOf(id)).toEqual(before);
    const again = await undo(id, undone);
    expect(await shelvesOf(id)).toEqual(after);
    await undo(id, again);
    expect(await shelvesOf(id)).toEqual(before);
    expect((await store.record(id, { limit: 10 })).map(({ why }) => why)).toEqual([`Undoes change ${again}`, `Undoes change ${undone}`, `Undoes change ${changed}`, "because", "opening"]);
  });

  test("a correction, and one that moved the day: what was corrected counts again from its own day", async () => {
    const id = await openSmall(store);
    await record(id, from("2026-11-20", [quote("butter", "3.10 a lb")]));
    const [wrong] = await store.revisionsOf(id, "quote", "quote-butter");
    const before = await shelvesOf(id);
    const corrected = await record(id, [{ change: quote("butter", "3.30 a lb"), validFrom: TODAY, replaces: wrong?.revision }]);
    const after = await shelvesOf(id);
    const undone = await undo(id, corrected);
    expect(await shelvesOf(id)).toEqual(before);
    await undo(id, undone);
    expect(await shelvesOf(id)).toEqual(after);
  });

  test("an older change, as long as nothing of it was changed since; else the sentence says by which change", async () => {
    const id = await openSmall(store);
    const before = await shelvesOf(id);
    const butter = await record(id, from(TODAY, [quote("butter", "3.10 a lb")]));
    const steak = await record(id, from(TODAY, [quote("striploin", "9.40 a lb"), menuPrice("steak-frites", "33.00")]));
    const price = await record(id, from(TODAY, [menuPrice("steak-frites", "34.00")]));
    expect(await refusal(id, steak)).toMatch(new RegExp(`was changed again by change ${price}\\. Undo that first`));
    expect(await refusal(id, 1)).toMatch(/opened with this change/);
    await undo(id, butter);
    await undo(id, price);
    // The undoing is itself a later change: what is undone already is not undone twice.
    expect(await refusal(id, butter)).toMatch(/was changed again/);
    expect(await refusal(id, steak)).toMatch(/was changed again/);
    await record(id, from(TODAY, [menuPrice("steak-frites", "32.00"), quote("striploin", "8.00 a lb")]));
    expect((await shelvesOf(id)).length).toBe(before.length);
  });

  test("what others stand on by now is refused by the book, with its sentence; and what they say meanwhile is not written over", async () => {
    const id = await openSmall(store);
    const added = await record(id, from(TODAY, [item("leek"), quote("leek", "1.20 a lb")]));
    await record(id, from(TODAY, [recipe("leek-butter", ["1 lb"], ["item leek 1 lb"])]));
    const undone = undoing((await store.recordEntry(id, added)) as DoneChange);
    expect(undone.ok).toBe(true);
    if (!undone.ok) return;
    const tried = await store.tryEntries(id, undone.value);
    expect(tried.ok ? "tried" : tried.problems[0]?.sentence).toMatch(/leek/i);

    // Recorded in the blink between the look and the commit.
    const price = await record(id, from(TODAY, [quote("butter", "3.10 a lb")]));
    const entries = undoing((await store.recordEntry(id, price)) as DoneChange);
    const live = await store.live(id);
    await record(id, from(TODAY, [quote("butter", "3.20 a lb")]), SOUS);
    const committed = entries.ok && await store.commit(id, { entries: entries.value, basedOn: basedOn(live, entries.value.map(({ change }) => change)), who: CHEF, why: "" });
    expect(committed).toMatchObject({ ok: false, reason: "stale", stale: [{ by: "Sous chef" }] });
  });

  test("more facts than are told, or two sayings of one fact, are refused", () => {
    const fact = { kind: "quote" as const, id: "q", name: "Butter", revision: 4, validFrom: TODAY, replaces: null, replacedFrom: null, before: null, laterChange: null };
    expect(undoing({ changeNo: 3, facts: [fact], factCount: 2 })).toMatchObject({ ok: false, problems: [{ code: "too-many" }] });
    expect(undoing({ changeNo: 3, facts: [{ ...fact, laterChange: 3 }, { ...fact, revision: 5 }], factCount: 2 })).toMatchObject({ ok: false, problems: [{ code: "twice" }] });
  });

  test("law: whatever a run of changes says, undoing them backwards gives the book back as it was at the start", { timeout: 120_000 }, async () => {
    const price = fc.integer({ min: 100, max: 1500 }).map((cents) => (cents / 100).toFixed(2));
    const change: fc.Arbitrary<Change> = fc.oneof(
      price.map((at) => quote("butter", `${at} a lb`)), price.map((at) => quote("striploin", `${at} a lb`)),
      price.map((at) => menuPrice("steak-frites", at)), price.map((at) => menuPrice("butter-bean", at)),
      fc.integer({ min: 6, max: 14 }).map((ounces) => spec("steak-10oz", "strip", `${ounces} oz`)),
    );
    const entries = fc.uniqueArray(change, { minLength: 1, maxLength: 3, selector: ({ kind, id }) => `${kind}:${id}` });
    await fc.assert(fc.asyncProperty(fc.array(fc.tuple(entries, fc.constantFrom(...DAYS.slice(1))), { minLength: 1, maxLength: 4 }), async (steps) => {
      const id = await openSmall(store);
      const before = await shelvesOf(id);
      const done: number[] = [];
      for (const [changes, on] of steps) {
        const committed = await store.commit(id, commission(await store.live(id), from(on, changes)));
        if (committed.ok) done.push(committed.changeNo);
      }
      for (const changeNo of done.toReversed()) {
        const undone = undoing((await store.recordEntry(id, changeNo)) as DoneChange);
        // A fact that was undone has been changed since: by the undoing of what came after it.
        if (!undone.ok) { expect(undone.problems[0]?.code).toBe("changed-since"); return; }
        await undo(id, changeNo);
      }
      expect(await shelvesOf(id)).toEqual(before);
    }), { numRuns: LONG ? 60 : 12 });
  });
});
