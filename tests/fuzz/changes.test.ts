/**
 * Whatever is tried or committed is answered, never thrown; what is refused leaves every table as it was, and what is
 * recorded is there whole, in the tables as in memory. On the embedded database, over a small kitchen.
 */
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Book, type Change, checkChanges, withChanges } from "@/lib/book";
import { belowNothing, compile, tryOut } from "@/lib/cascade";
import { readRipple } from "@/lib/menu";
import { type Commission, type DatedChange, type Store, basedOn, makeStore } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { bookOf } from "../menu/small-books";
import { CHEF, FACTS, TODAY, commission, from, openSmall, standingClock } from "../store/test-kitchen";
import { compiled, contents, costs } from "../store/whole-book";
import { PATIENCE, inGoodTime, runs } from "./runs";
import { wildChange } from "./wild-facts";

const SMALL = bookOf(FACTS);

describe("in memory", () => {
  test("any changes are judged, and what is judged good has costs and a ripple", { timeout: PATIENCE }, () => {
    let good = 0;
    fc.assert(fc.property(fc.array(wildChange(SMALL), { minLength: 1, maxLength: 4 }), (changes) => {
      const problems = inGoodTime(() => checkChanges(SMALL, changes), () => fc.stringify(changes));
      for (const { path, code, sentence } of problems) {
        expect([path, code]).toEqual([expect.any(String), expect.stringMatching(/^[a-z-]+$/)]);
        expect(sentence).toMatch(/^.{10,}[.?]$/su);
      }
      if (problems.length > 0) return;
      good += 1;
      const tried = inGoodTime(() => tryOut(compiled(SMALL), changes), () => fc.stringify(changes));
      if (!tried.ok) return;
      const { after, ripple } = tried.value;
      readRipple(compiled(SMALL), after, ripple);
      if (belowNothing(ripple).length > 0) return;
      expect(costs(after)).toEqual(costs(compiled(withChanges(SMALL, changes))));
    }), runs(1_000));
    expect(good).toBeGreaterThan(100);
  });

  test("a change on top of a change on top of a change", { timeout: PATIENCE }, () => {
    fc.assert(fc.property(fc.array(wildChange(SMALL), { minLength: 20, maxLength: 40 }), (changes) => {
      let book: Book = SMALL;
      for (const change of changes) {
        if (inGoodTime(() => checkChanges(book, [change]), () => fc.stringify(change)).length > 0) continue;
        const after = withChanges(book, [change]);
        // A book that passes the checks compiles, whatever is missing in it.
        if (compile(after).ok) book = after;
        else expect.fail(`a checked book did not compile: ${fc.stringify(change)}`);
      }
    }), runs(40));
  });
});

describe("on the database", () => {
  let place: TestDatabase;
  let database: Database;
  let store: Store;
  let id: string;
  const clock = standingClock();
  beforeAll(async () => {
    place = await migratedDatabase();
    database = await openDatabase(place.choice);
    store = makeStore(database, clock);
    id = await openSmall(store);
  });
  afterAll(async () => {
    await store.close();
    await place.remove();
  });

  /** How many rows each table has. */
  async function counts(): Promise<Readonly<Record<string, number>>> {
    const tables = await database.prisma.$queryRaw<{ name: string }[]>`SELECT table_name AS name FROM information_schema.tables WHERE table_schema = current_schema() AND table_type = 'BASE TABLE'`;
    const [row] = await database.prisma.$queryRawUnsafe<Record<string, number>[]>(`SELECT ${tables.map(({ name }) => `(SELECT count(*)::int FROM "${name}") AS "${name}"`).join(", ")}`);
    return row ?? {};
  }

  const day = fc.oneof({ weight: 6, arbitrary: fc.constantFrom(TODAY, TODAY, "2026-11-24", "2026-11-01", "2026-12-01", "2027-01-04") }, { weight: 1, arbitrary: fc.constantFrom("1900-01-01", "2199-12-31", "2026-02-30", "", "today", "2026-11-25T00:00", "99999-01-01", "__proto__", "\0") });
  const replaces = fc.oneof({ weight: 6, arbitrary: fc.constant(undefined) }, { weight: 2, arbitrary: fc.integer({ min: 1, max: 60 }) }, { weight: 1, arbitrary: fc.constantFrom(0, -1, 1.5, Number.NaN, 2 ** 53, 1e300, Number.POSITIVE_INFINITY) });
  const who = fc.oneof({ weight: 12, arbitrary: fc.constant("Chef") }, { weight: 1, arbitrary: fc.constantFrom("", "  ", "x".repeat(500), "\0", "\ud800", "'; DELETE FROM revision; --", "½ 肉") });
  const why = fc.oneof({ weight: 12, arbitrary: fc.constant("because") }, { weight: 1, arbitrary: fc.constantFrom("", "y".repeat(3_000), "a\0b", "\udc00", "🥩") });
  const based = fc.oneof({ weight: 6, arbitrary: fc.constant(undefined) }, { weight: 1, arbitrary: fc.constantFrom(null, 0, 1, 7, 2 ** 60, -3, 1.5) });

  test("anything tried is answered, anything committed is refused whole or there whole", { timeout: PATIENCE * 2 }, async () => {
    let recorded = 0;
    const told = { tried: 0, problems: 0, stale: 0 };
    await fc.assert(fc.asyncProperty(
      fc.array(fc.tuple(wildChange(SMALL), day, replaces, based), { minLength: 1, maxLength: 3 }), who, why, fc.boolean(), fc.boolean(),
      async (drawn, name, reason, repeat, tryFirst) => {
        const live = await store.live(id);
        // The kitchen goes by its own id here.
        const entries = [...drawn, ...(repeat ? drawn.slice(0, 1) : [])].map(([change, validFrom, of]): DatedChange => ({ change: change.kind === "kitchen" ? homed(change, id) : change, validFrom, replaces: of }));
        const seen = basedOn(live, entries.map(({ change }) => change));
        for (const [index, [, , , revision]] of drawn.entries()) {
          const key = Object.keys(seen)[index];
          if (key !== undefined && revision !== undefined) seen[key] = revision;
        }
        const asked: Commission = { ...commission(live, entries, { ...CHEF, name }, reason), basedOn: seen };
        const before = await counts();
        const isDay = entries.every(({ validFrom }) => /^(?:19|20|21)\d\d-\d\d-\d\d$/.test(validFrom) && validFrom !== "2026-02-30");
        // Trying is asked about entries whose days are days: forms see to that before.
        const tried = tryFirst && isDay ? await store.tryEntries(id, entries) : null;
        if (tried?.ok) told.tried += 1;
        const committed = await store.commit(id, asked);
        const after = await counts();
        const now = await store.live(id);
        if (!committed.ok) {
          if (committed.reason === "problems") {
            told.problems += 1;
            expect(committed.problems.length).toBeGreaterThan(0);
            for (const { sentence } of committed.problems) expect(sentence).toMatch(/^.{10,}[.?]$/su);
          } else {
            told.stale += 1;
            expect(committed.stale.length).toBeGreaterThan(0);
          }
          expect(after).toEqual(before);
          expect(now.changeNo).toBe(live.changeNo);
          expect(contents(now.book)).toEqual(contents(live.book));
          return;
        }
        recorded += 1;
        if (tried !== null && entries.every(({ validFrom }) => validFrom <= TODAY)) expect(tried.ok && tried.value.report).toEqual(committed.report);
        expect(after["change"]).toBe((before["change"] ?? 0) + 1);
        expect(after["revision"]).toBe((before["revision"] ?? 0) + entries.length);
        expect([committed.changeNo, now.changeNo]).toEqual([live.changeNo + 1, live.changeNo + 1]);
        const entry = await store.recordEntry(id, committed.changeNo);
        expect(entry?.facts.map(({ kind, id: of, after: fact, validFrom }) => ({ kind, id: of, fact, validFrom }))).toEqual(entries.map(({ change, validFrom }) => ({ kind: change.kind, id: change.id, fact: change.after, validFrom })));
      },
    ), runs(220));
    expect(recorded).toBeGreaterThan(20);
    expect(told.problems).toBeGreaterThan(20);

    // What a process that knows nothing yet reads is what this one has had in memory all along.
    const live = await store.live(id);
    const read = await makeStore(database, clock).live(id);
    expect(contents(read.book)).toEqual(contents(live.book));
    expect(costs(read.cascade)).toEqual(costs(live.cascade));
    expect(costs(compiled(live.book))).toEqual(costs(live.cascade));
    // Any day can be looked at, the days before there was anything too.
    for (const on of [TODAY, "2026-12-01", "2027-01-04", "2199-12-31"]) costs(compiled(await store.bookAsOf(id, { on })));
    // A day gone by may have been filled in since with what no change of today could make: then the page of a figure says so.
    for (const on of ["1900-01-01", "2026-10-31", "2026-11-01", "2026-11-24"]) {
      const then = compile(await store.bookAsOf(id, { on }));
      if (then.ok) costs(then.value);
      else for (const { sentence } of then.problems) expect(sentence).toMatch(/^.{10,}[.?]$/su);
    }
    const untouched = await openSmall(store);
    expect((await store.tryEntries(untouched, from(TODAY, FACTS.slice(0, 1)))).ok).toBe(true);
  });
});

function homed(change: Change & { readonly kind: "kitchen" }, id: string): Change {
  return { ...change, id, after: change.after === null ? null : { ...change.after, id } };
}
