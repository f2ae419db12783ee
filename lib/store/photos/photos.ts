/**
 * Photos of the trim: what was cut away, seen rather than told. A photo belongs to a test, or to the sheet at the block
 * that may become one; both have the same id. The row says whose and of what, the picture is a file (files.ts). The file
 * is written first, so that a row never names a picture that is not there. A removed photo can be put back for a while;
 * then its file goes, and the row stays.
 */
import { randomBytes } from "node:crypto";
import { type Checked, bad, good } from "@/lib/measure";
import type { Photo as Row } from "@/prisma/generated/client";
import type { Clock } from "../clock";
import type { NewPhoto, Photo, Who } from "../contract";
import type { Database, Transaction } from "../database";
import { dropFile, keepFile, readFile } from "./files";
import { pictureProblem, readPicture } from "./picture";

/** The trim of one test from every side. */
export const MOST_PHOTOS = 8;
const LONGEST_CAPTION = 200;
/** So long a removed photo can be put back. */
const DAYS_TO_PUT_BACK = 30;
const DAY = 24 * 60 * 60 * 1000;

export const PHOTO_PROBLEMS = {
  "too-many": `A test has at most ${MOST_PHOTOS} photos. Remove one first.`,
  "caption-too-long": `What a photo shows is said in at most ${LONGEST_CAPTION} letters. Shorten it.`,
  gone: `A removed photo can be put back for ${DAYS_TO_PUT_BACK} days; this one is gone.`,
} as const;

const problem = (code: keyof typeof PHOTO_PROBLEMS, path = ""): ReturnType<typeof bad> => bad(path, code, PHOTO_PROBLEMS[code]);

/** What an id of ours looks like; with anything else nobody need ask the database. */
const isId = (id: string): boolean => /^photo-[\w-]{1,60}$/.test(id);

export interface PhotoShelf {
  readonly database: Database;
  readonly clock: Clock;
  readonly folder: string;
}

/** The photos of a test or sheet, oldest first; removed ones too, as long as they can be put back. */
export async function photosOf({ database, clock }: PhotoShelf, kitchenId: string, testId: string): Promise<readonly Photo[]> {
  const rows = await database.prisma.photo.findMany({ where: { kitchenId, testId, OR: [{ removedAt: null }, { removedAt: { gt: lapsed(clock) } }] }, orderBy: [{ addedAt: "asc" }, { id: "asc" }] });
  return rows.map(photoOf);
}

/** Keeps a photo. Problems: caption-too-long, too-many, and those of `readPicture`; then nothing is kept. */
export async function addPhoto({ database, clock, folder }: PhotoShelf, kitchenId: string, testId: string, who: Who, { sent, caption }: NewPhoto): Promise<Checked<Photo>> {
  const says = caption.replace(/[\p{Cc}\p{Cs}\u202A-\u202E\u2066-\u2069]/gu, " ").trim();
  if ([...says].length > LONGEST_CAPTION) return problem("caption-too-long", "caption");
  if (sent.length === 0) return pictureProblem("no-photo");
  // Asked before the work as well as with it.
  if (await countOf(database.prisma, kitchenId, testId) >= MOST_PHOTOS) return problem("too-many");
  const picture = await readPicture(sent);
  if (!picture.ok) return picture;
  const { jpeg, width, height } = picture.value;
  const id = `photo-${randomBytes(15).toString("base64url")}`;
  await keepFile(folder, kitchenId, id, jpeg);
  try {
    const row = await database.transaction(async (tx) => {
      if (!await roomFor(tx, kitchenId, testId)) return null;
      return tx.photo.create({ data: { kitchenId, id, testId, caption: says, bytes: jpeg.length, width, height, addedAt: new Date(clock.now()), addedBy: who.name, addedByPerson: who.personId ?? null } });
    });
    if (row !== null) return good(photoOf(row));
    await dropFile(folder, kitchenId, id);
    return problem("too-many");
  } catch (error) {
    await dropFile(folder, kitchenId, id);
    throw error;
  }
}

/** The JPEG; null where this kitchen has no such photo, or has removed it. */
export async function readPhoto({ database, folder }: PhotoShelf, kitchenId: string, photoId: string): Promise<Uint8Array<ArrayBuffer> | null> {
  if (!isId(photoId)) return null;
  const row = await database.prisma.photo.findUnique({ where: { kitchenId_id: { kitchenId, id: photoId } } });
  return row === null || row.removedAt !== null ? null : readFile(folder, kitchenId, row.id);
}

/** Takes a photo off its test. null: this kitchen has no such photo. Removing it twice is removing it once. */
export async function removePhoto(shelf: PhotoShelf, kitchenId: string, photoId: string, who: Who): Promise<Photo | null> {
  if (!isId(photoId)) return null;
  const { database, clock } = shelf;
  await database.prisma.photo.updateMany({ where: { kitchenId, id: photoId, removedAt: null }, data: { removedAt: new Date(clock.now()), removedBy: who.name } });
  await dropLapsed(shelf, kitchenId);
  const row = await database.prisma.photo.findUnique({ where: { kitchenId_id: { kitchenId, id: photoId } } });
  return row && photoOf(row);
}

/** Puts a removed photo back. null: this kitchen has no such photo. Problems: too-many, gone. */
export async function putBackPhoto({ database, clock }: PhotoShelf, kitchenId: string, photoId: string): Promise<Checked<Photo> | null> {
  if (!isId(photoId)) return null;
  return database.transaction(async (tx) => {
    const where = { kitchenId_id: { kitchenId, id: photoId } };
    const found = await tx.photo.findUnique({ where });
    if (found === null) return null;
    const room = await roomFor(tx, kitchenId, found.testId);
    const row = await tx.photo.findUnique({ where });
    if (row === null || row.removedAt === null) return row && good(photoOf(row));
    if (row.removedAt <= lapsed(clock)) return problem("gone");
    if (!room) return problem("too-many");
    return good(photoOf(await tx.photo.update({ where, data: { removedAt: null, removedBy: null } })));
  });
}

/** Whether the test has room for one more; until the transaction ends nobody else in the kitchen adds one. */
async function roomFor(tx: Transaction, kitchenId: string, testId: string): Promise<boolean> {
  await tx.$queryRaw`SELECT id FROM kitchen WHERE id = ${kitchenId} FOR NO KEY UPDATE`;
  return await countOf(tx, kitchenId, testId) < MOST_PHOTOS;
}

function countOf(reader: Pick<Transaction, "photo">, kitchenId: string, testId: string): Promise<number> {
  return reader.photo.count({ where: { kitchenId, testId, removedAt: null } });
}

/** What was removed before this moment is not put back any more. */
const lapsed = (clock: Clock): Date => new Date(clock.now() - DAYS_TO_PUT_BACK * DAY);

/** Takes the files of photos away that were removed so long ago. The rows stay. */
async function dropLapsed({ database, clock, folder }: PhotoShelf, kitchenId: string): Promise<void> {
  const rows = await database.prisma.photo.findMany({ where: { kitchenId, removedAt: { lte: lapsed(clock) } }, select: { id: true } });
  for (const { id } of rows) await dropFile(folder, kitchenId, id);
}

function photoOf(row: Row): Photo {
  const { id, testId, caption, width, height, addedBy, addedAt, removedAt, removedBy } = row;
  return {
    id, testId, caption, width, height, by: addedBy, at: addedAt.toISOString(),
    removed: removedAt === null ? null : { by: removedBy ?? "", at: removedAt.toISOString() },
  };
}
