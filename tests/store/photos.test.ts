/** Photos of the trim on their shelf: kept whole, of one kitchen alone, removed and put back, never rewritten. */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import sharp from "sharp";
import { afterAll, beforeAll, expect, test } from "vitest";
import { MOST_PHOTOS, type Photo, type Store, makeStore } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { CHEF, SOUS, kitchen, standingClock } from "./test-kitchen";

let place: TestDatabase;
let database: Database;
let store: Store;
let folder: string;
let picture: Buffer;
let ours: string;
let theirs: string;
const clock = standingClock();

beforeAll(async () => {
  place = await migratedDatabase();
  database = await openDatabase(place.choice);
  folder = path.join(fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-photos-")), "photos");
  store = makeStore(database, clock, folder);
  picture = await sharp({ create: { width: 60, height: 40, channels: 3, background: "#aa6655" } }).jpeg().toBuffer();
  ours = await store.createKitchen(kitchen, CHEF);
  theirs = await store.createKitchen({ ...kitchen, name: "Another kitchen" }, CHEF);
});
afterAll(async () => {
  await database.close();
  await place.remove();
  fs.rmSync(path.dirname(folder), { recursive: true, force: true });
});

async function keep(testId: string, caption = "Chain and silver skin"): Promise<Photo> {
  const kept = await store.addPhoto(ours, testId, CHEF, { sent: picture, caption });
  if (!kept.ok) throw new Error(kept.problems[0]?.sentence);
  return kept.value;
}
const filesOf = (kitchenId: string): readonly string[] => (fs.existsSync(path.join(folder, kitchenId)) ? fs.readdirSync(path.join(folder, kitchenId)) : []);

test("a photo is a row and a file of its kitchen, read back as it was kept", async () => {
  const photo = await keep("test-one");
  expect(photo).toMatchObject({ testId: "test-one", caption: "Chain and silver skin", width: 60, height: 40, by: "Chef", removed: null });
  expect(filesOf(ours)).toEqual([`${photo.id}.jpg`]);
  const jpeg = await store.readPhoto(ours, photo.id);
  expect(jpeg && (await sharp(jpeg).metadata()).format).toBe("jpeg");
  expect(await store.photosOf(ours, "test-one")).toEqual([photo]);
  expect(await store.photosOf(ours, "test-two")).toEqual([]);
});

test("to another kitchen it is not there", async () => {
  const photo = await keep("test-theirs");
  expect(await store.readPhoto(theirs, photo.id)).toBeNull();
  expect(await store.photosOf(theirs, "test-theirs")).toEqual([]);
  expect(await store.removePhoto(theirs, photo.id, SOUS)).toBeNull();
  expect(await store.putBackPhoto(theirs, photo.id)).toBeNull();
  expect(await store.readPhoto(ours, photo.id)).not.toBeNull();
});

test("what no id of ours looks like is not there", async () => {
  for (const id of ["", "../../postgres/PG_VERSION", "photo-\0", `photo-${"x".repeat(500)}`]) {
    expect(await store.readPhoto(ours, id)).toBeNull();
    expect(await store.removePhoto(ours, id, CHEF)).toBeNull();
  }
});

test("what is no photo leaves neither a row nor a file", async () => {
  const before = filesOf(ours);
  const refused = await store.addPhoto(ours, "test-none", CHEF, { sent: Buffer.from("<svg/>"), caption: "" });
  expect(refused.ok ? "" : refused.problems[0]?.code).toBe("not-a-picture");
  const long = await store.addPhoto(ours, "test-none", CHEF, { sent: picture, caption: "x".repeat(201) });
  expect(long.ok ? "" : long.problems[0]?.code).toBe("caption-too-long");
  expect(await store.photosOf(ours, "test-none")).toEqual([]);
  expect(filesOf(ours)).toEqual(before);
});

test("at most eight of a test, also when they come at once; the others leave no file", async () => {
  const before = filesOf(ours).length;
  const answers = await Promise.all(Array.from({ length: MOST_PHOTOS + 3 }, () => store.addPhoto(ours, "test-many", CHEF, { sent: picture, caption: "" })));
  expect(answers.filter(({ ok }) => ok)).toHaveLength(MOST_PHOTOS);
  for (const answer of answers) if (!answer.ok) expect(answer.problems[0]?.code).toBe("too-many");
  expect(filesOf(ours)).toHaveLength(before + MOST_PHOTOS);
  expect(filesOf(ours).every((name) => name.endsWith(".jpg"))).toBe(true);
});

test("removed it is not shown, put back it is; after thirty days it is gone for good", async () => {
  const photo = await keep("test-back");
  expect((await store.removePhoto(ours, photo.id, SOUS))?.removed?.by).toBe("Sous chef");
  expect(await store.readPhoto(ours, photo.id)).toBeNull();
  expect(await store.photosOf(ours, "test-back")).toMatchObject([{ id: photo.id, removed: { by: "Sous chef" } }]);
  const back = await store.putBackPhoto(ours, photo.id);
  expect(back).toEqual({ ok: true, value: photo });
  expect(await store.readPhoto(ours, photo.id)).not.toBeNull();

  await store.removePhoto(ours, photo.id, SOUS);
  clock.set("2026-12-26T17:00:00Z");
  expect(await store.photosOf(ours, "test-back")).toEqual([]);
  const late = await store.putBackPhoto(ours, photo.id);
  expect(late?.ok === false && late.problems[0]?.code).toBe("gone");
  const other = await keep("test-other");
  await store.removePhoto(ours, other.id, CHEF);
  expect(filesOf(ours)).not.toContain(`${photo.id}.jpg`);
  expect(filesOf(ours)).toContain(`${other.id}.jpg`);
});

test("a removed photo does not come back where its place is taken", async () => {
  const first = await keep("test-full");
  await store.removePhoto(ours, first.id, CHEF);
  for (let count = 0; count < MOST_PHOTOS; count += 1) await keep("test-full");
  const back = await store.putBackPhoto(ours, first.id);
  expect(back?.ok === false && back.problems[0]?.code).toBe("too-many");
});

test("the database itself lets a photo come and go, and nothing else", async () => {
  const photo = await keep("test-rewritten");
  const where = { kitchenId_id: { kitchenId: ours, id: photo.id } };
  await expect(database.prisma.photo.update({ where, data: { caption: "Something else" } })).rejects.toThrow();
  await expect(database.prisma.photo.update({ where, data: { removedAt: new Date() } })).rejects.toThrow();
  await expect(database.prisma.photo.delete({ where })).rejects.toThrow();
  expect(await store.photosOf(ours, "test-rewritten")).toEqual([photo]);
});
