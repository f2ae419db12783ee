/**
 * Reading money and rates as a kitchen writes them: 7.10, $7.10/lb, 4,35 € / kg, 0.44 a lb, 3.20 per 100 g, 85¢. A
 * kitchen's book is in one currency: another one's sign or code is refused by name, never converted.
 */
import type { Exact } from "./decimal";
import type { Habits } from "./habits";
import { numberAtStart, quoted, readable, tidy, typedText } from "./parse-number";
import { unitNamed } from "./parse-quantity";
import { type Checked, bad, good } from "./problem";
import type { Money, Rate } from "./quantity";
import { type Ratio, div, fromExact, mul, of, toExact } from "./ratio";
import { type Kind, UNIT_NAMES, type Unit, kindOf } from "./units";

const signsByHabits = new Map<string, ReadonlySet<string>>();

/** Every way the kitchen's own currency is written, lower case: "usd", "$", "us$". */
function ownSigns(habits: Pick<Habits, "locale" | "currency">): ReadonlySet<string> {
  const key = `${habits.locale} ${habits.currency}`;
  const known = signsByHabits.get(key);
  if (known) return known;
  const signs = new Set([habits.currency.toLowerCase()]);
  for (const currencyDisplay of ["symbol", "narrowSymbol"] as const) {
    try {
      const parts = new Intl.NumberFormat(habits.locale, { style: "currency", currency: habits.currency, currencyDisplay }).formatToParts(1);
      for (const part of parts) if (part.type === "currency") signs.add(tidy(part.value).toLowerCase());
    } catch {
      // Not a currency or a locale: checked where the kitchen's settings are made.
    }
  }
  signsByHabits.set(key, signs);
  return signs;
}

const PLAIN_SIGN = /^(?:\p{Sc}|\p{L}{1,5})$/u;

/** The text with a sign that is no single mark or word ("F CFA", "S/", "$U") put as the currency's code. */
function signAsCode(tidied: string, habits: Pick<Habits, "locale" | "currency">): string {
  const lower = tidied.toLowerCase();
  if (lower.length !== tidied.length) return tidied;
  const odd = [...ownSigns(habits)].filter((sign) => !PLAIN_SIGN.test(sign)).sort((a, b) => b.length - a.length);
  for (const sign of odd) {
    const at = lower.indexOf(sign);
    // "S/" is no sign in "lbs/5".
    if (at >= 0 && !/\p{L}$/u.test(tidied.slice(0, at))) return `${tidied.slice(0, at)}${habits.currency}${tidied.slice(at + sign.length)}`;
  }
  return tidied;
}

/** Hundredths that have a sign of their own. */
const HUNDREDTHS: Readonly<Record<string, string>> = { "¢": "$", p: "£" };

/** Reads an amount of the kitchen's currency; zero is money, a minus is not. */
export function parseMoney(text: string, habits: Habits): Checked<Money> {
  const tidied = readable(text, "7.10");
  if (!tidied.ok) return tidied;
  const amount = amountOf(signAsCode(tidied.value, habits), habits);
  return amount.ok ? good(kept(amount.value, text)) : amount;
}

function kept(amount: Exact, text: string): Money {
  const typed = typedText(text);
  return typed === amount ? { amount } : { amount, typed };
}

function amountOf(tidied: string, habits: Habits): Checked<Exact> {
  if (/^\(.*\)$|^-|^\p{Sc} ?-|[\d ]-$/u.test(tidied) && !/[.,] ?-$/.test(tidied)) {
    return bad("", "negative", `${quoted(tidied)} is below zero: a price is above it. A credit from the dealer is not a price.`);
  }
  // "5.-" and "5,–": whole units of money, as written in several countries.
  let rest = tidied.replace(/[.,] ?-+$/, "").replace(/^\+ ?/, "");
  let sign = "";
  const before = /^(?:[\p{L}.]*\p{Sc}|\p{L}[\p{L}.]*)\s*(?=[\d.,])/u.exec(rest);
  if (before) {
    sign = before[0].trim();
    rest = rest.slice(before[0].length);
  }
  const number = numberAtStart(rest, habits);
  if (!number.ok) {
    if (number.problems[0]?.code !== "not-a-number") return number;
    return bad("", "not-money", `${quoted(tidied)} is not a price: write one such as 7.10.`);
  }
  const figure = rest.slice(0, number.value.length);
  const after = rest.slice(number.value.length).trim();
  if (/^e[+-]?\d/i.test(after)) return bad("", "not-a-number", `${quoted(tidied)} is written with an exponent: write the price out in full, such as 7.10.`);
  if (figure.includes("/")) return bad("", "not-money", `${quoted(tidied)} holds a fraction: write the price with decimals, such as 7.10.`);
  if (after !== "" && sign !== "") return bad("", "not-money", `${quoted(tidied)} has something behind the price: write only the price, such as 7.10.`);
  sign ||= after;
  if (sign === "") return good(number.value.value);
  const own = ownSigns(habits);
  const spelled = sign.toLowerCase().replace(/\.$/, "");
  if (own.has(spelled) || own.has(sign.toLowerCase())) return good(number.value.value);
  const unit = HUNDREDTHS[spelled];
  if (unit !== undefined && own.has(unit)) return good(toExact(div(fromExact(number.value.value), of(100n))));
  if (/^\p{Sc}$|^[\p{L}.]{0,4}\p{Sc}$|^\p{L}{3}$/u.test(sign)) {
    return bad("", "other-currency", `This kitchen's prices are in ${habits.currency}; ${quoted(tidied)} is in another currency. Write the price in ${habits.currency}.`);
  }
  return bad("", "not-money", `${quoted(sign)} in ${quoted(tidied)} is not understood: write only the price, such as 7.10.`);
}

const KIND_WORDS: Readonly<Record<Kind, string>> = { mass: "weight", volume: "volume", count: "count" };

/** The words and the stroke between a price and what it is for. */
const FOR_ONE_OF = /^(.*?[\d\p{Sc}.)-]|.*? \p{L}{1,5}) ?(?:\/|@|(?:per|an?|the|pro|je|par|le|al|por) (?=[\d\p{L}#])) ?(.+)$/iu;

/**
 * Reads money per one of a unit; a price without a unit is per `bare`. Units of another kind than `kinds` (else that of
 * `bare`) are refused. "3.20 per 100 g" is kept per kilo.
 */
export function parseRate(text: string, habits: Habits, options: { readonly bare: Unit; readonly kinds?: readonly Kind[] | undefined }): Checked<Rate> {
  const tidied = readable(text, `7.10 / ${options.bare}`);
  if (!tidied.ok) return tidied;
  const { money, per } = split(signAsCode(tidied.value, habits), habits);
  const amount = amountOf(money, habits);
  if (!amount.ok) return amount;
  const typed = typedText(text);
  if (per === null) return good(typed === amount.value ? { amount: amount.value, per: options.bare } : { amount: amount.value, per: options.bare, typed });
  const number = /^[\d.,]/.test(per) ? numberAtStart(per, habits) : null;
  if (number && !number.ok) return number;
  if (number && number.value.length === per.length) {
    return bad("", "unit-missing", `${quoted(tidied.value)} does not say what the price is for: write it such as 7.10 / ${options.bare}.`);
  }
  const unitText = number ? per.slice(number.value.length).trim() : per;
  const unit = unitText === "" ? options.bare : unitNamed(unitText, habits);
  const kinds = options.kinds ?? [kindOf(options.bare)];
  if (unit === undefined) {
    const known = UNIT_NAMES.filter((name) => kinds.includes(kindOf(name))).join(", ");
    return bad("", "unknown-unit", `${quoted(unitText)} in ${quoted(tidied.value)} is not a unit known here: write one of ${known}.`);
  }
  if (!kinds.includes(kindOf(unit))) {
    return bad("", "wrong-kind", `${quoted(tidied.value)} is a price per ${unit}, which measures ${KIND_WORDS[kindOf(unit)]}; the price is needed per ${options.bare} or another unit of ${KIND_WORDS[kindOf(options.bare)]}.`);
  }
  const forHowMany = number ? fromExact(number.value.value) : of(1n);
  if (forHowMany.n === 0n) return bad("", "zero", `${quoted(tidied.value)} is a price for nothing: write what it is for, such as 7.10 / ${options.bare}.`);
  const single = forHowMany.n === 1n && forHowMany.d === 1n;
  const rate = single ? { amount: amount.value, per: unit } : perLarger(fromExact(amount.value), forHowMany, unit);
  return good({ ...rate, typed });
}

function perLarger(amount: Ratio, forHowMany: Ratio, unit: Unit): { readonly amount: Exact; readonly per: Unit } {
  const one = div(amount, forHowMany);
  if (unit === "g") return { amount: toExact(mul(one, of(1000n))), per: "kg" };
  if (unit === "mL") return { amount: toExact(mul(one, of(1000n))), per: "L" };
  return { amount: toExact(one), per: unit };
}

/** Price and unit apart: "$7.10/lb", "0.44 a lb", "7.10 lb", "2.50 each". */
function split(tidied: string, habits: Habits): { readonly money: string; readonly per: string | null } {
  const said = FOR_ONE_OF.exec(tidied);
  if (said) return { money: (said[1] ?? "").trim(), per: (said[2] ?? "").trim() };
  const behind = /^(.*[\d\p{Sc}]) ?((?:#|\p{L}[\p{L}. ]*))$/u.exec(tidied);
  const word = behind?.[2] ?? "";
  const isSign = HUNDREDTHS[word] !== undefined || ownSigns(habits).has(word.toLowerCase());
  if (behind && !isSign && unitNamed(word, habits) !== undefined) return { money: behind[1] ?? "", per: word };
  return { money: tidied, per: null };
}
