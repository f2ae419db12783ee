/**
 * Whatever is typed as a figure is read or refused at once, with a sentence; and what is printed of it is read back as
 * the same figure, in every kitchen.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { packContent, parsePack, printPack } from "@/lib/book";
import {
  type Checked, type Exact, type Habits, type Quantity, UNIT_NAMES, inBaseExactly, isExact, kindOf, moneyText, otherReadings, parseMoney, parseNumber, parseQuantity,
  parseRate, parseShare, printNumber, quantityText, rateText, ratio, shareText, toDecimal,
} from "@/lib/measure";
import { KITCHENS, us } from "../measure/habits";
import { hostileText } from "./hostile";
import { PATIENCE, inGoodTime, runs, shown } from "./runs";

const ALL = ["mass", "volume", "count"] as const;

/** A reader, and how what it reads is printed where it stands in a field again. */
interface Reader<T> {
  readonly read: (text: string, habits: Habits) => Checked<T>;
  readonly print: (value: T, habits: Habits) => string;
  /** What has to be the same when the printed text is read: the figure, not what was typed. */
  readonly figure: (value: T) => string;
  /** Printed without loss: a fraction that no decimal ends is printed to so many places, and then read as printed. */
  readonly whole: (value: T, habits: Habits) => boolean;
}

const same = (amount: Exact): string => ratio.toExact(ratio.fromExact(amount));
const ends = (amount: Exact, places: number): boolean => !amount.includes("/") && toDecimal(amount).decimalPlaces() <= places;
const reader = <T>(of: Reader<T>): Reader<unknown> => of as unknown as Reader<unknown>;

const quantityReader = (options: Parameters<typeof parseQuantity>[2]): Reader<unknown> => reader<Quantity>({
  read: (text, habits) => parseQuantity(text, habits, options),
  print: quantityText,
  figure: (value) => `${inBaseExactly(value)} of ${kindOf(value.unit)}`,
  whole: ({ amount }) => ends(amount, 6) || ratio.fromExact(amount).d <= 64n,
});

const READERS: Readonly<Record<string, Reader<unknown>>> = {
  number: reader<Exact>({ read: parseNumber, print: (value, habits) => printNumber(toDecimal(value), habits), figure: same, whole: (value) => ends(value, 20) }),
  share: reader<Exact>({ read: parseShare, print: shareText, figure: same, whole: (value) => ends(value, 22) }),
  money: reader<{ readonly amount: Exact }>({ read: parseMoney, print: (value, habits) => moneyText(value.amount, habits), figure: (value) => same(value.amount), whole: ({ amount }) => ends(amount, 20) }),
  rate: reader<{ readonly amount: Exact; readonly per: Quantity["unit"] }>({
    read: (text, habits) => parseRate(text, habits, { bare: "lb", kinds: ALL }), print: rateText, figure: (value) => `${same(value.amount)} per ${value.per}`, whole: ({ amount }) => ends(amount, 20),
  }),
  "quantity with a unit": quantityReader({ kinds: ALL }),
  "weight in pounds": quantityReader({ kinds: ["mass"], bare: "lb" }),
  "volume in litres": quantityReader({ kinds: ["volume"], bare: "L" }),
  "count": quantityReader({ kinds: ["count"], bare: "each" }),
  pack: reader<Parameters<typeof packContent>[0]>({
    read: parsePack, print: printPack,
    figure: (pack) => `${inBaseExactly(packContent(pack))} of ${kindOf(pack.size.unit)}, ${pack.levels.length} deep, ${String(pack.catchWeight)}`,
    whole: (pack) => pack.levels.every((level) => ends(level.count, 20)) && (ends(pack.size.amount, 6) || ratio.fromExact(pack.size.amount).d <= 64n),
  }),
};
const NAMES = Object.keys(READERS).map((name) => [name] as const);
const readerOf = (name: string): Reader<unknown> => READERS[name] ?? missing(name);
const missing = (name: string): never => { throw new Error(`expected a reader ${name}`); };

/** Reads the text, and what is printed of it, and what is printed of that. */
function holdToIt({ read, print, figure, whole }: Reader<unknown>, text: string, habits: Habits): void {
  const first = inGoodTime(() => read(text, habits), () => `reading ${shown(text)}`);
  if (!first.ok) {
    expect(first.problems).toHaveLength(1);
    for (const { path, code, sentence } of first.problems) {
      expect([path, code]).toEqual(["", expect.stringMatching(/^[a-z-]+$/)]);
      expect(sentence).toMatch(/^[^a-z].{8,400}[.?]$/su);
    }
    return;
  }
  const printed = print(first.value, habits);
  const again = read(printed, habits);
  if (!again.ok) throw new Error(`expected ${printed} to be read again: ${again.problems[0]?.sentence ?? ""}`);
  const settled = print(again.value, habits);
  if (whole(first.value, habits)) expect([settled, figure(again.value)]).toEqual([printed, figure(first.value)]);
  // What was rounded may lose noughts at its end the second time, and is as it is from then on.
  const third = read(settled, habits);
  expect(third.ok && print(third.value, habits)).toBe(settled);
}

describe.each(NAMES)("a %s", (name) => {
  const reader = readerOf(name);
  test("of any text, in every kitchen", { timeout: PATIENCE }, () => {
    fc.assert(fc.property(hostileText(), fc.constantFrom(...KITCHENS), (text, habits) => { holdToIt(reader, text, habits); }), runs(1_500));
  });

  test("of text that is nearly a figure", { timeout: PATIENCE }, () => {
    const digits = fc.oneof(fc.bigInt(0n, 10n ** 14n).map(String), fc.stringMatching(/^\d{1,3}([.,' ]\d{2,3}){0,3}([.,]\d{1,21})?$/), fc.stringMatching(/^(\d{1,3} )?\d{1,3}\/\d{1,3}$/));
    const unit = fc.constantFrom(...UNIT_NAMES, "#", "lbs.", "ounces", "US pt", "imperial gallon", "ct", "%", "€", "$", "£", "kr.", "cans", "per lb", "/ kg", "a dozen", "");
    const term = fc.tuple(digits, fc.constantFrom("", " ", "\u00a0", "-"), unit).map((drawn) => drawn.join(""));
    const text = fc.tuple(fc.constantFrom("", "", "-", "+", "$", "€ ", "case of ", "a ", "("), fc.array(fc.tuple(term, fc.constantFrom(" ", " of ", "/", " x ", ", ", "-", " and ", " per ", " bags of ")), { minLength: 1, maxLength: 3 }), fc.constantFrom("", "", "", ", catch weight", " can", ")", ".-"))
      .map(([before, terms, after]) => `${before}${terms.map(([one, join], index) => (index < terms.length - 1 ? one + join : one)).join("")}${after}`);
    fc.assert(fc.property(text, fc.constantFrom(...KITCHENS), (typed, habits) => { holdToIt(reader, typed, habits); }), runs(1_500));
  });

  test("of kitchens anywhere: any language and land that this machine can write numbers in", { timeout: PATIENCE }, () => {
    fc.assert(fc.property(fc.stringMatching(/^\d{1,7}(\.\d{1,4})?$/), fc.constantFrom(...UNIT_NAMES), anyKitchen, (figure, unit, habits) => {
      // Written by a machine, read by it, printed for people, and read as people would send it back.
      const there: Habits = { ...habits, locale: "en-US" };
      const text = { number: figure, share: `${figure} %`, money: figure, rate: `${figure} / ${unit}`, pack: `${figure} ${unit}` }[name] ?? `${figure} ${unit}`;
      const machine = { ...reader, read: (typed: string, own: Habits) => reader.read(typed, typed === text ? there : own) };
      holdToIt(machine, text, habits);
    }), runs(600));
  });
});

const A_TO_Z = [..."abcdefghijklmnopqrstuvwxyz"];
const LANGUAGES = A_TO_Z.flatMap((a) => A_TO_Z.map((b) => a + b)).filter((tag) => Intl.NumberFormat.supportedLocalesOf(tag).length === 1);
const LANDS = ["", "-US", "-GB", "-IE", "-IN", "-CH", "-AT", "-CA", "-ZA", "-ES", "-MX", "-BR", "-PT", "-AE", "-MA", "-PK", "-DK", "-EE", "-QQ", "-Latn", "-Cyrl-RS", "-u-nu-arab", "-u-nu-hanidec"];
const anyKitchen: fc.Arbitrary<Habits> = fc.record({
  locale: fc.tuple(fc.constantFrom(...LANGUAGES), fc.constantFrom(...LANDS)).map((drawn) => drawn.join("")),
  measures: fc.constantFrom("us" as const, "metric" as const),
  currency: fc.constantFrom(...Intl.supportedValuesOf("currency"), "USD", "EUR", "JPY", "KWD"),
});

describe("what else a text could mean", () => {
  test("is told or not, never thrown", { timeout: PATIENCE }, () => {
    fc.assert(fc.property(hostileText(2_000), fc.constantFrom(...KITCHENS), (text, habits) => {
      for (const { amount } of inGoodTime(() => otherReadings(text, habits, { kinds: ["mass"], bare: "lb" }), () => `other readings of ${shown(text)}`)) expect(isExact(amount)).toBe(true);
    }), runs(1_000));
  });
});

describe("longer and longer texts", () => {
  /** The least milliseconds of a few turns, since only the least is the text's own doing. */
  const least = (act: () => unknown): number => Math.min(...Array.from({ length: 7 }, () => {
    const began = performance.now();
    act();
    return performance.now() - began;
  }));
  const UNITS_OF_TEXT = ["1", "0", " ", "-", "/", "1/", "1 ", "1,", "1.", ".", ",", "'", "a", "a ", "½", "ﷺ", "1 lb ", " of ", "a of ", "\u0301", "(", "$", "1 x ", "per ", "/ ", "# ", "%", "catch weight ", ", c/w", "about ", "\t\n", "1\u00a0", "⁄", "²", "e", "9e9"];

  test.each(NAMES)("take a %s no more than in proportion longer to answer", { timeout: PATIENCE }, (name) => {
    const { read } = readerOf(name);
    for (const unit of UNITS_OF_TEXT) {
      for (const [before, after] of [["", ""], ["1", " lb"], ["$", "!"]] as const) {
        const of = (length: number): string => before + unit.repeat(Math.ceil(length / unit.length)) + after;
        // Within what is read at all, every step of a bad search would show at once.
        for (const length of [60, 115, 190]) expect(least(() => read(of(length), us)), `${length} × ${JSON.stringify(unit)}`).toBeLessThan(10);
        // Beyond it the text is only measured and quoted: four times as long may take four times as long, with room for chance.
        const short = least(() => read(of(50_000), us));
        const long = least(() => read(of(200_000), us));
        expect(long, `${JSON.stringify(unit)} 50,000 in ${short} ms, 200,000`).toBeLessThan(Math.max(5, 10 * short));
      }
    }
  });
});
