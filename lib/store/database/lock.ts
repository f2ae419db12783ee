/**
 * The lock on the embedded database's folder. PGlite lets any number of processes open one folder, and two that do
 * ruin it without a word; so whoever opens the folder first puts a lock file beside it, saying which process, on which
 * host, started when. A second one is refused by name while the first lives. A lock whose owner is dead (killed, or
 * the machine lost power) is taken over without asking, and taking over is atomic however many try at once.
 *
 * A process id alone proves nothing, since ids are reused; the process's own start (on Linux the boot's id and the
 * start in clock ticks since boot, elsewhere what `ps` says) tells a reused id apart.
 */
import { execFileSync } from "node:child_process";
import { randomUUID } from "node:crypto";
import fs from "node:fs";
import os from "node:os";

export interface LockOwner {
  readonly pid: number;
  readonly host: string;
  /** What tells this process from a later one with the same id; null where the system does not say. */
  readonly born: string | null;
  /** When the lock was taken, ISO 8601: for people to read, never compared. */
  readonly since: string;
  /** Unique to this lock: whoever succeeds it names the succession after it. */
  readonly token: string;
}

export interface FolderLock {
  readonly path: string;
  readonly owner: LockOwner;
  /** Takes the lock file away, if it is still ours. May be called twice. */
  release(): void;
}

/** The folder belongs to somebody else: the message names the owner and says what to do. */
export class FolderInUse extends Error {
  override readonly name = "FolderInUse";
  constructor(
    readonly folder: string,
    readonly lockPath: string,
    readonly owner: LockOwner | null,
  ) {
    super(sentence(folder, lockPath, owner));
  }
}

function sentence(folder: string, lockPath: string, owner: LockOwner | null): string {
  if (owner === null) {
    return `The data folder ${folder} is locked by ${lockPath}, which is not readable as a lock. If nothing else uses the folder, delete that file and start again.`;
  }
  const who = `process ${owner.pid} on ${owner.host}, since ${owner.since}`;
  if (owner.host !== os.hostname()) {
    return `The data folder ${folder} is in use by ${who}. Only that machine can tell whether it still runs: stop it there, or, if that machine is gone, delete ${lockPath} and start again.`;
  }
  if (owner.pid === process.pid) return `The data folder ${folder} is already open in this process (${owner.pid}), since ${owner.since}.`;
  return `The data folder ${folder} is in use by ${who}. Stop that process first, or give this one another folder (DATA_DIR) or a server (DATABASE_URL).`;
}

/**
 * Locks `folder` with the file `${folder}.lock` for this process. Throws FolderInUse when a living process, this one
 * included, has it.
 */
export function lockFolder(folder: string): FolderLock {
  const path = `${folder}.lock`;
  const owner: LockOwner = {
    pid: process.pid,
    host: os.hostname(),
    born: birthOf(process.pid),
    since: new Date().toISOString(),
    token: randomUUID(),
  };
  hold(path, owner, folder);
  const onExit = (): void => { release(); };
  const release = (): void => {
    process.removeListener("exit", onExit);
    if (readOwner(path)?.token === owner.token) fs.rmSync(path, { force: true });
  };
  process.once("exit", onExit);
  return { path, owner, release };
}

/**
 * Creates the lock at `path`, or succeeds its dead owner. Only the holder of the succession, a lock of its own named
 * after the dead one's token, may replace the file; it looks again once it holds it, because the file may have been
 * replaced meanwhile. A successor who dies half-way is succeeded by the same rule.
 */
function hold(path: string, mine: LockOwner, folder: string): void {
  for (;;) {
    if (createWhole(path, mine)) return;
    const found = readOwner(path);
    if (found === null) {
      if (!fs.existsSync(path)) continue; // released between our two looks
      throw new FolderInUse(folder, path, null);
    }
    if (isAlive(found)) throw new FolderInUse(folder, path, found);

    const succession = `${path}.after-${found.token}`;
    hold(succession, mine, folder);
    try {
      if (readOwner(path)?.token !== found.token) continue;
      const fresh = `${path}.${mine.token}`;
      fs.writeFileSync(fresh, JSON.stringify(mine), { flush: true });
      fs.renameSync(fresh, path);
      return;
    } finally {
      fs.rmSync(succession, { force: true });
    }
  }
}

/**
 * Creates `path` with its content in one step (a link to a finished file), so that nobody reads half a lock. The content
 * is on the disk before the name: an empty lock that a power cut left would keep everybody out.
 */
function createWhole(path: string, owner: LockOwner): boolean {
  const fresh = `${path}.${owner.token}`;
  fs.writeFileSync(fresh, JSON.stringify(owner), { flush: true });
  try {
    fs.linkSync(fresh, path);
    return true;
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === "EEXIST") return false;
    // A file system without hard links: exclusive creation, whose content follows an instant later.
    try {
      fs.writeFileSync(path, JSON.stringify(owner), { flag: "wx", flush: true });
      return true;
    } catch (second) {
      if ((second as NodeJS.ErrnoException).code === "EEXIST") return false;
      throw second;
    }
  } finally {
    fs.rmSync(fresh, { force: true });
  }
}

function readOwner(path: string): LockOwner | null {
  try {
    const read = JSON.parse(fs.readFileSync(path, "utf8")) as Partial<LockOwner>;
    if (typeof read.pid !== "number" || typeof read.host !== "string" || typeof read.token !== "string") return null;
    return { pid: read.pid, host: read.host, token: read.token, born: read.born ?? null, since: read.since ?? "an unknown time" };
  } catch {
    return null;
  }
}

/** Whether a lock's owner may still be running. Of another host nothing is known, so it counts as alive. */
export function isAlive(owner: LockOwner): boolean {
  if (owner.host !== os.hostname()) return true;
  try {
    process.kill(owner.pid, 0);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ESRCH") return false;
  }
  if (isZombie(owner.pid)) return false;
  const born = birthOf(owner.pid);
  return born === null || owner.born === null || born === owner.born;
}

/** A process that has ended but whose parent has not asked after it (in containers, often nobody does) keeps its id. */
function isZombie(pid: number): boolean {
  try {
    return /^[ZX]/.test(statOf(pid));
  } catch {
    return false;
  }
}

/** Linux's account of a process from the third field on; the second, the command, stands in parentheses and may hold anything. */
function statOf(pid: number): string {
  const stat = fs.readFileSync(`/proc/${pid}/stat`, "utf8");
  return stat.slice(stat.lastIndexOf(")") + 2);
}

/** What tells the process that has this id now from any other that ever had it; null where the system does not say. */
export function birthOf(pid: number): string | null {
  try {
    // The start in clock ticks since boot is the 22nd field.
    const ticks = statOf(pid).split(" ")[19];
    const boot = fs.readFileSync("/proc/sys/kernel/random/boot_id", "utf8").trim();
    return ticks === undefined ? null : `${boot}/${ticks}`;
  } catch {
    // no /proc here
  }
  if (process.platform === "win32") return null;
  try {
    return execFileSync("ps", ["-o", "lstart=", "-p", String(pid)], { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] }).trim() || null;
  } catch {
    return null;
  }
}
