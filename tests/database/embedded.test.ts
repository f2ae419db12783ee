/** The embedded database keeps what it acknowledged: it syncs, is opened once, is created whole, and dies loudly. */
import { execFileSync, spawn } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { DatabaseGone, openDatabase } from "@/lib/store/database";
import type { Database } from "@/lib/store/database";
import { openEmbedded } from "@/lib/store/database/embedded";
import { embeddedAdapter } from "@/lib/store/database/embedded-adapter";
import { emptyFolder, kind } from "./test-database";
import type { TestDatabase } from "./test-database";

describe.runIf(kind === "embedded")("the embedded database", () => {
  let place: TestDatabase & { choice: { folder: string } };
  let opened: Database[] = [];
  beforeEach(() => {
    place = emptyFolder();
    opened = [];
  });
  afterEach(async () => {
    for (const database of opened) await database.close();
    await place.remove();
  });

  async function open(): Promise<Database> {
    const database = await openDatabase(place.choice, { onFatal: () => undefined });
    opened.push(database);
    return database;
  }

  test("runs with fsync on, by a method that reaches the disk, in UTC", async () => {
    const database = await open();
    expect(await database.prisma.$queryRaw`SHOW fsync`).toEqual([{ fsync: "on" }]);
    expect(await database.prisma.$queryRaw`SHOW wal_sync_method`).toEqual([{ wal_sync_method: "fsync" }]);
    expect(await database.prisma.$queryRaw`SHOW timezone`).toEqual([{ TimeZone: "UTC" }]);
  });

  test("syncs for every commit, and not for a read", async () => {
    const database = await open();
    await database.transaction(async (tx) => {
      await tx.$executeRaw`CREATE TABLE scale_reading (ounces NUMERIC NOT NULL)`;
    });
    const before = database.syncs() ?? 0;
    for (let n = 1; n <= 20; n += 1) {
      await database.transaction(async (tx) => {
        await tx.$executeRaw`INSERT INTO scale_reading VALUES (${n})`;
      });
    }
    const after = database.syncs() ?? 0;
    expect(after - before).toBeGreaterThanOrEqual(20);
    await database.prisma.$queryRaw`SELECT count(*) FROM scale_reading`;
    expect(database.syncs()).toBe(after);
  });

  test.runIf(hasStrace())("asks the kernel for those syncs", () => {
    const code = `
      import { openDatabase } from ${JSON.stringify(path.resolve("lib/store/database/index.ts"))};
      const database = await openDatabase({ folder: ${JSON.stringify(place.choice.folder)} });
      await database.prisma.$executeRawUnsafe("CREATE TABLE scale_reading (ounces NUMERIC NOT NULL)");
      for (let n = 0; n < 30; n += 1) await database.prisma.$executeRawUnsafe("INSERT INTO scale_reading VALUES (1)");
      console.log(database.syncs());
      await database.close();
    `;
    const trace = path.join(place.choice.folder, "trace.txt");
    const said = execFileSync("strace", ["-f", "-qq", "-e", "trace=fsync", "-o", trace, process.execPath, "--import", "tsx", "--input-type=module", "-e", code], { encoding: "utf8" });
    const calls = fs.readFileSync(trace, "utf8").split("\n").filter((line) => /fsync\(\d+\)\s+= 0|fsync resumed.*= 0/.test(line)).length;
    expect(calls).toBeGreaterThanOrEqual(Number(said.trim()));
    expect(Number(said.trim())).toBeGreaterThanOrEqual(30);
  });

  test("is opened by one process at a time", async () => {
    await open();
    await expect(openDatabase(place.choice)).rejects.toThrow(/already open in this process/);
  });

  test("finds again what it was told, after closing and after being killed", async () => {
    const first = await open();
    await first.prisma.$executeRaw`CREATE TABLE scale_reading (ounces NUMERIC NOT NULL)`;
    await first.prisma.$executeRaw`INSERT INTO scale_reading VALUES (18.375)`;
    await first.close();
    opened = [];

    const written = await writeUntilKilled(place.choice.folder, 150);
    const second = await open();
    const [row] = await second.prisma.$queryRaw<{ n: bigint; last: { toString(): string } }[]>`SELECT count(*) AS n, max(ounces) AS last FROM scale_reading`;
    expect(Number(row?.n)).toBeGreaterThanOrEqual(1 + written);
  });

  test("is created whole: what an interrupted first start left is thrown away", async () => {
    const unfinished = path.join(place.choice.folder, "postgres.new");
    fs.mkdirSync(unfinished);
    fs.writeFileSync(path.join(unfinished, "PG_VERSION"), "17\n");
    await open();
    expect(fs.readdirSync(place.choice.folder).sort()).toEqual(["postgres", "postgres.lock"]);
  });

  test("does not build over a folder that holds something else", async () => {
    fs.mkdirSync(path.join(place.choice.folder, "postgres"));
    fs.writeFileSync(path.join(place.choice.folder, "postgres", "recipes.txt"), "stock");
    await expect(openDatabase(place.choice)).rejects.toThrow(/holds something that is not a database/);
    expect(fs.readdirSync(place.choice.folder)).toEqual(["postgres"]);
  });

  test("a COMMIT that fails is a failure", async () => {
    const embedded = await openEmbedded(place.choice.folder, { onFatal: () => undefined });
    const adapter = await embedded.adapter.connect();
    await adapter.executeScript("CREATE TABLE part (id INT PRIMARY KEY); CREATE TABLE piece (part INT REFERENCES part DEFERRABLE INITIALLY DEFERRED)");
    const tx = await adapter.startTransaction();
    await tx.executeRaw({ sql: "INSERT INTO piece VALUES (7)", args: [], argTypes: [] });
    await expect(tx.commit()).rejects.toThrow(/foreign key/);
    await expect(adapter.executeScript("SELECT 1; SELECT nonsense")).rejects.toThrow(/nonsense/);
    await embedded.close();
  });

  test("an instance that died is reported, and takes no more changes", async () => {
    const dead = { query: () => Promise.reject(new WebAssembly.RuntimeError("Aborted(). Build with -sASSERTIONS for more info.")) };
    const seen: Error[] = [];
    const adapter = await embeddedAdapter(dead as never, { onFatal: (error) => seen.push(error) }).connect();
    await expect(adapter.queryRaw({ sql: "SELECT 1", args: [], argTypes: [] })).rejects.toThrow("Aborted");
    expect(seen).toHaveLength(1);
    expect(new DatabaseGone(seen[0] as Error).message).toMatch(/Nothing that was saved is lost/);
  });
});

function hasStrace(): boolean {
  try {
    execFileSync("strace", ["-V"], { stdio: "ignore" });
    return true;
  } catch {
    return false;
  }
}

/** Writes readings one by one in another process, kills it outright in the middle, and says how many it had acknowledged. */
function writeUntilKilled(folder: string, acknowledged: number): Promise<number> {
  const code = `
    import { openDatabase } from ${JSON.stringify(path.resolve("lib/store/database/index.ts"))};
    const database = await openDatabase({ folder: ${JSON.stringify(folder)} });
    for (let n = 1; ; n += 1) {
      await database.prisma.$executeRawUnsafe("INSERT INTO scale_reading VALUES (" + n + ")");
      console.log(n);
    }
  `;
  return new Promise((resolve) => {
    const child = spawn(process.execPath, ["--import", "tsx", "--input-type=module", "-e", code], { stdio: ["ignore", "pipe", "inherit"] });
    let said = "";
    child.stdout.on("data", (piece: Buffer) => {
      said += piece.toString();
      if (said.split("\n").length > acknowledged) child.kill("SIGKILL");
    });
    child.once("close", () => { resolve(said.split("\n").length - 1); });
  });
}
