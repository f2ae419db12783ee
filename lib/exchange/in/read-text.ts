/**
 * Bytes as text: UTF-8 or UTF-16, told by a byte order mark (Unicode Standard, 23.8) or guessed, else Windows-1252, which is
 * what an older spreadsheet writes in the West. A guess says that it is one, and can be overruled. UTF-8 is guessed only
 * where every byte of it holds together, which text of another encoding almost never does by chance.
 */
import { type Checked, bad, good } from "@/lib/measure";
import type { Encoding, Guessed } from "./read-shapes";

export const ENCODING_NAMES: Readonly<Record<Encoding, string>> = { "utf-8": "UTF-8", "utf-16le": "UTF-16", "utf-16be": "UTF-16 (big-endian)", "windows-1252": "Windows-1252 (Western)" };

export interface DecodedText {
  readonly text: string;
  readonly encoding: Guessed<Encoding>;
}

/** Codes: not-text, not-the-encoding. */
export function decodeText(bytes: Uint8Array, asked?: Encoding): Checked<DecodedText> {
  if (startsWith(bytes, [0xff, 0xfe, 0, 0]) || startsWith(bytes, [0, 0, 0xfe, 0xff])) return bad("", "not-text", "The text is in UTF-32, which is not read here: save it as CSV UTF-8.");
  const told = markOf(bytes);
  const encoding: Guessed<Encoding> = asked !== undefined ? { value: asked, by: "asked" } : told !== null ? { value: told, by: "told" } : { value: guess(bytes), by: "guessed" };
  const text = decoded(bytes, encoding.value);
  if (text === null) return bad("", "not-the-encoding", `The file does not hold together as ${ENCODING_NAMES[encoding.value]}: read it as ${ENCODING_NAMES[encoding.value === "utf-8" ? "windows-1252" : "utf-8"]} instead.`);
  const strange = text.match(/[\u0000-\u0008\u000e-\u0019\u001b-\u001f]/g)?.length ?? 0;
  if (strange > 2 + text.length / 500) return bad("", "not-text", "This is neither a workbook nor text that can be read: save the list as .xlsx or as CSV and read that.");
  return good({ text: strange === 0 ? text : text.replace(/[\u0000-\u0008\u000e-\u001f]/g, ""), encoding });
}

export function startsWith(bytes: Uint8Array, start: readonly number[]): boolean {
  return bytes.length >= start.length && start.every((byte, at) => bytes[at] === byte);
}

function markOf(bytes: Uint8Array): Encoding | null {
  if (startsWith(bytes, [0xef, 0xbb, 0xbf])) return "utf-8";
  if (startsWith(bytes, [0xff, 0xfe])) return "utf-16le";
  if (startsWith(bytes, [0xfe, 0xff])) return "utf-16be";
  return null;
}

/** In UTF-16 nearly every other byte of Western text is 0. */
function guess(bytes: Uint8Array): Encoding {
  const looked = Math.min(bytes.length, 4096);
  let [even, odd] = [0, 0];
  for (let at = 0; at < looked; at += 1) {
    if (bytes[at] !== 0) continue;
    if (at % 2 === 0) even += 1;
    else odd += 1;
  }
  const many = looked / 8;
  if (odd > many && even < odd / 8) return "utf-16le";
  if (even > many && odd < even / 8) return "utf-16be";
  return decoded(bytes, "utf-8") === null ? "windows-1252" : "utf-8";
}

/** null: a byte that the encoding does not have. */
function decoded(bytes: Uint8Array, encoding: Encoding): string | null {
  try {
    const text = new TextDecoder(encoding, { fatal: encoding === "utf-8" }).decode(bytes);
    return encoding === "windows-1252" ? text.replace(/[\u0080-\u009f]/g, (control) => HIGH[control.charCodeAt(0) - 0x80] ?? "") : text;
  } catch {
    return null;
  }
}

/** Some versions of Node read Windows-1252 as Latin-1, which differs from 0x80 to 0x9f: the euro sign, quotes, dashes. */
const HIGH = [..."€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ"];
