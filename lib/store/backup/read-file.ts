/**
 * Reading a backup file, judging every line of it on the way: that it is one of ours, of a version we know, whole, and
 * unaltered. Whoever restores reads it twice, first to its end and only then into a database; both times it is judged,
 * should the file change in between. Lines are read as they come, so memory is bounded by the longest row.
 */
import { createHash } from "node:crypto";
import fs from "node:fs";
import path from "node:path";
import { pipeline } from "node:stream";
import { createGunzip } from "node:zlib";
import { type Closing, type Header, type PhotoLine, type TableLine, VERSION, readHeader, readLine } from "./format";
import { BackupRefused, Damaged } from "./refused";

/** What a backup holds, in its order. `rows` are lines as they stand in the file, each a JSON list of texts and nulls. */
export type Part =
  | { readonly kind: "header"; readonly header: Header }
  | { readonly kind: "table"; readonly table: TableLine }
  | { readonly kind: "rows"; readonly rows: readonly string[] }
  | { readonly kind: "photo"; readonly photo: PhotoLine }
  | { readonly kind: "closing"; readonly closing: Closing };

export interface Verified {
  readonly header: Header;
  readonly tables: readonly TableLine[];
  readonly closing: Closing;
}

/** Reads the whole file. Throws BackupRefused with what is wrong with it. */
export async function verifyFile(file: string): Promise<Verified> {
  let header: Header | undefined;
  let closing: Closing | undefined;
  const tables: TableLine[] = [];
  for await (const part of readFile(file)) {
    if (part.kind === "header") header = part.header;
    else if (part.kind === "table") tables.push(part.table);
    else if (part.kind === "closing") closing = part.closing;
  }
  if (header === undefined || closing === undefined) throw new Error("expected a backup that was read whole to have a first and a last line");
  return { header, tables, closing };
}

/** The parts of a backup file, the closing last: until that has come, nothing is certain. Throws BackupRefused. */
export async function* readFile(file: string): AsyncGenerator<Part> {
  const name = path.basename(file);
  const damaged = (what: string): Damaged => new Damaged(name, what);

  const sum = createHash("sha256");
  let first = true;
  let width = 0;
  let rows = 0;
  let photos = 0;
  const tables = new Set<string>();
  let closing: Closing | undefined;

  for await (const lines of linesOf(file, damaged)) {
    let run: string[] = [];
    for (const line of lines) {
      if (first) {
        yield { kind: "header", header: judgeHeader(line, name) };
        first = false;
        sum.update(`${line}\n`);
        continue;
      }
      if (closing !== undefined) throw damaged("something follows its last line");
      const read = readLine(line);
      if (read.kind === "row") {
        if (tables.size === 0 || photos > 0 || read.values !== width) throw damaged("a row does not have the columns of its table");
        rows += 1;
        run.push(line);
        sum.update(`${line}\n`);
        continue;
      }
      if (run.length > 0) yield { kind: "rows", rows: run };
      run = [];
      switch (read.kind) {
        case "table":
          if (photos > 0) throw damaged("a table stands in it after the photos");
          if (tables.has(read.table.table)) throw damaged(`the table ${read.table.table} stands in it twice`);
          tables.add(read.table.table);
          width = read.table.columns.length;
          sum.update(`${line}\n`);
          yield { kind: "table", table: read.table };
          break;
        case "photo":
          photos += 1;
          sum.update(`${line}\n`);
          yield { kind: "photo", photo: read.photo };
          break;
        case "closing":
          closing = read.closing;
          break;
        case "failed":
          throw couldNot(read.sentence);
        case "broken":
          throw damaged("it holds a line that is none of a backup's");
      }
    }
    if (run.length > 0) yield { kind: "rows", rows: run };
  }
  if (first || closing === undefined) throw damaged(CUT_SHORT);
  if (closing.rows !== rows || closing.tables !== tables.size) throw damaged(`it holds ${rows} rows in ${tables.size} tables and should hold ${closing.rows} in ${closing.tables}`);
  if (closing.photos !== photos) throw damaged(`it holds ${photos} photos and should hold ${closing.photos}`);
  if (closing.sha256 !== sum.digest("hex")) throw damaged("its contents do not agree with the sum at its end");
  yield { kind: "closing", closing };
}

function judgeHeader(line: string, name: string): Header {
  const read = readHeader(line);
  switch (read.kind) {
    case "header": return read.header;
    case "failed": throw couldNot(read.sentence);
    case "foreign": throw foreign(name);
    case "newer": throw new BackupRefused(`The backup ${name} is in format ${read.version}, and this version of Trimledger reads formats up to ${VERSION}. Update Trimledger, then restore it.`);
    case "broken": throw new Damaged(name, "its first line does not say what it should");
  }
}

const CUT_SHORT = "it ends before its last line, as a file does that was not written or copied to the end";
const couldNot = (sentence: string): BackupRefused => new BackupRefused(`The app could not take the backup: ${sentence}`);
const foreign = (name: string): BackupRefused => new BackupRefused(`The file ${name} is not a Trimledger backup. A backup is what "npm run backup -- <file>" writes.`);

/** No line of a backup is longer: a row is what people typed into one form. */
const LONGEST_LINE = 2 ** 26;

/** The lines of the unpacked file, as many at a time as came; a last line without its end is none. */
async function* linesOf(file: string, damaged: (what: string) => Damaged): AsyncGenerator<string[]> {
  const name = path.basename(file);
  const packed = fs.createReadStream(file);
  const unpacked = createGunzip();
  unpacked.setEncoding("utf8");
  // What goes wrong is thrown by the reading below; the callback only keeps it from being thrown twice.
  pipeline(packed, unpacked, () => undefined);
  let rest = "";
  let any = false;
  try {
    for await (const piece of unpacked as AsyncIterable<string>) {
      const lines = (rest + piece).split("\n");
      rest = lines.pop() ?? "";
      if (rest.length > LONGEST_LINE) throw any ? damaged("it holds a line that is none of a backup's") : foreign(name);
      if (lines.length > 0) any = true;
      if (lines.length > 0) yield lines;
    }
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    if (code === "ENOENT") throw new BackupRefused(`There is no file ${file}.`);
    if (code === "EISDIR") throw new BackupRefused(`${file} is a folder, and should be a backup file.`);
    if (code === "EACCES") throw new BackupRefused(`The file ${file} may not be read by this user.`);
    if (code === "Z_BUF_ERROR" && packed.bytesRead === 0) throw new BackupRefused(`The file ${name} is empty.`);
    if (code === "Z_BUF_ERROR") throw damaged(CUT_SHORT);
    if (code?.startsWith("Z_")) throw any || message !== "incorrect header check" ? damaged(`it does not unpack (${message})`) : foreign(name);
    throw error;
  } finally {
    unpacked.destroy();
    packed.destroy();
  }
  if (rest !== "") throw any ? damaged(CUT_SHORT) : foreign(name);
}
