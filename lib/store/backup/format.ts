/**
 * What a backup looks like: a gzip of lines, each a JSON document.
 *
 *     {"format":"trimledger-backup","version":1,"app":"0.1.0","at":"…","from":"embedded","migrations":[{"name":…,"checksum":…},…]}
 *     {"table":"kitchen","columns":[{"name":"id","type":"text"},…]}
 *     ["kitchen-x","17",…]                         a row: every value as PostgreSQL's own text for it, or null
 *     …
 *     {"photo":"kitchen-x/photo-y","jpeg":"…"}     a picture of the trim, in base64; after all tables
 *     {"tables":27,"rows":81234,"photos":12,"sha256":"…"}      of everything before this line
 *
 * Values are text, so that no figure is rounded and no moment shifted on its way, between the two databases and between
 * versions of either. A file that was cut short has no last line; one that was altered has another sum.
 */
import { z } from "zod";

export const FORMAT = "trimledger-backup";
/** Format 1 had no photos. */
export const VERSION = 2;

const header = z.object({
  format: z.literal(FORMAT),
  version: z.literal([1, VERSION]),
  /** The version of the app that wrote it. */
  app: z.string(),
  /** When the snapshot was taken, in UTC. */
  at: z.iso.datetime(),
  from: z.enum(["embedded", "server"]),
  migrations: z.array(z.object({ name: z.string(), checksum: z.string() })).min(1),
});
const tableLine = z.object({ table: z.string(), columns: z.array(z.object({ name: z.string(), type: z.string() })).min(1) });
const photoLine = z.object({ photo: z.string().regex(/^[\w-]{1,120}\/[\w-]{1,120}$/), jpeg: z.base64() });
const closing = z.object({ tables: z.int(), rows: z.int(), photos: z.int().default(0), sha256: z.string() });

export type Header = z.infer<typeof header>;
export type TableLine = z.infer<typeof tableLine>;
export type PhotoLine = z.infer<typeof photoLine>;
export type Closing = z.infer<typeof closing>;

/** The first line read: what it says, or why it is not for us. */
export type FirstLine = { readonly kind: "header"; readonly header: Header } | { readonly kind: "foreign" } | { readonly kind: "newer"; readonly version: number } | Failed | { readonly kind: "broken" };

/** Instead of a line of the backup: the app that was asked for it could not go on (socket.ts). */
export interface Failed {
  readonly kind: "failed";
  readonly sentence: string;
}

export function readHeader(line: string): FirstLine {
  const read = parsed(line);
  const failed = readFailed(read);
  if (failed !== null) return failed;
  const named = z.object({ format: z.literal(FORMAT), version: z.int() }).safeParse(read);
  if (!named.success) return { kind: "foreign" };
  if (named.data.version > VERSION) return { kind: "newer", version: named.data.version };
  const whole = header.safeParse(read);
  return whole.success ? { kind: "header", header: whole.data } : { kind: "broken" };
}

/** A line after the first. */
export type Line =
  | { readonly kind: "row"; readonly values: number }
  | { readonly kind: "table"; readonly table: TableLine }
  | { readonly kind: "photo"; readonly photo: PhotoLine }
  | { readonly kind: "closing"; readonly closing: Closing }
  | Failed
  | { readonly kind: "broken" };

export function readLine(line: string): Line {
  const read = parsed(line);
  if (Array.isArray(read)) {
    return read.every((value) => value === null || typeof value === "string") ? { kind: "row", values: read.length } : { kind: "broken" };
  }
  const table = tableLine.safeParse(read);
  if (table.success) return { kind: "table", table: table.data };
  const photo = photoLine.safeParse(read);
  if (photo.success) return { kind: "photo", photo: photo.data };
  const end = closing.safeParse(read);
  if (end.success) return { kind: "closing", closing: end.data };
  return readFailed(read) ?? { kind: "broken" };
}

function readFailed(read: unknown): Failed | null {
  const failed = z.object({ failed: z.string() }).safeParse(read);
  return failed.success ? { kind: "failed", sentence: failed.data.failed } : null;
}

export const failedLine = (sentence: string): string => `${JSON.stringify({ failed: sentence })}\n`;

function parsed(line: string): unknown {
  try {
    return JSON.parse(line) as unknown;
  } catch {
    return undefined;
  }
}
