/**
 * Where photos lie: `photos/<kitchen>/<photo>.jpg` in the data folder, also where the book itself is on a server. A file is
 * there whole or not at all: it is written beside its place, synced, and renamed.
 */
import fs from "node:fs/promises";
import path from "node:path";
import { syncPath } from "../database/safe-fs";

/** The folder that DATA_DIR says, else ./data. */
export function photosFolder(env: Readonly<Record<string, string | undefined>> = process.env): string {
  return path.join(path.resolve(env.DATA_DIR?.trim() || "data"), "photos");
}

export async function keepFile(folder: string, kitchenId: string, photoId: string, jpeg: Uint8Array): Promise<void> {
  const place = placeOf(folder, kitchenId, photoId);
  const own = path.dirname(place);
  if (await fs.mkdir(own, { recursive: true }) !== undefined) for (const made of [folder, path.dirname(folder)]) syncPath(made);
  const unfinished = `${place}.new`;
  const file = await fs.open(unfinished, "wx");
  try {
    await file.writeFile(jpeg);
    await file.sync();
  } catch (error) {
    await file.close();
    await fs.rm(unfinished, { force: true });
    throw error;
  }
  await file.close();
  await fs.rename(unfinished, place);
  syncPath(own);
}

/** null where the file is not there, after a restore without the photos for one. */
export async function readFile(folder: string, kitchenId: string, photoId: string): Promise<Uint8Array<ArrayBuffer> | null> {
  try {
    return new Uint8Array(await fs.readFile(placeOf(folder, kitchenId, photoId)));
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return null;
    throw error;
  }
}

/** Every picture in the folder; none where there is no folder. What goes while it is read is left out. */
export async function* filesIn(folder: string): AsyncGenerator<{ readonly kitchenId: string; readonly photoId: string; readonly jpeg: Uint8Array }> {
  for (const kitchenId of await namesIn(folder)) {
    for (const name of await namesIn(path.join(folder, kitchenId))) {
      const photoId = /^([\w-]{1,120})\.jpg$/.exec(name)?.[1];
      const jpeg = photoId === undefined || !/^[\w-]{1,120}$/.test(kitchenId) ? null : await readFile(folder, kitchenId, photoId);
      if (photoId !== undefined && jpeg !== null) yield { kitchenId, photoId, jpeg };
    }
  }
}

async function namesIn(folder: string): Promise<readonly string[]> {
  try {
    return (await fs.readdir(folder)).sort();
  } catch (error) {
    if (error instanceof Error && "code" in error && (error.code === "ENOENT" || error.code === "ENOTDIR")) return [];
    throw error;
  }
}

export async function dropFile(folder: string, kitchenId: string, photoId: string): Promise<void> {
  await fs.rm(placeOf(folder, kitchenId, photoId), { force: true });
}

function placeOf(folder: string, kitchenId: string, photoId: string): string {
  for (const id of [kitchenId, photoId]) if (!/^[\w-]{1,120}$/.test(id)) throw new Error(`expected an id of ours, not ${JSON.stringify(id)}`);
  return path.join(folder, kitchenId, `${photoId}.jpg`);
}
