/** A backup restored is the installation again, digit for digit, on either database, and of one moment. */
import fs from "node:fs";
import path from "node:path";
import { setImmediate } from "node:timers/promises";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { makeStore } from "@/lib/store";
import { backUp, restore } from "@/lib/store/backup";
import { type Source, liveSource, openSource } from "@/lib/store/backup/sources";
import { photosBeside } from "@/lib/store/backup/backup";
import { takeBackup } from "@/lib/store/backup/take";
import { writeFile } from "@/lib/store/backup/write-file";
import { keepFile, readFile } from "@/lib/store/photos/files";
import { type Database, openDatabase } from "@/lib/store/database";
import { type TestDatabase, emptyDatabase, kind, migratedDatabase } from "../database/test-database";
import { costsOf, fillSomewhat, reprice, rowsOf, shelf } from "./backup-rows";
import { standingClock } from "./test-kitchen";

const files = shelf();
let place: TestDatabase;
let kitchen: string;
let rows: Record<string, readonly string[]>;
let costs: unknown;
const backup = files.file("evening.backup");
const NO_PHOTOS = files.file("no-photos");
const cleanUp: (() => Promise<void>)[] = [];

beforeAll(async () => {
  place = await migratedDatabase();
  const database = await openDatabase(place.choice);
  kitchen = await fillSomewhat(database);
  rows = await rowsOf(database);
  costs = await costsOf(makeStore(database, standingClock()), kitchen);
  await database.close();
  await backUp(place.choice, backup, { over: false });
});
afterAll(async () => {
  for (const clean of cleanUp.reverse()) await clean();
  await place.remove();
  files.remove();
});

async function opened(where: TestDatabase): Promise<Database> {
  const database = await openDatabase(where.choice);
  cleanUp.push(async () => {
    await database.close();
    await where.remove();
  });
  return database;
}

async function expectTheSame(database: Database): Promise<void> {
  expect(await rowsOf(database)).toEqual(rows);
  expect(await costsOf(makeStore(database, standingClock()), kitchen)).toStrictEqual(costs);
}

describe("a backup", () => {
  test("restored into an installation that was never started is the same to the digit", async () => {
    const where = await emptyDatabase();
    const restored = await restore(where.choice, backup);
    expect(restored.header).toMatchObject({ from: kind, app: expect.stringMatching(/^\d/) });
    expect(restored.closing.rows).toBe(Object.values(rows).reduce((sum, { length }) => sum + length, 0));
    const database = await opened(where);
    expect(database.migrated).toEqual([]);
    await expectTheSame(database);
    // Everything but who was signed in at the time.
    expect(await database.prisma.$queryRaw`SELECT (SELECT count(*)::int FROM person) AS people, (SELECT count(*)::int FROM session) AS sessions`).toEqual([{ people: 1, sessions: 0 }]);
  });

  test("restored into one that was started and left empty is the same too, and is then written to as ever", async () => {
    const where = await migratedDatabase();
    const started = await openDatabase(where.choice);
    await started.prisma.$executeRaw`INSERT INTO installation (id, secret, created_at) VALUES (1, 'drawn at the first start', now())`;
    await started.close();
    await restore(where.choice, backup);
    const database = await opened(where);
    await expectTheSame(database);
    await reprice(makeStore(database, standingClock()), kitchen, "6.10");
    await expect(database.prisma.$executeRaw`DELETE FROM revision`).rejects.toThrow(/recorded for good/);
    const [left] = await database.prisma.$queryRaw<{ n: number }[]>`
      SELECT count(*)::int AS n FROM pg_constraint WHERE contype = 'f' AND (condeferrable OR NOT convalidated)`;
    expect(left?.n).toBe(0);
  });

  test.each(kind === "server" ? (["embedded"] as const) : [])("moves to the %s database and back", async (other) => {
    const away = await emptyDatabase(other);
    await restore(away.choice, backup);
    const there = await opened(away);
    await expectTheSame(there);
    const second = files.file("moved.backup");
    await writeFile(second, takeBackup(liveSource(there), { app: "0.1.0", at: "2026-11-25T20:00:00.000Z" }, NO_PHOTOS), { over: false });
    const home = await emptyDatabase();
    await restore(home.choice, second);
    await expectTheSame(await opened(home));
  });

  test("brings the photos of the trim along, byte for byte, and takes them back where it fails", async () => {
    const from = files.file("photos-here");
    const jpeg = new Uint8Array(70_000).map((_, index) => (index * 7) % 256);
    await keepFile(from, kitchen, "photo-one", jpeg);
    await keepFile(from, "edge-0", "photo-two", jpeg.slice(0, 10));
    fs.writeFileSync(path.join(from, kitchen, "photo-three.jpg.new"), "half a picture");
    const file = files.file("pictures.backup");
    const source = await openSource(place.choice);
    const { closing } = await writeFile(file, takeBackup(source.source, { app: "0.1.0", at: "2026-11-25T20:00:00.000Z" }, from), { over: false });
    await source.close();
    expect(closing.photos).toBe(2);
    // Not empty: nothing is restored, and no picture stays behind.
    const home = photosBeside(place.choice);
    const there = fs.existsSync(home);
    await expect(restore(place.choice, file)).rejects.toThrow(/not empty/);
    expect(fs.existsSync(home)).toBe(there);
    if (!("folder" in place.choice)) return;
    const where = await emptyDatabase();
    await restore(where.choice, file);
    const to = photosBeside(where.choice);
    expect(await readFile(to, kitchen, "photo-one")).toEqual(jpeg);
    expect(fs.readdirSync(to).sort()).toEqual([kitchen, "edge-0"].sort());
    await where.remove();
  });

  test("is not restored over anything recorded, and nothing of it is lost", async () => {
    const before = await openDatabase(place.choice);
    await before.close();
    await expect(restore(place.choice, backup)).rejects.toThrow(/not empty \(there are rows in .+\), and a backup is restored into an empty installation only\./);
    const database = await openDatabase(place.choice);
    expect(await rowsOf(database)).toEqual(rows);
    await database.close();
  });

  test("that is restored only in part leaves nothing", async () => {
    // A row that its table's checks refuse, in an otherwise good backup: it comes to light in the middle of restoring.
    const wrong = files.file("wrong.backup");
    const source = await openSource(place.choice);
    await writeFile(wrong, withSum(takeBackup(source.source, { app: "0.1.0", at: "2026-11-25T20:00:00.000Z" }, NO_PHOTOS), (text) => text.replace('"butcher"', '"butchered"')), { over: false });
    await source.close();
    const where = await migratedDatabase();
    await expect(restore(where.choice, wrong)).rejects.toThrow(/yield_test_test_kind_word/);
    const database = await opened(where);
    expect(Object.values(await rowsOf(database)).flat()).toEqual([]);
    if ("folder" in where.choice) expect(fs.readdirSync(where.choice.folder).sort()).toEqual(["postgres", "postgres.lock"]);
  });
});

describe("a backup file", () => {
  test("can be read by its owner alone and leaves nothing unfinished beside it", () => {
    if (process.platform !== "win32") expect(fs.statSync(backup).mode & 0o777).toBe(0o600);
    expect(fs.readdirSync(path.dirname(backup)).filter((name) => name.includes("part"))).toEqual([]);
  });

  test("that is there already stays, unless told otherwise", async () => {
    const other = files.file("kept.backup");
    fs.writeFileSync(other, "kept");
    await expect(backUp(place.choice, other, { over: false })).rejects.toThrow(/left as it is\. Choose another name, or add --over/);
    expect(fs.readFileSync(other, "utf8")).toBe("kept");
    await backUp(place.choice, other, { over: true });
    expect(fs.statSync(other).size).toBeGreaterThan(1000);
  });

  test("is refused a place that is none", async () => {
    await expect(backUp(place.choice, files.file("no/such/folder/a"), { over: false })).rejects.toThrow(/no folder .*Make it first/);
    await expect(backUp(place.choice, path.dirname(backup), { over: true })).rejects.toThrow(/is a folder\. Give the backup a file name/);
  });

  test("is not made of an installation that is not there", async () => {
    const where = await emptyDatabase();
    await expect(backUp(where.choice, files.file("none"), { over: false })).rejects.toThrow(/nothing to back up/);
    expect(fs.existsSync(files.file("none"))).toBe(false);
    await where.remove();
  });

  test("keeps its earlier contents when the backup that should replace it breaks off", async () => {
    const good = files.file("nightly.backup");
    fs.copyFileSync(backup, good);
    const source = await openSource(place.choice);
    const broken = async function* (): AsyncGenerator<string> {
      for await (const piece of takeBackup(source.source, { app: "0.1.0", at: "2026-11-25T20:00:00.000Z" }, NO_PHOTOS)) {
        if (piece.startsWith('{"table":"revision"')) throw new Error("the disk is full");
        yield piece;
      }
    };
    await expect(writeFile(good, broken(), { over: true })).rejects.toThrow("the disk is full");
    await source.close();
    expect(fs.readFileSync(good).equals(fs.readFileSync(backup))).toBe(true);
    expect(fs.readdirSync(path.dirname(good)).filter((name) => name.includes("part"))).toEqual([]);
  });
});

describe("while people go on recording", () => {
  let busy: TestDatabase;
  let database: Database;
  let theirs: string;
  const clock = standingClock();
  beforeAll(async () => {
    busy = await migratedDatabase();
    database = await openDatabase(busy.choice);
    theirs = await fillSomewhat(database);
  });
  afterAll(async () => {
    await database.close();
    await busy.remove();
  });

  /** As the app would have its own database read; a server's is read over a connection of its own. */
  async function withSource<T>(work: (source: Source) => Promise<T>): Promise<T> {
    if (kind === "embedded") return work(liveSource(database));
    const other = await openSource(busy.choice);
    return work(other.source).finally(() => other.close());
  }

  test("a backup holds what stood at its moment, whatever is recorded between any two pieces of it", async () => {
    const store = makeStore(database, clock);
    const before = await rowsOf(database);
    const file = files.file("between.backup");
    let recorded = 0;
    await withSource((source) => writeFile(file, (async function* () {
      for await (const piece of takeBackup(source, { app: "0.1.0", at: "2026-11-25T20:00:00.000Z" }, NO_PHOTOS)) {
        yield piece;
        await reprice(store, theirs, `7.${recorded += 1}`);
      }
    })(), { over: false }));
    expect(recorded).toBeGreaterThan(Object.keys(before).length);
    const where = await emptyDatabase();
    await restore(where.choice, file);
    expect(await rowsOf(await opened(where))).toEqual(before);
  });

  test("backups hold whole changes only", async () => {
    const store = makeStore(database, clock);
    let going = true;
    const people = (async () => {
      for (let n = 1; going; n += 1) {
        await reprice(store, theirs, `8.${n}`);
        await setImmediate(); // each comes as a request of its own
      }
    })();
    const taken: string[] = [];
    for (let n = 0; n < 3; n += 1) {
      const file = files.file(`busy-${n}.backup`);
      await withSource((source) => writeFile(file, takeBackup(source, { app: "0.1.0", at: "2026-11-25T20:00:00.000Z" }, NO_PHOTOS), { over: false }));
      taken.push(file);
    }
    going = false;
    await people;
    for (const file of taken.slice(-1)) {
      const where = await emptyDatabase();
      await restore(where.choice, file);
      const restored = await opened(where);
      const [counts] = await restored.prisma.$queryRaw<{ no: number; changes: number; last: bigint; revisions: bigint; short: number }[]>`
        SELECT change_no AS no, revision_no AS last,
          (SELECT count(*)::int FROM change WHERE kitchen_id = ${theirs}) AS changes,
          (SELECT count(*) FROM revision WHERE kitchen_id = ${theirs}) AS revisions,
          (SELECT count(*)::int FROM (SELECT FROM revision WHERE kitchen_id = ${theirs} AND change_no > 1 GROUP BY change_no HAVING count(*) <> 2) s) AS short
        FROM kitchen WHERE id = ${theirs}`;
      expect(counts).toMatchObject({ changes: counts?.no, revisions: counts?.last, short: 0 });
      const there = await makeStore(restored, clock).bookAsOf(theirs, { on: "2026-11-25" });
      expect(there).toStrictEqual(await store.bookAsOf(theirs, { on: "2026-11-25", afterChange: counts?.no }));
    }
  });
});

/** The backup with its text altered and its sum made good again, as a careful forger would. */
async function* withSum(pieces: AsyncIterable<string>, alter: (text: string) => string): AsyncGenerator<string> {
  const { createHash } = await import("node:crypto");
  const sum = createHash("sha256");
  for await (const piece of pieces) {
    if (piece.startsWith('{"tables":')) {
      yield `${JSON.stringify({ ...(JSON.parse(piece) as object), sha256: sum.digest("hex") })}\n`;
      return;
    }
    const text = alter(piece);
    sum.update(text);
    yield text;
  }
}
