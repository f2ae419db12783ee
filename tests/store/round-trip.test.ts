/** Every kind of fact comes back from the database as it went in, digit for digit and letter for letter. */
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { FACT_KINDS, type Change } from "@/lib/book";
import { type Database, openDatabase } from "@/lib/store/database";
import { readBook } from "@/lib/store/read-book";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { IDS, anyChange, anyExact } from "./any-fact";
import { recordBare } from "./bare-change";

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

let kitchens = 0;

describe("a fact that was recorded", () => {
  test("is read again as it was, of every kind", async () => {
    // One of every kind under each id, so that whatever a fact refers to is there.
    const oneOfEach = FACT_KINDS.flatMap((kind) => IDS.map((id) => anyChange(kind, id)));
    await fc.assert(
      fc.asyncProperty(fc.tuple(...oneOfEach), async (changes: Change[]) => {
        const kitchenId = `kitchen-${kitchens += 1}`;
        await recordBare(database, kitchenId, changes.map((change) => ({ change, validFrom: "2026-11-25" })));
        const book = await readBook(database.prisma, kitchenId, "2026-11-25", 1);
        for (const change of changes) expect(book.shelves[change.kind].get(change.id)).toStrictEqual(change.after);
      }),
      { numRuns: 60 },
    );
  });

  test("keeps every digit that was typed, trailing zeros and ratios too", async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(anyExact, { minLength: 50, maxLength: 100 }), async (figures) => {
        const kitchenId = `kitchen-${kitchens += 1}`;
        const week: Change = {
          kind: "sales", id: "2026-11-23", after: { id: "2026-11-23", sold: figures.map((count) => ({ dishId: "a", count })) },
        };
        const dish: Change = { kind: "dish", id: "a", after: { id: "a", name: "", section: "", lines: [], allowances: [], note: "" } };
        await recordBare(database, kitchenId, [dish, week].map((change) => ({ change, validFrom: "2026-11-25" })));
        const book = await readBook(database.prisma, kitchenId, "2026-11-25", 1);
        expect(book.shelves.sales.get("2026-11-23")?.sold.map(({ count }) => count)).toEqual(figures);
      }),
      { numRuns: 10 },
    );
  });

  test("keeps a thousand digits and an amount of zero with its places", async () => {
    const long = `0.${"123456789".repeat(10)}0`;
    const [row] = await database.prisma.$queryRaw<{ same: string }[]>`SELECT (${long}::text::numeric)::text AS same`;
    expect(row?.same).toBe(long);
  });
});

describe("the database itself", () => {
  test("refuses to update, delete or empty what was recorded", async () => {
    await recordBare(database, "kept", [{ change: { kind: "dealer", id: "d", after: { id: "d", name: "Harbour", note: "", minimumOrder: null, ordering: "" } }, validFrom: "2026-11-25" }]);
    for (const statement of [
      `UPDATE dealer SET name = 'Other' WHERE kitchen_id = 'kept'`, `DELETE FROM dealer WHERE kitchen_id = 'kept'`,
      `UPDATE revision SET valid_from = '2020-01-01' WHERE kitchen_id = 'kept'`, `DELETE FROM change WHERE kitchen_id = 'kept'`, `TRUNCATE recipe_line`,
    ]) {
      await expect(database.prisma.$executeRawUnsafe(statement), statement).rejects.toThrow(/recorded for good/);
    }
    const book = await readBook(database.prisma, "kept", "2026-11-25", 1);
    expect(book.shelves.dealer.get("d")?.name).toBe("Harbour");
  });

  test("refuses a reference to something of another kind, and a word that is none", async () => {
    const insert = (source: string) => database.prisma.$executeRaw`
      INSERT INTO recipe_line VALUES ('kept', 1, 0, 'k', ${source}, 1, 1, 'lb', NULL, '')`;
    await expect(insert("dealer:d")).rejects.toThrow(/recipe_line_source_kind/);
    await expect(insert("item:nowhere")).rejects.toThrow(/[Ff]oreign/);
    await expect(database.prisma.$executeRaw`INSERT INTO cut VALUES ('kept', 1, '', 'dealer:d', '', NULL, 'by-guess', '')`).rejects.toThrow(/cut_\w+_(word|kind)/);
  });

  test("has the kitchen in the key of every table of a kitchen, so that rows can be spread by kitchen", async () => {
    // People and their sessions belong to the installation: a person may be in several kitchens.
    const ofTheInstallation = ["kitchen", "_prisma_migrations", "installation", "person", "session", "credential", "verification", "sign_in_attempt"];
    const rows = await database.prisma.$queryRaw<{ name: string; first: string }[]>`
      SELECT t.relname AS name, a.attname AS first
      FROM pg_index i JOIN pg_class t ON t.oid = i.indrelid JOIN pg_namespace n ON n.oid = t.relnamespace
      JOIN pg_attribute a ON a.attrelid = t.oid AND a.attnum = i.indkey[0]
      WHERE i.indisprimary AND n.nspname = 'public' AND NOT t.relname = ANY(${ofTheInstallation})`;
    expect(rows.length).toBeGreaterThan(20);
    expect(rows.filter(({ first }) => first !== "kitchen_id")).toEqual([]);
  });
});
