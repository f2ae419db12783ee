/**
 * `npm run backup`: one file with everything that was recorded up to one moment. The database is read where the app
 * would have it: on its server, in its folder, or, while the app runs on that folder, by the app.
 */
import os from "node:os";
import path from "node:path";
import { type DatabaseChoice, FolderInUse } from "../database";
import { photosFolder } from "../photos/files";
import { thisVersion } from "./about";
import type { Verified } from "./read-file";
import { askRunningApp } from "./socket";
import { type OpenSource, openSource } from "./sources";
import { takeBackup } from "./take";
import { judgeTarget, writeFile } from "./write-file";

export interface BackedUp extends Verified {
  /** The data folder, or host, port and database. */
  readonly where: string;
  /** Whether a running app was asked for it. */
  readonly asked: boolean;
}

/** Throws BackupRefused, or the refusal of the database, with a sentence; then no file was written. */
export async function backUp(choice: DatabaseChoice, target: string, { over }: { readonly over: boolean }): Promise<BackedUp> {
  judgeTarget(target, over);
  const opened = await openOrNull(choice);
  if (opened === null) {
    const { folder } = choice as { folder: string };
    return { ...(await writeFile(target, await askRunningApp(folder), { over })), where: folder, asked: true };
  }
  try {
    const pieces = takeBackup(opened.source, { app: thisVersion(), at: new Date().toISOString() }, photosBeside(choice));
    return { ...(await writeFile(target, pieces, { over })), where: opened.where, asked: false };
  } finally {
    await opened.close();
  }
}

/** Where the photos of an installation lie: in its data folder, also where its database is on a server. */
export function photosBeside(choice: DatabaseChoice): string {
  return "folder" in choice ? path.join(choice.folder, "photos") : photosFolder();
}

/** The database, or null when a process on this machine, presumably the app, has its folder. */
async function openOrNull(choice: DatabaseChoice): Promise<OpenSource | null> {
  try {
    return await openSource(choice);
  } catch (error) {
    if (error instanceof FolderInUse && error.owner?.host === os.hostname()) return null;
    throw error;
  }
}
