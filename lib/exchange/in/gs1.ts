/**
 * What a carton's GS1 code says: element strings of an application identifier and its data, written for people as
 * "(01)9…(3202)001580" or as a scanner sends them, with the character GS (FNC1) after each that has no fixed length. Scanning a
 * carton gives its item, its net weight and its lot in one move. Source: GS1 General Specifications: identifiers 3.2–3.9,
 * fixed lengths 7.8.5, the century of two digits 7.12, a day of 00 as the last of its month 3.4.
 */
import { gtin14 } from "@/lib/book";
import { type Checked, type Exact, type Quantity, bad, exactRatio, good, quoted } from "@/lib/measure";
import type { Gs1 } from "./read-shapes";

const LONGEST = 400;
/** What stands for FNC1 between elements: the character itself, its picture, and how some scanners spell it. */
const SEPARATORS = /\u001d|\u241d|<GS>|\{GS\}|\[GS\]|\^\]|\\x1d|\\u001d/gi;
/** What a scanner puts in front to say which kind of code it was: GS1-128, DataBar, DataMatrix, QR, DotCode. */
const SYMBOLOGY = /^\](?:C1|e0|d2|Q3|J1)/;
const GS = "\u001d";

/** Data of a fixed length, by the first two digits of the identifier; both together (figure 7.8.5-2). */
const FIXED: Readonly<Record<string, number>> = {
  "00": 20, "01": 16, "02": 16, "03": 16, "04": 18, "11": 8, "12": 8, "13": 8, "14": 8, "15": 8, "16": 8, "17": 8, "18": 8, "19": 8, "20": 4,
  "31": 10, "32": 10, "33": 10, "34": 10, "35": 10, "36": 10, "41": 16,
};

/** How many digits an identifier has, by its first two (figure 7.8.2-1). */
function identifierLength(first: string): number | null {
  if (/^(?:0[0-4]|1[0-35-7]|2[0-2]|30|37|9\d)$/.test(first)) return 2;
  if (/^(?:2[345]|4[0123]|71)$/.test(first)) return first === "43" ? 4 : 3;
  if (/^(?:3[1-69]|7[0-2]|8[0-2])$/.test(first)) return 4;
  return null;
}

interface Element { readonly id: string; readonly data: string }

/**
 * `today` decides the century of a date's two digits. A bare GTIN, as under a retail bar code, is read too.
 * Codes: missing, too-long, not-gs1, check-digit, not-a-day, twice, no-separator.
 */
export function readGs1(scan: string, today: string): Checked<Gs1> {
  if (scan.length > LONGEST) return bad("", "too-long", `A carton’s code is at most about 100 characters; this is ${scan.length}. Scan one carton at a time.`);
  const text = scan.trim().replace(SEPARATORS, GS).replace(SYMBOLOGY, "").replace(/^\u001d+/, "").trim();
  if (text === "") return bad("", "missing", "Nothing was scanned: scan the carton’s code, or type it as (01)… (3202)… .");
  const alone = /^[\d\s-]{8,18}$/.test(text) ? gtin14(text) : null;
  const elements = alone !== null ? good([{ id: "01", data: alone }]) : text.startsWith("(") ? bracketed(text) : raw(text);
  return elements.ok ? understood(elements.value, today) : elements;
}

function bracketed(text: string): Checked<readonly Element[]> {
  const elements: Element[] = [];
  const pattern = /\((\d{2,4})\)/g;
  const starts = [...text.matchAll(pattern)].filter(({ 1: id = "" }) => identifierLength(id.slice(0, 2)) === id.length);
  if (starts[0]?.index !== 0) return notGs1(text);
  starts.forEach((start, n) => {
    const data = text.slice(start.index + start[0].length, starts[n + 1]?.index ?? text.length).replaceAll(GS, "").trim();
    elements.push({ id: start[1] ?? "", data });
  });
  return good(elements);
}

function raw(text: string): Checked<readonly Element[]> {
  const elements: Element[] = [];
  for (let at = 0; at < text.length;) {
    if (text[at] === GS) { at += 1; continue; }
    const first = text.slice(at, at + 2);
    const length = /^\d\d$/.test(first) ? identifierLength(first) : null;
    const id = length === null ? "" : text.slice(at, at + length);
    if (length === null || !/^\d+$/.test(id) || id.length !== length) return notGs1(text);
    const separator = text.indexOf(GS, at);
    const end = FIXED[first] === undefined ? (separator < 0 ? text.length : separator) : at + FIXED[first];
    if (end > text.length) return bad("", "not-gs1", `The code stops in the middle of (${id}): scan it again, all of it.`);
    elements.push({ id, data: text.slice(at + length, end) });
    at = end;
  }
  return good(elements);
}

function notGs1(text: string): Checked<never> {
  return bad("", "not-gs1", `${quoted(text.replaceAll(GS, " "))} is no GS1 code: it begins with an identifier such as (01), or is a number of 8, 12, 13 or 14 digits whose check digit holds.`);
}

function understood(elements: readonly Element[], today: string): Checked<Gs1> {
  const told = new Map<string, string>();
  for (const { id, data } of elements) {
    const before = told.get(id);
    if (before !== undefined && before !== data) return bad("", "twice", `The code says (${id}) twice, as ${quoted(before)} and as ${quoted(data)}: two labels were read as one. Scan one at a time.`);
    told.set(id, data);
  }
  const number = told.get("01") ?? told.get("02");
  const gtin = number === undefined ? "" : gtin14(number);
  if (gtin === null || (number !== undefined && number.length !== 14)) return bad("", "check-digit", `The item number ${quoted(number ?? "")} does not hold: its last digit checks the others. Scan again, or type it anew.`);
  const weight = weightOf(told);
  if (!weight.ok) return weight;
  const days: (string | null)[] = [];
  for (const id of ["11", "13", "15", "17"]) {
    const data = told.get(id);
    const day = data === undefined ? null : gs1Day(data, today);
    if (data !== undefined && day === null) return bad("", "not-a-day", `(${id}) ${quoted(data)} is no day: it is written year, month, day, such as 260531.`);
    days.push(day);
  }
  for (const [id, what] of [["10", "lot"], ["21", "serial number"]] as const) {
    const data = told.get(id) ?? "";
    if (data.length > 20) return bad("", "no-separator", `The ${what} (${id}) is ${data.length} characters long and may have 20: the scanner left out the mark that ends it. Set it to send GS (FNC1), or type the code with brackets.`);
  }
  const counted = told.get("30") ?? told.get("37");
  if (counted !== undefined && !/^\d{1,8}$/.test(counted)) return bad("", "not-gs1", `The count ${quoted(counted)} is no number of at most 8 digits: scan again.`);
  return good({
    gtin, variableMeasure: gtin.startsWith("9"), netWeight: weight.value, lot: told.get("10") ?? "", serial: told.get("21") ?? "",
    producedOn: days[0] ?? null, packedOn: days[1] ?? null, bestBefore: days[2] ?? null, useBy: days[3] ?? null,
    count: counted === undefined ? null : exactRatio(BigInt(counted), 1n),
  });
}

/** 310n in kilos, 320n in pounds; n is the number of decimals: (3202)001580 is 15.80 lb. Where both are told, the first. */
function weightOf(told: ReadonlyMap<string, string>): Checked<Quantity | null> {
  for (const [id, data] of told) {
    const match = /^3([12])0([0-9])$/.exec(id);
    if (match === null) continue;
    if (!/^\d{6}$/.test(data) || Number(match[2]) > 5) return bad("", "not-gs1", `The net weight (${id}) ${quoted(data)} is not six digits: scan again.`);
    return good({ amount: decimals(data, Number(match[2])), unit: match[1] === "1" ? "kg" : "lb" });
  }
  return good(null);
}

/** The digits with so many decimals, kept as written: 15.80. */
function decimals(digits: string, places: number): Exact {
  const whole = digits.slice(0, digits.length - places).replace(/^0+(?=\d)/, "");
  return (places === 0 ? whole : `${whole === "" ? "0" : whole}.${digits.slice(-places)}`) as Exact;
}

/** YYMMDD as an ISO day; null where there is no such day. */
export function gs1Day(data: string, today: string): string | null {
  const match = /^(\d\d)(\d\d)(\d\d)$/.exec(data);
  if (match === null) return null;
  const [year2, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])];
  const thisYear = Number(today.slice(0, 4));
  const apart = year2 - (thisYear % 100);
  // 7.12: 51 to 99 years ahead is the century before, 50 to 99 behind the one after.
  const year = thisYear - (thisYear % 100) + year2 + (apart >= 51 ? -100 : apart <= -50 ? 100 : 0);
  if (month < 1 || month > 12) return null;
  const last = new Date(Date.UTC(year, month, 0)).getUTCDate();
  if (day > last) return null;
  return `${year}-${match[2] ?? ""}-${String(day === 0 ? last : day).padStart(2, "0")}`;
}
