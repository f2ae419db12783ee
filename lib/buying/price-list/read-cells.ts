/**
 * Reading single cells of a price list: a price with its sign and unit, a day, a GTIN. Which mark is the decimal one is
 * told by the list, not by the kitchen: a list from abroad writes as people there do.
 */
import { isDay } from "@/lib/book";
import { type Checked, type Exact, type Habits, bad, good, parseNumber, quoted, ratio, toDecimal } from "@/lib/measure";
import type { ListCell, PricedPer } from "./line";
import { pricedPer } from "./words";

export type DecimalMark = "." | ",";

/** A way of writing whose decimal mark is that of the list. */
export function listHabits<H extends Habits>(habits: H, decimal: DecimalMark): H {
  return { ...habits, locale: decimal === "." ? "en-US" : "de-DE" };
}

export interface ReadPrice {
  readonly amount: Exact;
  /** The sign or code beside it, as ISO 4217; null: none. */
  readonly currency: string | null;
  readonly per: PricedPer | null;
}

const SIGNS: Readonly<Record<string, string>> = { "€": "EUR", "£": "GBP", "¥": "JPY", "₹": "INR", "₺": "TRY", "₩": "KRW", "zł": "PLN", "kč": "CZK", "fr": "CHF", "us$": "USD", "c$": "CAD", "ca$": "CAD", "a$": "AUD", "nz$": "NZD" };
const DOLLARS = new Set(["USD", "CAD", "AUD", "NZD", "SGD", "HKD", "MXN", "CLP", "COP", "ARS"]);
const CROWNS = new Set(["SEK", "NOK", "DKK", "ISK"]);
const CURRENCIES = new Set(Intl.supportedValuesOf("currency"));

/** A currency as lists write it: its code, or its sign; "$" and "kr" are the kitchen's own where it pays in one of them. */
export function currencyOf(text: string, habits: Pick<Habits, "currency">): string | null {
  const bare = text.trim().replace(/\.$/, "");
  const upper = bare.toUpperCase();
  if (CURRENCIES.has(upper)) return upper;
  const lower = bare.toLowerCase();
  if (lower === "$") return DOLLARS.has(habits.currency) ? habits.currency : "USD";
  if (lower === "kr") return CROWNS.has(habits.currency) ? habits.currency : null;
  return SIGNS[lower] ?? null;
}

/** Sign, figure, sign, and what it is for: "€ 1.234,56", "7.10 $/lb", "USD 7.10 per case". */
const PRICE = /^(?<before>[\p{L}.]{0,3}\p{Sc}|\p{L}{2,3}\.?)?\s*(?<figure>[+-]?[\d.,'’ \u00a0]*\d(?:[.,](?:-+|–))?)\s*(?<after>\p{L}{0,2}\p{Sc}|\p{L}{2,3}\.?(?=$|\s|\/))?\s*(?<per>(?:\/|per\b|je\b|pro\b|par\b|por\b|al\b).*|\p{L}{1,12})?$/iu;
/** What stands where a price should. */
const NO_PRICE = /^(?:n\/?a|-+|–|tba|tbd|poa|call|market|tagespreis|a\.? ?a\.?|auf anfrage|sur demande|nc|s\/?p|consultar|su richiesta|op aanvraag|out|oos)$/i;

/** An amount above zero. */
export function readPrice(cell: ListCell, decimal: DecimalMark, habits: Habits): Checked<ReadPrice> {
  const text = cell.text.trim();
  if (cell.number !== null) return aboveZero({ amount: cell.number, currency: null, per: null }, text);
  if (text === "") return bad("price", "no-price", "There is no price in this line: ask the dealer for it, or leave the line out.");
  if (NO_PRICE.test(text)) return bad("price", "no-price", `${quoted(text)} is no price: ask the dealer what it costs, or leave the line out.`);
  const found = text.length > 60 ? null : PRICE.exec(text);
  if (found === null) return bad("price", "not-a-price", `${quoted(text)} is not a price: a figure such as 7${decimal}10 belongs in this column.`);
  const { before = "", figure = "", after = "", per = "" } = found.groups ?? {};
  const number = parseNumber(figure.replace(/[.,](?:-+|–)$/, ""), listHabits(habits, decimal));
  if (!number.ok) return bad("price", "not-a-price", `${quoted(text)} is not a price: a figure such as 7${decimal}10 belongs in this column.`);
  const sign = before === "" ? after : before;
  const unit = per === "" && sign !== "" && currencyOf(sign, habits) === null ? sign : per;
  const money = sign === unit ? "" : sign;
  const currency = money === "" ? null : currencyOf(money, habits);
  if (money !== "" && currency === null) return bad("price", "not-a-price", `${quoted(money)} in ${quoted(text)} is no currency known here: write its three letters, such as EUR.`);
  const pricedFor = unit === "" ? null : pricedPer(unit);
  if (unit !== "" && pricedFor === null) return bad("price", "unknown-unit", `${quoted(unit)} in ${quoted(text)} is no unit known here: a price is for a case or for one of a unit, such as lb or kg.`);
  return aboveZero({ amount: number.value, currency, per: pricedFor }, text);
}

/** So many digits before the point are no price of food in any money. */
const MOST_WHOLE = 9;

function aboveZero(read: ReadPrice, text: string): Checked<ReadPrice> {
  const sign = ratio.sign(ratio.fromExact(read.amount));
  if (sign < 0) return bad("price", "negative", `${quoted(text)} is below zero: a credit is not a price. Leave it out here, and enter the credit under Deliveries.`);
  if (sign === 0) return bad("price", "zero", `${quoted(text)} is no price: it is above zero. Ask the dealer whether the line is sold out.`);
  const whole = toDecimal(read.amount).trunc().toFixed();
  return whole.length > MOST_WHOLE ? bad("price", "too-large", `${quoted(text)} is larger than any price of food: is another column meant?`) : good(read);
}

/**
 * Which mark is the decimal one, from what stands in a column of prices: a mark before one, two or four figures and more
 * is decimal, and of two kinds of marks the last one. null where no cell tells ("1,234" alone does not).
 */
export function decimalMarkIn(cells: Iterable<ListCell>): DecimalMark | null {
  let point = 0;
  let comma = 0;
  for (const { text, number } of cells) {
    if (number !== null) continue;
    const figure = /\d[\d.,'’ ]*/.exec(text)?.[0].trim() ?? "";
    const lastPoint = figure.lastIndexOf(".");
    const lastComma = figure.lastIndexOf(",");
    const last = Math.max(lastPoint, lastComma);
    if (last < 0) continue;
    const decimals = figure.length - last - 1;
    const mixed = lastPoint >= 0 && lastComma >= 0;
    if (!mixed && (decimals === 3 || decimals === 0)) continue;
    if (lastPoint > lastComma) point += 1;
    else comma += 1;
  }
  return point === comma ? null : point > comma ? "." : ",";
}

export type DayOrder = "day first" | "month first";

/** A calendar day: 2026-12-01, 1.12.2026, 12/1/2026 (by the order given where both can be), 20261201, or a spreadsheet's own number of days. */
export function readDay(cell: ListCell, order: DayOrder): string | null {
  const text = cell.text.trim();
  if (text.length > 40) return null;
  const iso = /(?<!\d)(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?!\d)/.exec(text) ?? /^(20\d{2})(\d{2})(\d{2})$/.exec(text);
  if (iso !== null) return dayOf(iso[1], iso[2], iso[3]);
  const parts = /(?<!\d)(\d{1,2})\s?([./-])\s?(\d{1,2})\s?[./-]\s?(\d{4}|\d{2})(?!\d)/.exec(text);
  if (parts !== null) {
    const [, one, mark, two, year = ""] = parts;
    const whole = year.length === 2 ? `20${year}` : year;
    // Full stops are only written between days that begin with the day.
    const dayFirst = mark === "." || order === "day first";
    return dayFirst ? dayOf(whole, two, one) ?? dayOf(whole, one, two) : dayOf(whole, one, two) ?? dayOf(whole, two, one);
  }
  // Days since the end of 1899, as spreadsheets keep them; from 2000 to 2099.
  const serial = cell.number !== null && /^\d{5}(?:\.\d+)?$/.test(cell.number) ? Math.trunc(Number(cell.number)) : 0;
  if (serial < 36_526 || serial > 73_050) return null;
  return fromDays(serial - 25_569);
}

function dayOf(year: string | undefined, month: string | undefined, day: string | undefined): string | null {
  const text = `${year}-${(month ?? "").padStart(2, "0")}-${(day ?? "").padStart(2, "0")}`;
  return isDay(text) ? text : null;
}

/** The civil day so many days after 1 January 1970 (H. Hinnant, "chrono-compatible low-level date algorithms", days to civil). */
function fromDays(days: number): string {
  const shifted = days + 719_468;
  const era = Math.floor(shifted / 146_097);
  const ofEra = shifted - era * 146_097;
  const yearOfEra = Math.floor((ofEra - Math.floor(ofEra / 1460) + Math.floor(ofEra / 36_524) - Math.floor(ofEra / 146_096)) / 365);
  const ofYear = ofEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const shiftedMonth = Math.floor((5 * ofYear + 2) / 153);
  const day = ofYear - Math.floor((153 * shiftedMonth + 2) / 5) + 1;
  const month = shiftedMonth < 10 ? shiftedMonth + 3 : shiftedMonth - 9;
  return `${yearOfEra + era * 400 + (month <= 2 ? 1 : 0)}-${String(month).padStart(2, "0")}-${String(day).padStart(2, "0")}`;
}
