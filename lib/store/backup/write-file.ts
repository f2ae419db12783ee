/**
 * Writing a backup file so that at its name there is either a whole backup or what was there before: into a file of
 * another name beside it, synced, read back and judged to its last line, and only then given its name. It can be read
 * by its owner alone, since the sign-in tables hold the hashes of passwords.
 */
import { randomBytes } from "node:crypto";
import fs from "node:fs";
import path from "node:path";
import { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import { createGzip } from "node:zlib";
import { syncPath } from "../database/safe-fs";
import { type Verified, verifyFile } from "./read-file";
import { BackupRefused, Damaged } from "./refused";

/** Writes the backup whose uncompressed text comes in `pieces`. `over`: a file of that name may be replaced. */
export async function writeFile(target: string, pieces: AsyncIterable<string | Buffer>, { over }: { readonly over: boolean }): Promise<Verified> {
  judgeTarget(target, over);
  const unfinished = path.join(path.dirname(target), `.${path.basename(target)}.${randomBytes(6).toString("hex")}.part`);
  const remove = (): void => { fs.rmSync(unfinished, { force: true }); };
  process.once("exit", remove);
  try {
    const file = await fs.promises.open(unfinished, "wx", 0o600);
    await pipeline(Readable.from(pieces, { objectMode: true }), createGzip({ level: 6 }), file.createWriteStream({ flush: true }));
    const verified = await readBack(unfinished);
    giveName(unfinished, target, over);
    return verified;
  } finally {
    remove();
    process.removeListener("exit", remove);
  }
}

async function readBack(unfinished: string): Promise<Verified> {
  try {
    return await verifyFile(unfinished);
  } catch (error) {
    if (!(error instanceof Damaged)) throw error;
    throw new BackupRefused(`What was written is not a whole backup: ${error.what}. If the app was stopped meanwhile, take the backup again; if not, look after the disk it was written to.`, { cause: error });
  }
}

/** Throws BackupRefused when the file could not be written there; asked before the work rather than after it. */
export function judgeTarget(target: string, over: boolean): void {
  const folder = path.dirname(path.resolve(target));
  if (!fs.existsSync(folder)) throw new BackupRefused(`There is no folder ${folder} to write the backup into. Make it first.`);
  const found = fs.statSync(target, { throwIfNoEntry: false });
  if (found?.isDirectory() === true) throw new BackupRefused(`${target} is a folder. Give the backup a file name: ${path.join(target, "trimledger.backup")}`);
  if (found !== undefined && !over) throw taken(target);
  try {
    fs.accessSync(folder, fs.constants.W_OK);
  } catch {
    throw new BackupRefused(`This user may not write into the folder ${folder}. Choose another place for the backup.`);
  }
}

const taken = (target: string): BackupRefused => new BackupRefused(`There is a file ${target} already, and it is left as it is. Choose another name, or add --over to replace it.`);

function giveName(unfinished: string, target: string, over: boolean): void {
  if (over) fs.renameSync(unfinished, target);
  else {
    try {
      // A second name for the file, which unlike renaming fails if somebody has taken that name meanwhile.
      fs.linkSync(unfinished, target);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === "EEXIST" || fs.existsSync(target)) throw taken(target);
      fs.renameSync(unfinished, target); // a file system without second names
    }
  }
  syncPath(path.dirname(path.resolve(target)));
}
