/**
 * The parts of a zip file, one at a time and within bounds. Its list of contents (the central directory, APPNOTE 4.3.12) is
 * read first: what it declares in all, how far that is beyond what is there, parts that lie over each other (how a small
 * file is made to unpack without end) and parts under a password are refused before anything is unpacked. While a part is
 * unpacked it is counted: more than was declared, or than is left of the whole, stops it there, so that memory never grows
 * by what a file only claims. What came out is checked by its CRC-32: a broken price is worse than none.
 */
import { Inflate } from "fflate";
import { type Checked, bad, good } from "@/lib/measure";
import { FILE_LIMITS } from "./read-shapes";

export interface ZipPart {
  readonly name: string;
  readonly method: number;
  readonly packed: number;
  readonly unpacked: number;
  readonly crc: number;
  /** Where its own header begins. */
  readonly at: number;
}

/** Parts by name in lower case, "xl/workbook.xml". */
export type Zip = ReadonlyMap<string, ZipPart>;

const MOST_PARTS = 5_000;
const STEP = 32 * 1024;
/** A small part that unpacks well is no bomb. */
const SMALL = 4 * 1024 * 1024;
const BROKEN = bad("", "broken-zip", "The workbook is broken or cut off: open it in a spreadsheet, save it again and read that.");
const BOMB = bad("", "too-large-unpacked", `The workbook unpacks to far more than a list holds (over ${FILE_LIMITS.unpacked / 1024 / 1024} MB, or over ${FILE_LIMITS.ratio} times its size): it was not opened. Save only the sheet with the list.`);

/** Codes: broken-zip, too-large-unpacked, password. */
export function openZip(bytes: Uint8Array): Checked<Zip> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = endOfDirectory(view);
  if (end === null) return BROKEN;
  const many = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  if (many > MOST_PARTS || at > end) return BROKEN;
  const parts = new Map<string, ZipPart>();
  let total = 0;
  for (let n = 0; n < many; n += 1) {
    if (at + 46 > end || view.getUint32(at, true) !== 0x02014b50) return BROKEN;
    const [nameLength, extraLength, noteLength] = [view.getUint16(at + 28, true), view.getUint16(at + 30, true), view.getUint16(at + 32, true)];
    const after = at + 46 + nameLength + extraLength + noteLength;
    if (after > end) return BROKEN;
    if ((view.getUint16(at + 8, true) & 1) !== 0) return bad("", "password", "The workbook is kept under a password: open it in a spreadsheet, take the password off, save it and read that.");
    const sizes = wideSizes(view, at, at + 46 + nameLength, extraLength);
    if (sizes === null) return BROKEN;
    const name = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + nameLength)).replaceAll("\\", "/").replace(/^\/+/, "");
    const part: ZipPart = { name, method: view.getUint16(at + 10, true), crc: view.getUint32(at + 16, true), ...sizes };
    total += part.unpacked;
    if (total > FILE_LIMITS.unpacked || (part.unpacked > SMALL && part.unpacked > part.packed * FILE_LIMITS.ratio)) return BOMB;
    if (part.at + 30 + part.packed > bytes.length) return BROKEN;
    // Of two parts of one name a program may read either: neither is to be trusted.
    if (parts.has(name.toLowerCase())) return BROKEN;
    parts.set(name.toLowerCase(), part);
    at = after;
  }
  const inOrder = [...parts.values()].sort((one, other) => one.at - other.at);
  if (inOrder.some((part, n) => { const next = inOrder[n + 1]; return next !== undefined && part.at + 30 + part.packed > next.at; })) return BOMB;
  return good(parts);
}

function endOfDirectory(view: DataView): number | null {
  const first = Math.max(0, view.byteLength - 22 - 0xffff);
  for (let at = view.byteLength - 22; at >= first; at -= 1) if (view.getUint32(at, true) === 0x06054b50) return at;
  return null;
}

/** Sizes and place, from the extra field of zip64 where the plain ones are full (APPNOTE 4.5.3). */
function wideSizes(view: DataView, at: number, extraAt: number, extraLength: number): Pick<ZipPart, "packed" | "unpacked" | "at"> | null {
  const plain = [view.getUint32(at + 24, true), view.getUint32(at + 20, true), view.getUint32(at + 42, true)];
  if (plain.every((size) => size !== 0xffffffff)) return { unpacked: plain[0] ?? 0, packed: plain[1] ?? 0, at: plain[2] ?? 0 };
  for (let here = extraAt; here + 4 <= extraAt + extraLength;) {
    const length = view.getUint16(here + 2, true);
    if (view.getUint16(here, true) === 1 && here + 4 + length <= extraAt + extraLength) {
      let next = here + 4;
      const wide = plain.map((size) => {
        if (size !== 0xffffffff) return size;
        const value = next + 8 <= here + 4 + length ? Number(view.getBigUint64(next, true)) : Infinity;
        next += 8;
        return value;
      });
      return wide.every(Number.isSafeInteger) ? { unpacked: wide[0] ?? 0, packed: wide[1] ?? 0, at: wide[2] ?? 0 } : null;
    }
    here += 4 + length;
  }
  return null;
}

/** Hands the part's bytes to `sink` in pieces. What `sink` throws goes through. Codes: broken-zip, too-large-unpacked. */
export function unpackPart(bytes: Uint8Array, part: ZipPart, sink: (piece: Uint8Array) => void): Checked<null> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (view.getUint32(part.at, true) !== 0x04034b50) return BROKEN;
  const from = part.at + 30 + view.getUint16(part.at + 26, true) + view.getUint16(part.at + 28, true);
  const to = from + part.packed;
  if (to > bytes.length || (part.method !== 0 && part.method !== 8)) return BROKEN;
  let [count, crc, over, whole] = [0, -1, false, part.method === 0];
  let thrown: { readonly error: unknown } | null = null;
  const take = (piece: Uint8Array): void => {
    count += piece.length;
    if (count > part.unpacked) { over = true; return; }
    crc = crcOf(piece, crc);
    try { sink(piece); } catch (error) { thrown = { error }; }
  };
  const inflate = part.method === 8 ? new Inflate((piece, last) => { if (!over && thrown === null) take(piece); if (last) whole = true; }) : null;
  for (let at = from; at < to || (at === from && inflate !== null); at += STEP) {
    const piece = bytes.subarray(at, Math.min(at + STEP, to));
    if (inflate === null) take(piece);
    else {
      try { inflate.push(piece, at + STEP >= to); } catch { return BROKEN; }
    }
    if (thrown !== null) throw (thrown as { readonly error: unknown }).error;
    if (over) return BOMB;
  }
  return whole && count === part.unpacked && (crc ^ -1) >>> 0 === part.crc ? good(null) : BROKEN;
}

const CRC_TABLE = Int32Array.from({ length: 256 }, (_, n) => {
  let value = n;
  for (let bit = 0; bit < 8; bit += 1) value = (value & 1) !== 0 ? 0xedb88320 ^ (value >>> 1) : value >>> 1;
  return value;
});

function crcOf(piece: Uint8Array, so: number): number {
  let crc = so;
  for (let at = 0; at < piece.length; at += 1) crc = (CRC_TABLE[(crc ^ (piece[at] ?? 0)) & 0xff] ?? 0) ^ (crc >>> 8);
  return crc;
}
