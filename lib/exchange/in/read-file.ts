/**
 * Reads a file that a dealer sent. What it is, is told by what stands in it, never by its name; a name that promises
 * something else only helps the sentence. Never throws on a file, however broken: each refusal says what the file is and
 * what to do instead.
 */
import { type Checked, bad } from "@/lib/measure";
import { readCsv } from "./csv-read";
import { type AskedOfFile, FILE_LIMITS, type FileRead } from "./read-shapes";
import { decodeText, startsWith } from "./read-text";
import { readUbl } from "./ubl";
import { readXlsx } from "./xlsx-read";

/** Codes: too-large, empty, not-a-workbook, and those of the readers. */
export function readFileIn(bytes: Uint8Array, fileName: string, asked: AskedOfFile = {}): Checked<FileRead> {
  if (bytes.length === 0) return bad("", "empty", "The file is empty: nothing was sent.");
  if (bytes.length > FILE_LIMITS.bytes) return bad("", "too-large", `The file is ${(bytes.length / 1024 / 1024).toFixed(1)} MB; at most ${FILE_LIMITS.bytes / 1024 / 1024} MB are read. Save only the list, without pictures.`);
  if (startsWith(bytes, [0x50, 0x4b, 3, 4]) || startsWith(bytes, [0x50, 0x4b, 5, 6])) return readXlsx(bytes);
  const other = KNOWN.find(({ starts }) => startsWith(bytes, starts));
  if (other !== undefined) return bad("", "not-a-workbook", typeof other.say === "string" ? other.say : other.say(bytes));
  const text = decodeText(bytes, asked.encoding ?? xmlEncoding(bytes));
  if (!text.ok) return text;
  const start = text.value.text.slice(0, 400).trimStart().toLowerCase();
  if (start.startsWith("<!doctype html") || start.startsWith("<html")) return bad("", "not-a-workbook", "This is a web page, whatever its name says: open it in a spreadsheet, save it as .xlsx or CSV, and read that.");
  if (/^<(?:\?xml|!--|!doctype|[a-z_][\w.-]*(?::[\w.-]+)?[\s/>])/.test(start)) return readUbl(text.value.text);
  if (start.startsWith("{\\rtf")) return bad("", "not-a-workbook", "This is a text document (RTF): copy its table into a spreadsheet and save that as .xlsx.");
  return readCsv(text.value, fileName, asked);
}

/** Old Office files are one container for a workbook, a document, and for a new workbook under a password. */
function oldOffice(bytes: Uint8Array): string {
  if (holds(bytes, "EncryptedPackage")) return "The workbook is kept under a password: open it in a spreadsheet, take the password off, save it as .xlsx and read that.";
  return "This is a file of the old Office kind (.xls, .doc): open it, save it as an Excel workbook (.xlsx) or as CSV, and read that.";
}

/** A name in UTF-16, as the directory of such a container has it. */
function holds(bytes: Uint8Array, name: string): boolean {
  const wanted = [...name].flatMap((letter) => [letter.charCodeAt(0), 0]);
  const last = bytes.length - wanted.length;
  for (let at = 0; at <= last; at += 2) if (bytes[at] === wanted[0] && wanted.every((byte, n) => bytes[at + n] === byte)) return true;
  return false;
}

const KNOWN: readonly { readonly starts: readonly number[]; readonly say: string | ((bytes: Uint8Array) => string) }[] = [
  { starts: [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1], say: oldOffice },
  { starts: [0x25, 0x50, 0x44, 0x46], say: "This is a PDF: ask the dealer for the list as .xlsx or CSV, or type it in." },
  { starts: [0x89, 0x50, 0x4e, 0x47], say: "This is a picture: a list is read as .xlsx or CSV." },
  { starts: [0xff, 0xd8, 0xff], say: "This is a picture: a list is read as .xlsx or CSV." },
  { starts: [0x47, 0x49, 0x46, 0x38], say: "This is a picture: a list is read as .xlsx or CSV." },
  { starts: [0x1f, 0x8b], say: "This is a packed file (gzip): unpack it and read the list itself." },
  { starts: [0x52, 0x61, 0x72, 0x21], say: "This is a packed file (RAR): unpack it and read the list itself." },
  { starts: [0x37, 0x7a, 0xbc, 0xaf], say: "This is a packed file (7z): unpack it and read the list itself." },
  { starts: [0x50, 0x4b], say: "This is a broken zip file: ask for it again." },
];

/** The encoding that XML declares in its first line, where it is one of ours. */
function xmlEncoding(bytes: Uint8Array): AskedOfFile["encoding"] {
  const start = [...bytes.subarray(0, 120)].map((byte) => String.fromCharCode(byte)).join("");
  const declared = /^<\?xml[^>]*encoding=["']([\w-]{1,20})["']/i.exec(start)?.[1]?.toLowerCase();
  return declared === "iso-8859-1" || declared === "windows-1252" || declared === "iso-8859-15" || declared === "us-ascii" ? "windows-1252" : undefined;
}
