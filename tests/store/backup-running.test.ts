/** Backups of an app that is running on its folder: the command asks it, and it goes on working meanwhile. */
import { execFile } from "node:child_process";
import fs from "node:fs";
import net from "node:net";
import path from "node:path";
import { promisify } from "node:util";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { makeStore } from "@/lib/store";
import { backUp, restore, verifyFile } from "@/lib/store/backup";
import { answerBackups, askRunningApp, socketPlace } from "@/lib/store/backup/socket";
import { type Database, openDatabase } from "@/lib/store/database";
import { type TestDatabase, emptyFolder, kind, migratedDatabase } from "../database/test-database";
import { fillSomewhat, reprice, rowsOf, shelf } from "./backup-rows";
import { standingClock } from "./test-kitchen";

const files = shelf();
const run = promisify(execFile);

describe.runIf(kind === "embedded")("an app that is running", () => {
  let place: TestDatabase & { choice: { folder: string } };
  let app: Database;
  let kitchen: string;
  let listening: Awaited<ReturnType<typeof answerBackups>>;
  beforeAll(async () => {
    place = (await migratedDatabase()) as typeof place;
    app = await openDatabase(place.choice);
    kitchen = await fillSomewhat(app);
    listening = await answerBackups(app);
  });
  afterAll(async () => {
    listening?.close();
    await app.close();
    await place.remove();
    files.remove();
  });
  const command = (name: string, ...args: string[]) => run(process.execPath, ["--import", "tsx", `prisma/${name}.ts`, ...args], { env: { ...process.env, DATA_DIR: place.choice.folder, DATABASE_URL: "" } })
    .catch((error: unknown) => error as { code: number; stdout: string; stderr: string });

  test("is asked by the command, and what it sends is its whole book", async () => {
    const file = files.file("asked.backup");
    const before = await rowsOf(app);
    const told = await command("backup", file);
    expect(told).toMatchObject({ stderr: "", stdout: expect.stringMatching(/^Backed up .+, asking the app that is running, as of .+ \d+ tables \(rows: \d+\), read back and found whole\./) });
    const where = emptyFolder();
    await restore(where.choice, file);
    const restored = await openDatabase(where.choice);
    expect(await rowsOf(restored)).toEqual(before);
    await restored.close();
    await where.remove();
  });

  test("is not restored into", async () => {
    const file = files.file("for-restore.backup");
    await backUp(place.choice, file, { over: false });
    const told = await command("restore", file);
    expect(told).toMatchObject({ code: 1, stdout: "", stderr: expect.stringMatching(/is in use by process \d+ .+\nNothing was restored\.\n$/s) });
    await reprice(makeStore(app, standingClock()), kitchen, "9.90");
  });

  test("keeps a socket that only its own user can open", () => {
    const socket = path.join(place.choice.folder, "backup.sock");
    expect(fs.statSync(socket).isSocket()).toBe(true);
    expect(fs.statSync(socket).mode & 0o777).toBe(0o600);
  });

  test("goes on when somebody who asked goes away, or reads nothing for ever", async () => {
    const socketName = socketPlace(place.choice.folder) ?? "";
    const [gone, idle] = [net.connect(socketName), net.connect(socketName)];
    await Promise.all([gone, idle].map((socket) => new Promise((resolve) => socket.once("connect", resolve))));
    idle.pause();
    gone.destroy();
    await reprice(makeStore(app, standingClock()), kitchen, "9.80");
    await backUp(place.choice, files.file("after-idle.backup"), { over: false });
    idle.destroy();
  });

  test("that stops in the middle leaves no backup behind", async () => {
    const other = (await migratedDatabase()) as typeof place;
    const second = await openDatabase(other.choice);
    await fillSomewhat(second);
    const theirs = await answerBackups(second);
    const pieces = await askRunningApp(other.choice.folder);
    const { writeFile } = await import("@/lib/store/backup/write-file");
    const half = async function* (): AsyncGenerator<Buffer> {
      for await (const piece of pieces) {
        yield piece.subarray(0, piece.length >> 1);
        return;
      }
    };
    await expect(writeFile(files.file("half.backup"), half(), { over: false })).rejects.toThrow(/What was written is not a whole backup: it ends before its last line/);
    expect(fs.existsSync(files.file("half.backup"))).toBe(false);
    // From an app that can no longer read its database.
    await second.prisma.$executeRaw`ALTER TABLE dealer RENAME TO dealer_gone`;
    await second.prisma.$executeRaw`ALTER TABLE _prisma_migrations RENAME TO gone`;
    await expect(backUp(other.choice, files.file("cannot.backup"), { over: false })).rejects.toThrow(/The app could not take the backup: The database holds none/);
    theirs?.close();
    await expect(backUp(other.choice, files.file("silent.backup"), { over: false })).rejects.toThrow(/could not be asked for a backup/);
    await second.close();
    await other.remove();
  });

  test("takes the place of a socket that a killed one left", async () => {
    const other = (await migratedDatabase()) as typeof place;
    fs.writeFileSync(path.join(other.choice.folder, "backup.sock"), "");
    const second = await openDatabase(other.choice);
    const theirs = await answerBackups(second);
    await backUp(other.choice, files.file("successor.backup"), { over: false });
    expect((await verifyFile(files.file("successor.backup"))).closing.rows).toBe(0);
    theirs?.close();
    expect(fs.existsSync(path.join(other.choice.folder, "backup.sock"))).toBe(false);
    await second.close();
    await other.remove();
  });

  test("on a folder whose name is too long for a socket runs all the same, and says that it must be stopped", async () => {
    const other = emptyFolder();
    const folder = path.join(other.choice.folder, "a".repeat(60), "b".repeat(60));
    fs.mkdirSync(folder, { recursive: true });
    expect(socketPlace(folder)).toBeNull();
    await expect(askRunningApp(folder)).rejects.toThrow(/too long .* Stop the app, take the backup, and start it again\./);
    await other.remove();
  });
});

test("a command without a file name says how it is used", async () => {
  for (const name of ["backup", "restore"]) {
    const told = await run(process.execPath, ["--import", "tsx", `prisma/${name}.ts`]).catch((error: unknown) => error as { code: number; stderr: string });
    expect(told).toMatchObject({ code: 2, stderr: expect.stringContaining(`npm run ${name} -- `) });
  }
});
