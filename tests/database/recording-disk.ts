/**
 * Watches everything this process does to a folder on disk, in order: the operations from which failing-disk.ts rebuilds
 * what a power cut would have left. It stands in for Node's synchronous file functions, which PGlite's file system and
 * our own code use; the operations are carried out as ever, and written down. Files and folders are known by a number
 * of their own, whatever they are called, as a disk knows them.
 */
import fs from "node:fs";
import { syncBuiltinESMExports } from "node:module";
import path from "node:path";

/** The folder that is watched has this number. */
export const ROOT = 0;

export type Operation =
  | { readonly do: "create"; readonly folder: number; readonly name: string; readonly what: number; readonly isFolder: boolean }
  | { readonly do: "link"; readonly folder: number; readonly name: string; readonly what: number }
  | { readonly do: "rename"; readonly folder: number; readonly name: string; readonly toFolder: number; readonly toName: string }
  | { readonly do: "remove"; readonly folder: number; readonly name: string }
  | { readonly do: "write"; readonly what: number; readonly at: number; readonly bytes: Buffer }
  | { readonly do: "resize"; readonly what: number; readonly size: number }
  | { readonly do: "sync"; readonly what: number };

interface Thing {
  readonly what: number;
  /** The names in a folder; null for a file. */
  readonly names: Map<string, Thing> | null;
}

type AnyFunction = (...args: never[]) => unknown;
const { O_CREAT, O_TRUNC } = fs.constants;

export class RecordingDisk {
  readonly operations: Operation[] = [];
  /** What the folder held when the watching began, as operations: all of it counts as synced. */
  readonly before: readonly Operation[];
  readonly #top: Thing = { what: ROOT, names: new Map() };
  readonly #open = new Map<number, Thing>();
  readonly #original = new Map<string, AnyFunction>();
  #made = ROOT;
  #depth = 0;

  /** Watches `root`, an existing folder, until `stop`. */
  constructor(readonly root: string) {
    this.#takeFolder(root, this.#top);
    this.before = this.operations.splice(0);
    this.#standIn();
  }

  stop(): void {
    for (const [name, original] of this.#original) (fs as unknown as Record<string, AnyFunction>)[name] = original;
    this.#original.clear();
    syncBuiltinESMExports();
  }

  #takeFolder(place: string, folder: Thing): void {
    for (const entry of fs.readdirSync(place, { withFileTypes: true })) {
      const inside = path.join(place, entry.name);
      const thing = this.#create(folder, entry.name, entry.isDirectory());
      if (entry.isDirectory()) this.#takeFolder(inside, thing);
      else this.#write(thing, 0, fs.readFileSync(inside));
    }
  }

  #create(folder: Thing, name: string, isFolder: boolean): Thing {
    this.#made += 1;
    const thing: Thing = { what: this.#made, names: isFolder ? new Map() : null };
    namesOf(folder).set(name, thing);
    this.operations.push({ do: "create", folder: folder.what, name, what: thing.what, isFolder });
    return thing;
  }

  #write(thing: Thing, at: number, bytes: Uint8Array): void {
    if (bytes.length > 0) this.operations.push({ do: "write", what: thing.what, at, bytes: Buffer.from(bytes) });
  }

  /** Folder and name of a place inside the watched folder; null for any other. */
  #find(place: unknown): { folder: Thing; name: string; thing: Thing | undefined } | null {
    if (typeof place !== "string") return null;
    const within = path.relative(this.root, path.resolve(place));
    if (within === "" || within.startsWith("..") || path.isAbsolute(within)) return null;
    const steps = within.split(path.sep);
    const name = steps.pop() ?? "";
    let folder = this.#top;
    for (const step of steps) {
      const next = folder.names?.get(step);
      if (next === undefined) return null;
      folder = next;
    }
    return { folder, name, thing: folder.names?.get(name) };
  }

  /** Puts `note` after the function `name`: called with its result and arguments once it has succeeded, unless it was called by another of these. */
  #after(name: string, note: (result: unknown, args: unknown[]) => void, before: (args: unknown[]) => void = () => undefined): void {
    const functions = fs as unknown as Record<string, (...args: unknown[]) => unknown>;
    const original = functions[name];
    if (original === undefined) throw new Error(`expected fs.${name}`);
    this.#original.set(name, original as AnyFunction);
    functions[name] = (...args) => {
      if (this.#depth > 0) return original.apply(fs, args);
      before(args);
      this.#depth += 1;
      let result: unknown;
      try {
        result = original.apply(fs, args);
      } finally {
        this.#depth -= 1;
      }
      note(result, args);
      return result;
    };
  }

  #standIn(): void {
    this.#after("openSync", (handle, [place, flags]) => {
      const found = this.#find(place) ?? (path.resolve(String(place)) === path.resolve(this.root) ? { folder: this.#top, name: "", thing: this.#top } : null);
      if (found === null) return;
      const creates = typeof flags === "number" ? (flags & O_CREAT) !== 0 : /^[wa]/.test(String(flags ?? "r"));
      const empties = typeof flags === "number" ? (flags & O_TRUNC) !== 0 : /^w/.test(String(flags ?? "r"));
      let { thing } = found;
      if (thing === undefined) {
        if (!creates) return;
        thing = this.#create(found.folder, found.name, false);
      } else if (empties) this.operations.push({ do: "resize", what: thing.what, size: 0 });
      this.#open.set(handle as number, thing);
    });
    this.#after("closeSync", (_, [handle]) => { this.#open.delete(handle as number); });
    this.#after("writeSync", (written, [handle, data, at, , position]) => {
      const open = this.#open.get(handle as number);
      if (open === undefined) return;
      if (!ArrayBuffer.isView(data)) throw new Error("expected writes of bytes");
      if (typeof at !== "number" || typeof position !== "number") throw new Error("expected writes that say where");
      const from = data.byteOffset + at;
      this.#write(open, position, Buffer.from(data.buffer, from, written as number));
    });
    this.#after("writeFileSync", (_, [place, data, options]) => {
      const found = this.#find(place);
      if (found === null) return;
      const thing = found.thing ?? this.#create(found.folder, found.name, false);
      if (found.thing !== undefined) this.operations.push({ do: "resize", what: thing.what, size: 0 });
      this.#write(thing, 0, typeof data === "string" ? Buffer.from(data) : (data as Uint8Array));
      if (typeof options === "object" && options !== null && "flush" in options && options.flush === true) this.operations.push({ do: "sync", what: thing.what });
    });
    this.#after("truncateSync", (_, [place, size]) => {
      const thing = this.#find(place)?.thing;
      if (thing !== undefined) this.operations.push({ do: "resize", what: thing.what, size: Number(size ?? 0) });
    });
    this.#after("ftruncateSync", (_, [handle, size]) => {
      const open = this.#open.get(handle as number);
      if (open !== undefined) this.operations.push({ do: "resize", what: open.what, size: Number(size ?? 0) });
    });
    this.#after("fsyncSync", (_, [handle]) => {
      const open = this.#open.get(handle as number);
      if (open !== undefined) this.operations.push({ do: "sync", what: open.what });
    });
    this.#after("renameSync", (_, [from, to]) => {
      const source = this.#find(from);
      const target = this.#find(to);
      if (source?.thing === undefined && target === null) return;
      if (source?.thing === undefined || target === null) throw new Error("expected renames within the folder");
      namesOf(source.folder).delete(source.name);
      namesOf(target.folder).set(target.name, source.thing);
      this.operations.push({ do: "rename", folder: source.folder.what, name: source.name, toFolder: target.folder.what, toName: target.name });
    });
    this.#after("linkSync", (_, [from, to]) => {
      const thing = this.#find(from)?.thing;
      const target = this.#find(to);
      if (thing === undefined || target === null) return;
      namesOf(target.folder).set(target.name, thing);
      this.operations.push({ do: "link", folder: target.folder.what, name: target.name, what: thing.what });
    });
    for (const name of ["unlinkSync", "rmdirSync"]) this.#after(name, (_, [place]) => { this.#remove(place); });
    this.#after("rmSync", (_, [place]) => { if (!fs.existsSync(String(place))) this.#remove(place); });
    this.#after("mkdirSync", (_, [place]) => {
      const steps = path.relative(this.root, path.resolve(String(place))).split(path.sep);
      for (let deep = 1; deep <= steps.length; deep += 1) {
        const found = this.#find(path.join(this.root, ...steps.slice(0, deep)));
        if (found !== null && found.thing === undefined) this.#create(found.folder, found.name, true);
      }
    });
    syncBuiltinESMExports();
  }

  /** A name taken away; of a folder, first everything in it. */
  #remove(place: unknown): void {
    const found = this.#find(place);
    if (found?.thing === undefined) return;
    for (const name of [...(found.thing.names?.keys() ?? [])]) this.#remove(path.join(String(place), name));
    namesOf(found.folder).delete(found.name);
    this.operations.push({ do: "remove", folder: found.folder.what, name: found.name });
  }
}

function namesOf(thing: Thing): Map<string, Thing> {
  if (thing.names === null) throw new Error("expected a folder");
  return thing.names;
}
