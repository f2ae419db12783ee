/**
 * What a power cut leaves. Operations recorded by recording-disk.ts are played up to the cut; then the folder is written
 * out as it could be found after the power has come back:
 *
 * - What was synced is there: a file's bytes by a sync of the file, a folder's names by a sync of the folder.
 * - Of bytes that were not, each sector (512 bytes) stands at any moment since the last sync, whatever its neighbours
 *   do: so a write may be lost, kept or torn. A sector itself is never torn; PostgreSQL counts on that for pg_control.
 *   The file's length is one it has had since, and bytes that were never written read as zeros.
 * - Of names that were not, each folder has taken over any number in order: created, linked, renamed and removed, each
 *   whole. A rename is atomic, between two folders too.
 *
 * Of the file system it is assumed, as PostgreSQL does, that a sync of a new file or folder also keeps the name it was
 * created with and the folders it stands in, if those are new as well. POSIX does not promise it; ext4, xfs, btrfs and
 * NTFS do. Nothing else is assumed: not that a sync of one file keeps what was done to another before it.
 */
import fs from "node:fs";
import path from "node:path";
import { type Operation, ROOT } from "./recording-disk";

export const SECTOR = 512;

/** Chance from a seed (mulberry32): the same seed, the same choices. */
export class Chance {
  #state: number;
  constructor(readonly seed: number) {
    this.#state = seed >>> 0;
  }
  /** From 0 up to, not including, 1. */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let t = this.#state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  }
  /** A whole number of `from` to `to`, both included. */
  whole(from: number, to: number): number {
    return from + Math.floor(this.next() * (to - from + 1));
  }
  one<T>(of: readonly T[]): T {
    const chosen = of[this.whole(0, of.length - 1)];
    if (chosen === undefined) throw new Error("expected something to choose from");
    return chosen;
  }
}

/**
 * How the disk was taken by the cut. "lost" and "kept": all of what was not synced. The others decide anew, for each
 * file, each page of 8 kB or each sector. Names are decided for each folder, except with "lost" and "kept".
 */
export const MOODS = ["lost", "kept", "by file", "by page", "by sector"] as const;
export type Mood = (typeof MOODS)[number];

type NameOperation = Extract<Operation, { folder: number }>;
type ByteOperation = Extract<Operation, { do: "write" | "resize" }>;

interface Thing {
  readonly isFolder: boolean;
  /** Bytes that are safe. */
  safe: Buffer;
  /** What was done to the bytes since. */
  readonly since: ByteOperation[];
  /** The operation that created it, until that is safe. */
  birth: NameOperation | null;
}

export class FailingDisk {
  readonly #things = new Map<number, Thing>([[ROOT, { isFolder: true, safe: Buffer.alloc(0), since: [], birth: null }]]);
  /** The names that are safe, by folder. */
  readonly #names = new Map<number, Map<string, number>>([[ROOT, new Map()]]);
  /** What was done to names and is not safe yet, oldest first. */
  #unsafe: NameOperation[] = [];

  /** A disk on which `before` has come to rest. */
  constructor(before: readonly Operation[]) {
    for (const operation of before) this.play(operation);
    for (const operation of this.#unsafe.splice(0)) this.#settle(this.#names, operation);
    for (const thing of this.#things.values()) {
      thing.birth = null;
      settleBytes(thing);
    }
  }

  play(operation: Operation): void {
    switch (operation.do) {
      case "create":
        this.#things.set(operation.what, { isFolder: operation.isFolder, safe: Buffer.alloc(0), since: [], birth: operation });
        if (operation.isFolder) this.#names.set(operation.what, new Map());
        this.#unsafe.push(operation);
        return;
      case "link": case "rename": case "remove":
        this.#unsafe.push(operation);
        return;
      case "write": case "resize":
        this.#thing(operation.what).since.push(operation);
        return;
      case "sync":
        this.#sync(operation.what);
    }
  }

  #thing(what: number): Thing {
    const thing = this.#things.get(what);
    if (thing === undefined) throw new Error(`expected to know of thing ${what}`);
    return thing;
  }

  #sync(what: number): void {
    const thing = this.#thing(what);
    const safe = new Set<NameOperation>();
    if (thing.isFolder) for (const operation of this.#unsafe) if (foldersOf(operation).includes(what)) safe.add(operation);
    if (!thing.isFolder) settleBytes(thing);
    for (let at: Thing = thing; at.birth !== null; at = this.#thing(at.birth.folder)) safe.add(at.birth);
    this.#makeSafe(safe);
  }

  /** Takes these over, and with each what was done before it to the same name. */
  #makeSafe(safe: Set<NameOperation>): void {
    for (const later of [...this.#unsafe].reverse()) {
      if (!safe.has(later)) continue;
      const touched = new Set(placesOf(later));
      for (const earlier of this.#unsafe) {
        if (earlier === later) break;
        if (placesOf(earlier).some((place) => touched.has(place))) safe.add(earlier);
      }
    }
    this.#unsafe = this.#unsafe.filter((operation) => {
      if (!safe.has(operation)) return true;
      this.#settle(this.#names, operation);
      if (operation.do === "create") this.#thing(operation.what).birth = null;
      return false;
    });
  }

  #settle(names: Map<number, Map<string, number>>, operation: NameOperation): void {
    const folder = names.get(operation.folder);
    if (folder === undefined) throw new Error("expected a folder");
    if (operation.do === "create" || operation.do === "link") folder.set(operation.name, operation.what);
    else if (operation.do === "remove") folder.delete(operation.name);
    else {
      const what = folder.get(operation.name);
      if (what === undefined) return; // its source never came about, so it did not happen either
      folder.delete(operation.name);
      names.get(operation.toFolder)?.set(operation.toName, what);
    }
  }

  /** Writes the folder out to `place`, which must not be there yet, as a cut now could leave it. */
  cut(place: string, mood: Mood, chance: Chance): void {
    const names = new Map([...this.#names].map(([folder, inside]) => [folder, new Map(inside)]));
    for (const operation of this.#takenOver(mood, chance)) this.#settle(names, operation);
    this.#writeOut(place, ROOT, names, mood, chance);
  }

  /** The unsafe operations on names that happen to have been taken over: in each folder the first so many. */
  #takenOver(mood: Mood, chance: Chance): NameOperation[] {
    if (mood === "lost") return [];
    if (mood === "kept") return this.#unsafe;
    const counts = new Map<number, number>();
    for (const operation of this.#unsafe) for (const folder of foldersOf(operation)) counts.set(folder, (counts.get(folder) ?? 0) + 1);
    for (const [folder, count] of counts) counts.set(folder, chance.one([0, count, chance.whole(0, count)]));
    // What is done to two folders at once happens in both or in neither, and ends the line in the other then.
    const ended = new Set<number>();
    return this.#unsafe.filter((operation) => {
      const folders = foldersOf(operation);
      const happens = folders.every((folder) => !ended.has(folder) && (counts.get(folder) ?? 0) > 0);
      for (const folder of folders) {
        if (happens) counts.set(folder, (counts.get(folder) ?? 0) - 1);
        else ended.add(folder);
      }
      return happens;
    });
  }

  #writeOut(place: string, what: number, names: ReadonlyMap<number, ReadonlyMap<string, number>>, mood: Mood, chance: Chance): void {
    const thing = this.#thing(what);
    if (!thing.isFolder) {
      fs.writeFileSync(place, bytesAfter(thing, mood, chance));
      return;
    }
    // As PostgreSQL wants them.
    fs.mkdirSync(place, 0o700);
    for (const [name, inside] of names.get(what) ?? []) this.#writeOut(path.join(place, name), inside, names, mood, chance);
  }
}

function foldersOf(operation: NameOperation): readonly number[] {
  return operation.do === "rename" && operation.toFolder !== operation.folder ? [operation.folder, operation.toFolder] : [operation.folder];
}

function placesOf(operation: NameOperation): readonly string[] {
  const place = `${operation.folder}/${operation.name}`;
  return operation.do === "rename" ? [place, `${operation.toFolder}/${operation.toName}`] : [place];
}

function settleBytes(thing: Thing): void {
  const operations = thing.since.splice(0);
  // Grown once, not for every page; written in place, since these bytes are nobody else's.
  const longest = operations.reduce((most, operation) => Math.max(most, endOf(operation)), thing.safe.length);
  const room = longest === thing.safe.length ? thing.safe : Buffer.concat([thing.safe, Buffer.alloc(longest - thing.safe.length)]);
  let length = thing.safe.length;
  for (const operation of operations) {
    const end = endOf(operation);
    if (operation.do === "write") operation.bytes.copy(room, operation.at);
    else room.fill(0, end);
    length = operation.do === "write" ? Math.max(length, end) : end;
  }
  thing.safe = room.subarray(0, length);
}

const endOf = (operation: ByteOperation): number => (operation.do === "resize" ? operation.size : operation.at + operation.bytes.length);

/** The bytes of a file after a cut. */
function bytesAfter(thing: Thing, mood: Mood, chance: Chance): Buffer {
  const { since } = thing;
  if (since.length === 0 || mood === "lost") return thing.safe;
  // A change of length is the file system's own, and done or not done as a whole: the bytes stand at moments between
  // the last one that was done and the first that was not.
  const reached = mood === "kept" ? since.length : chance.one([0, since.length, chance.whole(0, since.length)]);
  const isResize = (operation: ByteOperation): boolean => operation.do === "resize";
  const from = since.slice(0, reached).findLastIndex(isResize) + 1;
  const next = since.slice(reached).findIndex(isResize);
  const to = next === -1 ? since.length : reached + next;

  const file: Thing = { ...thing, safe: Buffer.from(thing.safe), since: since.slice(0, from) };
  settleBytes(file);
  let bytes = file.safe;
  const writes = since.slice(from, to) as Extract<ByteOperation, { do: "write" }>[];
  const moment = momentOf(mood, writes.length, chance);
  const length = mood === "kept" ? writes.length : chance.one([0, writes.length, chance.whole(0, writes.length)]);
  const size = writes.slice(0, length).reduce((most, write) => Math.max(most, endOf(write)), bytes.length);
  const longest = writes.reduce((most, write) => Math.max(most, endOf(write)), bytes.length);
  bytes = Buffer.concat([bytes, Buffer.alloc(longest - bytes.length)]);
  for (const [index, { at, bytes: written }] of writes.entries()) {
    for (let sector = Math.floor(at / SECTOR); sector * SECTOR < at + written.length; sector += 1) {
      if (moment(sector) <= index) continue;
      const start = Math.max(at, sector * SECTOR);
      const end = Math.min(at + written.length, (sector + 1) * SECTOR);
      written.copy(bytes, start, start - at, end - at);
    }
  }
  return bytes.subarray(0, size);
}

/** How many of the writes each sector has seen. */
function momentOf(mood: Mood, writes: number, chance: Chance): (sector: number) => number {
  if (mood === "kept") return () => writes;
  const any = (): number => chance.one([0, writes, chance.whole(0, writes)]);
  const whole = any();
  if (mood === "by file") return () => whole;
  const together = mood === "by page" ? 8192 / SECTOR : 1;
  const chosen = new Map<number, number>();
  return (sector) => {
    const group = Math.floor(sector / together);
    let moment = chosen.get(group);
    if (moment === undefined) chosen.set(group, moment = any());
    return moment;
  };
}
