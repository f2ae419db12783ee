/** One cell of SpreadsheetML: what is written between its tags, as text and, where the file says number, as an exact figure. */
import { Decimal, type Exact, exact, isExact } from "@/lib/measure";
import type { TableCell } from "./read-shapes";
import { type NumberLook, dayText } from "./xlsx-read-date";

/** What a spreadsheet keeps of a number, whatever it wrote down: IEEE 754 double, shown to 15 digits. */
const DIGITS = 15;
const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d{1,4})?$/i;

/** The type of the cell is SpreadsheetML's (18.18.11): s, str, inlineStr, b, e, d, n. */
export function cellOf(type: string, value: string, look: NumberLook, shared: readonly string[], from1904: boolean): TableCell {
  switch (type) {
    case "s": return text(shared[/^\d{1,9}$/.test(value.trim()) ? Number(value) : -1] ?? "");
    case "b": return text(value.trim() === "1" || value.trim().toLowerCase() === "true" ? "TRUE" : value.trim() === "" ? "" : "FALSE");
    case "d": return text(value.trim().replace(/T00:00(?::00(?:\.0+)?)?Z?$/, "").replace("T", " "));
    case "n": case "": return numberCell(value.trim(), look, from1904);
    default: return text(unescapedText(value));
  }
}

function text(content: string): TableCell {
  return { text: content, number: null };
}

/** What is written with no more digits than are kept, as nearly every number is, stands as it is. */
const SHORT = /^-?(?:0|[1-9]\d{0,9})(?:\.\d{0,4}[1-9])?$/;

function numberCell(written: string, look: NumberLook, from1904: boolean): TableCell {
  if (look === "number" && SHORT.test(written) && written !== "-0") return { text: written, number: exact(written) };
  if (!NUMBER.test(written)) return text(written);
  const value = new Decimal(written).toSignificantDigits(DIGITS);
  if (look === "day" || look === "time" || look === "day-time") {
    const day = dayText(value, look, from1904);
    if (day !== null) return text(day);
  }
  const number = plain(value);
  if (number === null) return text(written);
  if (look === "percent") return { text: `${plain(value.mul(100)) ?? written}%`, number };
  // A number made to look like a code: 00123.
  if (typeof look === "object" && value.isInteger() && !value.isNegative()) return { text: number.padStart(look.digits, "0"), number };
  return { text: number, number };
}

function plain(value: Decimal): Exact | null {
  const digits = value.isZero() ? "0" : value.toFixed();
  return isExact(digits) ? digits : null;
}

/** Characters that XML cannot hold are written _x000D_ (18.18.93); controls are of no use to anybody. */
export function unescapedText(written: string): string {
  return written.replace(/_x([0-9A-Fa-f]{4})_/g, (_, code: string) => String.fromCharCode(parseInt(code, 16)))
    .replace(/\r\n?/g, "\n").replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, "");
}
