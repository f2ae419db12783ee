/**
 * Printing numbers, money, shares and days with the kitchen's own marks. Rounding happens here and nowhere before:
 * money to the currency's decimals, factors to 4, percentages to 1, as the trade prints them.
 */
import { type Decimal, type Exact, toDecimal } from "./decimal";
import { type Habits, needsUS } from "./habits";
import { marksOf } from "./parse-number";
import { type Rate, perUnit } from "./quantity";
import { moneyPlaces, roundHalfUp } from "./round";
import { type Unit, UNITS } from "./units";

export interface Printed {
  readonly figure: string;
  readonly unit: string;
}

type Format = (digits: Intl.StringNumericLiteral) => string;
const formats = new Map<string, Format>();

function formatOf(locale: string, options: Intl.NumberFormatOptions): Format {
  const key = `${locale}|${options.style ?? ""}|${options.currency ?? ""}|${options.minimumFractionDigits ?? ""}`;
  const known = formats.get(key);
  if (known) return known;
  const all: Intl.NumberFormatOptions = { ...options, numberingSystem: "latn" };
  let format: Format;
  try {
    format = withOwnMarks(new Intl.NumberFormat(locale, all), all, locale);
  } catch {
    // An unknown locale or currency prints plainly instead of taking the page down.
    const { currency: _currency, currencyDisplay: _display, ...rest } = all;
    const plain = new Intl.NumberFormat("en-US", { ...rest, style: "decimal" });
    format = (digits) => plain.format(digits);
  }
  formats.set(key, format);
  return format;
}

/**
 * In some locales (English in Spain, German in Austria) money comes with other marks than numbers do, and 7.125 euros would
 * be read as thousands: there the marks of numbers stand in money too.
 */
function withOwnMarks(made: Intl.NumberFormat, options: Intl.NumberFormatOptions, locale: string): Format {
  const own = marksOf(locale);
  const tried = new Intl.NumberFormat(locale, { ...options, minimumFractionDigits: 1, maximumFractionDigits: 1 }).formatToParts("1234567.5");
  const differs = tried.some(({ type, value }) => (type === "decimal" && value !== own.decimal) || (type === "group" && value !== own.group));
  if (!differs) return (digits) => made.format(digits);
  return (digits) => made.formatToParts(digits).map(({ type, value }) => (type === "decimal" ? own.decimal : type === "group" ? own.group : value)).join("");
}

/** Exact digits with the locale's marks: the digits go through as text, never as a binary number. */
function withMarks(value: Decimal, places: number, locale: string, options: Intl.NumberFormatOptions = {}): string {
  const digits = value.toFixed(places) as Intl.StringNumericLiteral;
  return formatOf(locale, { ...options, minimumFractionDigits: places, maximumFractionDigits: places })(digits);
}

/** The figure rounded half-up to `places` (else as it is, without noughts at the end), with the locale's marks. */
export function printNumber(value: Decimal, habits: Pick<Habits, "locale">, options: { readonly places?: number | undefined } = {}): string {
  const places = options.places;
  if (places !== undefined) return withMarks(roundHalfUp(value, places), places, habits.locale);
  const kept = Math.min(value.decimalPlaces(), 20);
  return withMarks(roundHalfUp(value, kept), kept, habits.locale);
}

/** "$7.10" or "4,35 €": rounded half-up to the currency's decimals, or to `places`. */
export function printMoney(amount: Decimal, habits: Habits, options: { readonly places?: number | undefined } = {}): string {
  const places = options.places ?? moneyPlaces(habits.currency);
  return withMarks(roundHalfUp(amount, places), places, habits.locale, { style: "currency", currency: habits.currency, currencyDisplay: "narrowSymbol" });
}

/** As `printMoney`, without the currency's sign, for columns that name the currency once. */
export function moneyFigure(amount: Decimal, habits: Habits, options: { readonly places?: number | undefined } = {}): string {
  return printNumber(amount, habits, { places: options.places ?? moneyPlaces(habits.currency) });
}

/** A cost factor: a pure number to 4 places, as the books print it. */
export function printFactor(factor: Decimal, habits: Pick<Habits, "locale">): string {
  return printNumber(factor, habits, { places: 4 });
}

/** A share of one told in hundredths, without the sign: 0.325 is "32.5". One place unless said otherwise. */
export function printShare(share: Decimal, habits: Pick<Habits, "locale">, options: { readonly places?: number | undefined } = {}): string {
  return printNumber(share.mul(100), habits, { places: options.places ?? 1 });
}

/** A recorded share as text: "8.875 %". Keeps every decimal that was given, so that it can stand in a field and be read back. */
export function shareText(share: Exact, habits: Pick<Habits, "locale">): string {
  return `${printNumber(toDecimal(share).mul(100), habits)} %`;
}

/** A difference of two shares in percentage points, without its sign, for sentences that say "up" or "down": 0.013 is "1.3". */
export function printPoints(difference: Decimal, habits: Pick<Habits, "locale">): string {
  return printNumber(difference.abs().mul(100), habits, { places: 1 });
}

/**
 * Money per g, mL or each told per `unit`: figure "$13.51", unit "kg". To the currency's decimals unless said otherwise;
 * per-ounce and per-portion figures usually ask for more.
 */
export function printUnitCost(costPerBase: Decimal, unit: Unit, habits: Habits, options: { readonly places?: number | undefined } = {}): Printed {
  return { figure: printMoney(perUnit(costPerBase, unit), habits, options), unit: UNITS[unit].one };
}

/** A recorded rate as text: "$7.10 / lb". Keeps every decimal that was given, at least the currency's, and six of one that does not end. */
export function rateText(rate: Rate, habits: Habits): string {
  const amount = toDecimal(rate.amount);
  const given = rate.amount.includes("/") ? 6 : Math.min(amount.decimalPlaces(), 20);
  const places = Math.max(moneyPlaces(habits.currency), given);
  return `${printMoney(amount, habits, { places })} / ${needsUS(rate.per, habits) ? "US " : ""}${UNITS[rate.per].one}`;
}

/** A recorded amount of money as one would type it: "17.40". Keeps every decimal that was given, and at least the currency's. */
export function moneyText(amount: Exact, habits: Habits): string {
  const value = toDecimal(amount);
  return printNumber(value, habits, { places: Math.max(moneyPlaces(habits.currency), Math.min(value.decimalPlaces(), 20)) });
}

const dayFormatters = new Map<string, Intl.DateTimeFormat>();

/** "2026-11-25" is "Wed 25 Nov 2026": day before month in every locale, names in the locale's language. */
export function printDay(day: string, habits: Pick<Habits, "locale">): string {
  const found = /^(\d{4})-(\d{2})-(\d{2})/.exec(day);
  if (!found) return day;
  const moment = new Date(Date.UTC(Number(found[1]), Number(found[2]) - 1, Number(found[3])));
  let format = dayFormatters.get(habits.locale);
  if (!format) {
    const options: Intl.DateTimeFormatOptions = { weekday: "short", day: "numeric", month: "short", year: "numeric", timeZone: "UTC", numberingSystem: "latn", calendar: "gregory" };
    try {
      format = new Intl.DateTimeFormat(habits.locale, options);
    } catch {
      format = new Intl.DateTimeFormat("en-US", options);
    }
    dayFormatters.set(habits.locale, format);
  }
  const parts = format.formatToParts(moment);
  const word = (type: Intl.DateTimeFormatPartTypes): string => (parts.find((part) => part.type === type)?.value ?? "").replace(/\.$/, "");
  return `${word("weekday")} ${word("day")} ${word("month")} ${word("year")}`;
}
