/** Which revision is in force: on a day, as known at a moment; with corrections, withdrawals and days to come. */
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Change, kitchenOf } from "@/lib/book";
import { makeStore } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { inForce } from "@/lib/store/in-force";
import { readBook } from "@/lib/store/read-book";
import type { NewRevision } from "@/lib/store/write-change";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { dish, item, menuPrice, quote } from "../menu/small-books";
import { recordBare } from "./bare-change";
import { commission, from, openSmall, standingClock } from "./test-kitchen";
import { compiled, costs } from "./whole-book";

let place: TestDatabase;
let database: Database;
beforeAll(async () => {
  place = await migratedDatabase();
  database = await openDatabase(place.choice);
});
afterAll(async () => {
  await database.close();
  await place.remove();
});

const dealer = (id: string, name: string): Change => ({ kind: "dealer", id, after: { id, name, note: "", minimumOrder: null, ordering: "" } });
const gone = (id: string): Change => ({ kind: "dealer", id, after: null });
const DAYS = ["2026-11-20", "2026-11-23", "2026-11-25", "2026-12-01"];

describe("the revision in force", () => {
  let kitchens = 0;
  const open = (): string => `as-of-${kitchens += 1}`;
  const nameOn = async (kitchenId: string, on: string, changeNo: number): Promise<string | undefined> =>
    (await readBook(database.prisma, kitchenId, on, changeNo)).shelves.dealer.get("d")?.name;

  test("is the one that applies from the latest day that has come", async () => {
    const kitchen = open();
    await recordBare(database, kitchen, [
      { change: dealer("d", "first"), validFrom: "2026-11-20" }, { change: dealer("d", "third"), validFrom: "2026-12-01" },
      { change: dealer("d", "second"), validFrom: "2026-11-23" },
    ]);
    expect(await nameOn(kitchen, "2026-11-19", 1)).toBeUndefined();
    expect(await nameOn(kitchen, "2026-11-22", 1)).toBe("first");
    expect(await nameOn(kitchen, "2026-11-30", 1)).toBe("second");
    expect(await nameOn(kitchen, "2026-12-01", 1)).toBe("third");
  });

  test("is, among those of one day, the one recorded last, and before it was known the one known then", async () => {
    const kitchen = open();
    await recordBare(database, kitchen, [{ change: dealer("d", "as heard"), validFrom: "2026-11-23" }]);
    await recordBare(database, kitchen, [{ change: dealer("d", "as billed"), validFrom: "2026-11-23" }]);
    expect(await nameOn(kitchen, "2026-11-25", 1)).toBe("as heard");
    expect(await nameOn(kitchen, "2026-11-25", 2)).toBe("as billed");
  });

  test("counts a corrected revision no more, from the correction on, even where that applies later", async () => {
    const kitchen = open();
    await recordBare(database, kitchen, [{ change: dealer("d", "old"), validFrom: "2026-11-20" }]);
    const [slip] = await recordBare(database, kitchen, [{ change: dealer("d", "slip"), validFrom: "2026-11-23" }]);
    await recordBare(database, kitchen, [{ change: dealer("d", "right"), validFrom: "2026-12-01", replaces: slip?.revision }]);
    expect(await nameOn(kitchen, "2026-11-25", 2)).toBe("slip");
    expect(await nameOn(kitchen, "2026-11-25", 3)).toBe("old");
    expect(await nameOn(kitchen, "2026-12-01", 3)).toBe("right");
  });

  test("may take the fact off the book, until a later one brings it back", async () => {
    const kitchen = open();
    await recordBare(database, kitchen, [
      { change: dealer("d", "here"), validFrom: "2026-11-20" }, { change: gone("d"), validFrom: "2026-11-23" },
      { change: dealer("d", "back"), validFrom: "2026-12-01" },
    ]);
    expect(await nameOn(kitchen, "2026-11-20", 1)).toBe("here");
    expect(await nameOn(kitchen, "2026-11-23", 1)).toBeUndefined();
    expect(await nameOn(kitchen, "2026-12-01", 1)).toBe("back");
  });

  test("is the same by SQL and by the rule in words, whatever was recorded in whatever order", async () => {
    const entry = fc.record({
      id: fc.constantFrom("d", "e"), validFrom: fc.constantFrom(...DAYS), withdrawn: fc.boolean(), name: fc.string({ maxLength: 5 }),
      // Which earlier revision of the fact is corrected, if any: counted from the newest.
      corrects: fc.option(fc.nat({ max: 3 }), { nil: null }),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(fc.array(entry, { minLength: 1, maxLength: 4 }), { minLength: 1, maxLength: 5 }), async (changes) => {
        const kitchen = open();
        const known: (NewRevision & { changeNo: number })[] = [];
        for (const [index, entries] of changes.entries()) {
          const taken = new Set(known.map(({ replaces }) => replaces));
          const written = await recordBare(database, kitchen, entries.map(({ id, validFrom, withdrawn, name, corrects }) => {
            const free = known.filter((revision) => revision.id === id && !taken.has(revision.revision));
            const corrected = corrects === null ? undefined : free.at(-1 - corrects);
            if (corrected) taken.add(corrected.revision);
            return { change: withdrawn ? gone(id) : dealer(id, name), validFrom, ...(corrected ? { replaces: corrected.revision } : {}) };
          }));
          known.push(...written.map((revision) => ({ ...revision, changeNo: index + 1 })));
        }
        for (const on of DAYS) for (let changeNo = 1; changeNo <= changes.length; changeNo += 1) {
          const book = await readBook(database.prisma, kitchen, on, changeNo);
          for (const id of ["d", "e"]) {
            const expected = inForce(known.filter((revision) => revision.id === id && revision.changeNo <= changeNo), on);
            expect(book.shelves.dealer.get(id) ?? null).toEqual(expected?.after ?? null);
            if (expected?.after) expect(book.provenance.get(`dealer:${id}`)?.revision).toBe(expected.revision);
          }
        }
      }),
      { numRuns: 25 },
    );
  });
});

test("a book is read as it was known at a moment", async () => {
  await recordBare(database, "moments", [{ change: dealer("d", "first"), validFrom: "2026-11-25" }]);
  await recordBare(database, "moments", [{ change: dealer("d", "second"), validFrom: "2026-11-25" }]);
  const store = makeStore(database);
  const name = async (knownAt?: string): Promise<string | undefined> =>
    (await store.bookAsOf("moments", { on: "2026-11-25", knownAt })).shelves.dealer.get("d")?.name;
  // The bare changes are recorded a second apart, the first at 09:00:01.
  expect(await name("2026-11-25T09:00:00.999Z")).toBeUndefined();
  expect(await name("2026-11-25T09:00:01.000Z")).toBe("first");
  expect(await name("2026-11-25T09:00:02.000Z")).toBe("second");
  expect(await name()).toBe("second");
});

describe("the book of a day before the kitchen's settings applied", () => {
  test("is read by the first settings there are, and costed", async () => {
    const store = makeStore(database, standingClock());
    const id = await openSmall(store);
    const long = from("2020-03-02", [item("leek"), quote("leek", "2.00 a lb"), dish("leek-soup", ["item leek 8 oz"]), menuPrice("leek-soup", "9.00"), dealer("dealer", "Harbour Provisioners")]);
    expect(await store.commit(id, commission(await store.live(id), long))).toMatchObject({ ok: true });
    const then = await store.bookAsOf(id, { on: "2021-06-01" });
    expect(kitchenOf(then).name).toBe("Test kitchen");
    expect(costs(compiled(then)).get("dish leek-soup")).toMatch(/^1 a plate/);
    expect(kitchenOf(await store.bookAsOf(id, { on: "1900-01-01" })).currency).toBe("USD");
  });
});
