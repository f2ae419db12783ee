/**
 * Writing rows: any number into one table by one statement with one parameter, a JSON document that the database takes
 * apart by the table's own columns. A year of quotes is a handful of statements, and text becomes NUMERIC digit by
 * digit. What a row leaves out is null.
 */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "./database";

type Value = string | number | boolean | null | readonly object[];

/** So many rows at once at most: a document of some megabytes. */
const BATCH = 10_000;

export async function writeRows(tx: RowSink, table: string, rows: readonly Row[]): Promise<void> {
  if (tx instanceof GatheredRows) {
    tx.add(table, rows);
    return;
  }
  for (let from = 0; from < rows.length; from += BATCH) await writeBatch(tx, table, JSON.stringify(rows.slice(from, from + BATCH)));
}

async function writeBatch(tx: Writer, table: string, batch: string): Promise<void> {
  const name = Prisma.raw(`"${table}"`);
  await tx.$executeRaw`INSERT INTO ${name} SELECT * FROM json_populate_recordset(NULL::${name}, ${batch}::json)`;
}

/**
 * Rows that are worked out before any transaction begins: many changes at once, so that the database is held for no longer
 * than writing takes. Kept as the documents they will be written by; where there are many, in files of the system's
 * temporary folder, so that a record of years takes no more memory than a small one. Whoever gathers removes them.
 */
export class GatheredRows {
  /** In the order in which the tables were first met, which is the order that references ask for. */
  readonly #tables = new Map<string, GatheredTable>();
  #folder: string | null = null;

  add(table: string, rows: readonly Row[]): void {
    if (rows.length === 0) return;
    let held = this.#tables.get(table);
    if (held === undefined) this.#tables.set(table, (held = { open: [], file: null, lengths: [] }));
    for (const row of rows) {
      held.open.push(row);
      if (held.open.length >= GATHERED) this.#putAway(held, table);
    }
  }

  async write(tx: Writer): Promise<void> {
    for (const [table, { open, file, lengths }] of this.#tables) {
      let from = 0;
      for (const length of lengths) {
        const batch = Buffer.alloc(length);
        for (let read = 0; read < length;) read += fs.readSync(file ?? -1, batch, read, length - read, from + read);
        from += length;
        await writeBatch(tx, table, batch.toString("utf8"));
      }
      if (open.length > 0) await writeBatch(tx, table, JSON.stringify(open));
    }
  }

  /** Takes away what was put into files. */
  remove(): void {
    for (const { file } of this.#tables.values()) if (file !== null) fs.closeSync(file);
    this.#tables.clear();
    if (this.#folder !== null) fs.rmSync(this.#folder, { recursive: true, force: true });
    this.#folder = null;
  }

  #putAway(held: GatheredTable, table: string): void {
    this.#folder ??= fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-rows-"));
    held.file ??= fs.openSync(path.join(this.#folder, table), "w+", 0o600);
    const batch = Buffer.from(JSON.stringify(held.open.splice(0)));
    for (let written = 0; written < batch.length;) written += fs.writeSync(held.file, batch, written);
    held.lengths.push(batch.length);
  }
}

interface GatheredTable {
  readonly open: Row[];
  file: number | null;
  /** Bytes of each document in the file. */
  readonly lengths: number[];
}

type Writer = Pick<Transaction, "$executeRaw">;
type Row = Readonly<Record<string, Value>>;
/** Where rows go: into a transaction, or beside each other until there is one. */
export type RowSink = Writer | GatheredRows;

/** So many gathered rows are one document. */
const GATHERED = 2_000;

/**
 * The first text in a fact that a database cannot hold, as its path ("parts.2.name"); null when there is none. It is a
 * NUL character or half of a surrogate pair: nothing a person types, but it can arrive in a file or a forged form.
 */
export function unstorableText(value: unknown, path = ""): string | null {
  if (typeof value === "string") return /\0|\p{Surrogate}/u.test(value) ? path : null;
  if (typeof value !== "object" || value === null) return null;
  for (const [name, inner] of Object.entries(value)) {
    const found = unstorableText(inner, path === "" ? name : `${path}.${name}`);
    if (found !== null) return found;
  }
  return null;
}
