/**
 * Asking the app that is running. The embedded database belongs to one process, so a backup command that finds the
 * folder in use has the app read it: the app listens on a local socket in the data folder (a named pipe on Windows),
 * which only the app's own user can open, and whoever connects is sent a backup, uncompressed, and then the end. When
 * the app cannot go on it says why in a last line of its own.
 */
import { createHash } from "node:crypto";
import fs from "node:fs";
import net from "node:net";
import path from "node:path";
import { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import type { Database } from "../database";
import { thisVersion } from "./about";
import { failedLine } from "./format";
import { BackupRefused, sentenceOf } from "./refused";
import { liveSource } from "./sources";
import { photosFolder } from "../photos/files";
import { takeBackup } from "./take";

/** The longest name of a socket that every system takes, in bytes: macOS has 104 with the end of the text, Linux 108. */
const LONGEST_NAME = 103;

/** Where the app with this data folder listens, as seen from here; null when every way of writing it is too long. */
export function socketPlace(folder: string): string | null {
  const real = fs.realpathSync(folder);
  if (process.platform === "win32") return `\\\\.\\pipe\\trimledger-${createHash("sha256").update(real.toLowerCase()).digest("hex").slice(0, 32)}`;
  const absolute = path.join(real, "backup.sock");
  const relative = path.relative(fs.realpathSync(process.cwd()), absolute);
  const shorter = Buffer.byteLength(relative) < Buffer.byteLength(absolute) ? relative : absolute;
  return Buffer.byteLength(shorter) <= LONGEST_NAME ? shorter : null;
}

/**
 * Answers backups of the app's embedded database until the process ends; of a server's database nobody need ask the
 * app. Where the system allows no socket the app runs all the same: a backup then needs it stopped, and says so.
 */
export async function answerBackups(database: Database): Promise<{ close(): void } | null> {
  if (database.kind !== "embedded") return null;
  const place = socketPlace(database.where);
  if (place === null) return null;
  // Ours is the folder's lock, so whatever is left there was left by a process that is dead.
  if (process.platform !== "win32") fs.rmSync(place, { force: true });

  const open = new Set<net.Socket>();
  const server = net.createServer((socket) => {
    open.add(socket);
    socket.once("close", () => open.delete(socket));
    // Whoever asked may go away at any time; the backup is then given up.
    socket.on("error", () => undefined);
    void pipeline(Readable.from(answer(database), { objectMode: true, highWaterMark: 1 }), socket).catch(() => undefined);
  });
  const close = (): void => {
    process.removeListener("exit", close);
    for (const socket of open) socket.destroy();
    server.close();
    if (process.platform !== "win32") fs.rmSync(place, { force: true });
  };
  const listening = await new Promise<boolean>((resolve) => {
    server.on("error", () => { resolve(false); });
    server.once("listening", () => { resolve(true); });
    listenAlone(server, place);
  });
  if (!listening) return null;
  process.once("exit", close);
  server.unref();
  return { close };
}

/** Listens on a socket that is its owner's alone from its first moment. */
function listenAlone(server: net.Server, place: string): void {
  if (process.platform === "win32") {
    server.listen(place);
    return;
  }
  const before = process.umask(0o177);
  try {
    server.listen(place);
  } finally {
    process.umask(before);
  }
}

async function* answer(database: Database): AsyncGenerator<string> {
  try {
    yield* takeBackup(liveSource(database), { app: thisVersion(), at: new Date().toISOString() }, photosFolder());
  } catch (error) {
    yield failedLine(sentenceOf(error));
  }
}

/** The backup as the running app sends it. Throws BackupRefused when it cannot be asked. */
export async function askRunningApp(folder: string): Promise<AsyncIterable<Buffer>> {
  const place = socketPlace(folder);
  const stop = `Stop the app, take the backup, and start it again.`;
  if (place === null) throw new BackupRefused(`The app is running, and the name of its data folder ${folder} is too long for the app to be asked for a backup. ${stop}`);
  const socket = net.connect(place);
  await new Promise<void>((resolve, reject) => {
    socket.once("connect", resolve);
    socket.once("error", (error: NodeJS.ErrnoException) => {
      const why = error.code === "EACCES" || error.code === "EPERM" ? "it belongs to another user: take the backup as that user" : "it may be starting, or be an older version";
      reject(new BackupRefused(`The data folder ${folder} is in use by a running app that could not be asked for a backup (${why}). Try again in a moment. If that does not help: ${stop.toLowerCase()}`));
    });
  });
  return socket as AsyncIterable<Buffer>;
}
