/** A backup that was torn, altered, is another file or from another version is refused whole, with a sentence. */
import fs from "node:fs";
import { gunzipSync, gzipSync } from "node:zlib";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { BackupRefused, backUp, restore, verifyFile } from "@/lib/store/backup";
import { openDatabase } from "@/lib/store/database";
import { type TestDatabase, emptyDatabase, migratedDatabase } from "../database/test-database";
import { fillSomewhat, shelf } from "./backup-rows";

const files = shelf();
let place: TestDatabase;
let good: Buffer;
let sum: string;
beforeAll(async () => {
  place = await migratedDatabase();
  const database = await openDatabase(place.choice);
  await fillSomewhat(database);
  await database.close();
  const { closing } = await backUp(place.choice, files.file("good.backup"), { over: false });
  sum = closing.sha256;
  good = fs.readFileSync(files.file("good.backup"));
});
afterAll(async () => {
  await place.remove();
  files.remove();
});

/** What is said of a file with these contents; "whole" when nothing is wrong with it. */
async function judged(contents: Buffer): Promise<string> {
  const file = files.file("judged.backup");
  fs.writeFileSync(file, contents);
  try {
    const { closing } = await verifyFile(file);
    return closing.sha256 === sum ? "whole" : "altered, and taken";
  } catch (error) {
    if (!(error instanceof BackupRefused)) throw error;
    return error.message;
  }
}

const packed = (alter: (lines: string[]) => string[]): Buffer => gzipSync(alter(gunzipSync(good).toString("utf8").split("\n")).join("\n"));

describe("a backup file", () => {
  test("is whole as it was written", async () => {
    expect(await judged(good)).toBe("whole");
  });

  test("cut short anywhere is refused", async () => {
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 1, max: good.length - 1 }), async (length) => {
        expect(await judged(good.subarray(0, length))).toMatch(/is damaged: it ends before its last line/);
      }),
      { numRuns: 150, examples: [[1], [2], [10], [11], [good.length - 1], [good.length - 4], [good.length - 8], [good.length - 9]] },
    );
    expect(await judged(Buffer.alloc(0))).toMatch(/is empty/);
  });

  test("cut short after any line and packed again is refused", async () => {
    const lines = gunzipSync(good).toString("utf8").split("\n").length - 1;
    for (let kept = 1; kept < lines; kept += Math.ceil(lines / 60)) {
      expect(await judged(packed((all) => [...all.slice(0, kept), ""]))).toMatch(/is damaged: it ends before its last line/);
    }
  });

  test("with any bit flipped is refused, or holds the same all the same", async () => {
    const text = gunzipSync(good);
    await fc.assert(
      fc.asyncProperty(fc.nat(good.length - 1), fc.nat(7), async (at, bit) => {
        const flipped = Buffer.from(good);
        flipped[at] = (flipped[at] ?? 0) ^ (1 << bit);
        const said = await judged(flipped);
        // A few bits mean nothing: a time and a system's name in the first ten bytes, what fills the last byte up.
        if (said === "whole") expect(gunzipSync(flipped).equals(text)).toBe(true);
        else expect(said).not.toBe("altered, and taken");
      }),
      { numRuns: 250 },
    );
  });

  test.each<[string, (lines: string[]) => string[], RegExp]>([
    ["with one digit of one row changed", (lines) => lines.map((line) => line.replace('"4.3000"', '"4.3001"')), /do not agree with the sum at its end/],
    ["with a row taken out", (lines) => lines.filter((_, index) => index !== firstRow(lines)), /rows in \d+ tables and should hold/],
    ["with two rows exchanged", (lines) => exchanged(lines), /do not agree with the sum/],
    ["with a row written twice", (lines) => afterFirstRow(lines, lines[firstRow(lines)] ?? ""), /should hold/],
    ["with a row of another width", (lines) => afterFirstRow(lines, '["x"]'), /does not have the columns of its table/],
    ["with a number in a row", (lines) => afterFirstRow(lines, '["x", 1]'), /line that is none of a backup's/],
    ["with something after its end", (lines) => [...lines.slice(0, -1), "[]", ""], /something follows its last line/],
    ["with half a last line", (lines) => [...lines.slice(0, -2), lines.at(-2)?.slice(0, 20) ?? ""], /ends before its last line/],
    ["with a line of something else", (lines) => afterFirstRow(lines, "hello"), /line that is none of a backup's/],
    ["of a format to come", (lines) => [lines[0]?.replace('"version":2', '"version":3') ?? "", ...lines.slice(1)], /is in format 3, and this version of Trimledger reads formats up to 2\. Update/],
    ["with a first line that lacks what it should say", (lines) => [lines[0]?.replace('"migrations"', '"migrated"') ?? "", ...lines.slice(1)], /first line does not say/],
    ["of another kind, packed", () => ["name,price", "butter,4.20", ""], /is not a Trimledger backup/],
    ["of another kind, of one line", () => ["x".repeat(1000)], /is not a Trimledger backup/],
  ])("%s is refused", async (_, alter, sentence) => {
    expect(await judged(packed(alter))).toMatch(sentence);
  });

  test("that is no such file is refused", async () => {
    expect(await judged(Buffer.from("name,price\nbutter,4.20\n"))).toMatch(/is not a Trimledger backup\. A backup is what/);
    expect(await judged(Buffer.from(fs.readFileSync("docs/dishes.png")))).toMatch(/is not a Trimledger backup/);
    await expect(verifyFile(files.file("nowhere"))).rejects.toThrow(/There is no file/);
    await expect(verifyFile(files.file("."))).rejects.toThrow(/is a folder, and should be a backup file/);
  });

  test("that is refused leaves the installation untouched", async () => {
    const where = await emptyDatabase();
    const file = files.file("torn.backup");
    for (const contents of [good.subarray(0, good.length >> 1), packed((lines) => [lines[0]?.replace(/"name":"\d+/, '"name":"29990101000000') ?? "", ...lines.slice(1)])]) {
      fs.writeFileSync(file, contents);
      await expect(restore(where.choice, file)).rejects.toThrow(BackupRefused);
    }
    if ("folder" in where.choice) expect(fs.readdirSync(where.choice.folder)).toEqual([]);
    await where.remove();
  });
});

const firstRow = (lines: readonly string[]): number => lines.findIndex((line) => line.startsWith("["));
const afterFirstRow = (lines: readonly string[], line: string): string[] => lines.toSpliced(firstRow(lines) + 1, 0, line);

function exchanged(lines: readonly string[]): string[] {
  const at = lines.findIndex((line, index) => line.startsWith("[") && lines[index + 1]?.startsWith("[") === true);
  return [...lines.slice(0, at), lines[at + 1] ?? "", lines[at] ?? "", ...lines.slice(at + 2)];
}
