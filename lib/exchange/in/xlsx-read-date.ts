/**
 * Days in a workbook are numbers with a format: days since 31 December 1899, in which 29 February 1900 exists though it never
 * was, or since 1 January 1904 (ISO/IEC 29500-1, 18.17.4.1). Which formats are days: 18.8.30 for the numbered ones, and for
 * written ones those that name a year, month, day, hour or second outside of quotation marks and brackets.
 */
import type { Decimal } from "@/lib/measure";

export type NumberLook = "number" | "percent" | "day" | "time" | "day-time" | { readonly digits: number };

const DAY_IDS = new Set([14, 15, 16, 17, 27, 28, 29, 30, 31, 34, 35, 36, 50, 51, 52, 53, 54, 55, 56, 57, 58]);
const TIME_IDS = new Set([18, 19, 20, 21, 32, 33, 45, 46, 47]);

/** How a number of that format looks. `code` is the written one, where the workbook has one. */
export function lookOf(id: number, code: string | undefined): NumberLook {
  if (code === undefined) return DAY_IDS.has(id) ? "day" : TIME_IDS.has(id) ? "time" : id === 22 ? "day-time" : id === 9 || id === 10 ? "percent" : "number";
  const [first = ""] = code.replace(/"[^"]*"?|\\.|_.|\*./g, "").split(";");
  const bare = first.replace(/\[(?!h+\]|m+\]|s+\])[^\]]*\]?/gi, "").replace(/general/gi, "").replace(/am\/pm|a\/p/gi, "h");
  if (/^0{2,}$/.test(bare)) return { digits: bare.length };
  const day = /[yd]|(?:^|[^a-z])m{3,5}(?:$|[^a-z])/i.test(bare);
  const time = /[hs]/i.test(bare);
  if (day || time) return day && time ? "day-time" : day ? "day" : "time";
  return /^[^a-z]*m{1,2}[^a-z]*$/i.test(bare) ? "day" : bare.includes("%") ? "percent" : "number";
}

const LAST_DAY = 2_958_465;
const DAY_MS = 86_400_000;
const SECONDS = 86_400;

/** "2026-05-03", "14:30", "2026-05-03 14:30"; null where the number is no day that the calendar has. */
export function dayText(serial: Decimal, look: "day" | "time" | "day-time", from1904: boolean): string | null {
  if (serial.isNegative() || serial.gt(LAST_DAY + 1)) return null;
  let whole = serial.floor().toNumber();
  let seconds = serial.sub(whole).mul(SECONDS).round().toNumber();
  if (seconds >= SECONDS) [whole, seconds] = [whole + 1, 0];
  const clock = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, ...(seconds % 60 === 0 ? [] : [seconds % 60])].map((part) => String(part).padStart(2, "0")).join(":");
  if (look === "time" && whole === 0) return clock;
  const day = dayOf(whole, from1904);
  if (day === null) return null;
  return seconds === 0 ? day : `${day} ${clock}`;
}

function dayOf(serial: number, from1904: boolean): string | null {
  // The day that never was, and the nought before the first.
  if (!from1904 && (serial === 60 || serial === 0)) return null;
  const start = from1904 ? Date.UTC(1904, 0, 1) : Date.UTC(1899, 11, serial < 60 ? 31 : 30);
  const day = new Date(start + serial * DAY_MS);
  return day.getUTCFullYear() > 9999 ? null : day.toISOString().slice(0, 10);
}
