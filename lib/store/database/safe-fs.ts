/**
 * The host's file system under PGlite, made to sync. PGlite starts PostgreSQL with -F (fsync off), and even with it on,
 * a sync ends in the Emscripten file system, whose NODEFS has no `fsync` and so quietly does nothing: a power cut could
 * take back what was acknowledged. Here the missing operation is put in (it serves directories too, whose descriptors
 * are real), and the server is started with fsync on and wal_sync_method=fsync, because the default, fdatasync, reports
 * success without reaching this hook.
 */
import fs from "node:fs";
import { PGlite } from "@electric-sql/pglite";
import { NodeFS } from "@electric-sql/pglite/nodefs";

/** The start parameters of PGlite, with syncing on and every time stamp in UTC (the Prisma adapter reads them so). */
export const safeStartParams: readonly string[] = [
  ...PGlite.defaultStartParams,
  "-c", "fsync=on",
  "-c", "wal_sync_method=fsync",
  "-c", "timezone=UTC",
];

type EmscriptenOptions = Parameters<NodeFS["init"]>[1];

/** What of Emscripten's NODEFS and FS this file touches: an open file's descriptor on the host, and its errors. */
interface HostFileSystem {
  stream_ops: { fsync?: (stream: { nfd: number }) => number };
  convertNodeCode(error: NodeJS.ErrnoException): number | undefined;
}
interface EmscriptenFs {
  ErrnoError: new (errno: number) => Error;
}

/** Emscripten's number for EIO: what PostgreSQL is told when the host fails in a way it has no number for. */
const EIO = 29;

export class SafeFS extends NodeFS {
  /** How many times PostgreSQL asked for a sync and got it. */
  syncs = 0;

  /** The folder on the host. */
  get root(): string {
    return this.rootDir;
  }

  override async init(pg: PGlite, options: EmscriptenOptions): ReturnType<NodeFS["init"]> {
    const { emscriptenOpts } = await super.init(pg, options);
    return {
      emscriptenOpts: {
        ...emscriptenOpts,
        preRun: [
          ...(emscriptenOpts.preRun ?? []),
          (module) => {
            const host = module.NODEFS as unknown as HostFileSystem;
            const { ErrnoError } = module.FS as unknown as EmscriptenFs;
            host.stream_ops.fsync = (stream) => {
              try {
                fs.fsyncSync(stream.nfd);
              } catch (error) {
                // PostgreSQL takes a failed sync for what it is, a panic; but it must be told in its own terms.
                throw new ErrnoError(host.convertNodeCode(error as NodeJS.ErrnoException) ?? EIO);
              }
              this.syncs += 1;
              return 0;
            };
          },
        ],
      },
    };
  }
}

/** Syncs a finished folder to disk: every file in it, every folder, and the folder itself last. */
export function syncTree(folder: string): void {
  for (const entry of fs.readdirSync(folder, { withFileTypes: true })) {
    const path = `${folder}/${entry.name}`;
    if (entry.isDirectory()) syncTree(path);
    else if (entry.isFile()) syncPath(path);
  }
  syncPath(folder);
}

/** Syncs one file or folder. Windows has no syncing of folders, and needs none: its file system journals them. */
export function syncPath(path: string): void {
  if (process.platform === "win32" && fs.statSync(path).isDirectory()) return;
  const handle = fs.openSync(path, "r");
  try {
    fs.fsyncSync(handle);
  } finally {
    fs.closeSync(handle);
  }
}
