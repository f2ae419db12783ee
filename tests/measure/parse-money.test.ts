/** What a kitchen types as money, as a price per unit, as a percentage. */
import { describe, expect, test } from "vitest";
import { type Checked, parseMoney, parseNumber, parseRate, parseShare } from "@/lib/measure";
import { british, danish, german, japanese, peruvian, senegalese, us } from "./habits";

function value<T>(read: Checked<T>): T {
  if (!read.ok) throw new Error(read.problems[0]?.sentence);
  return read.value;
}
const codeOf = (read: Checked<unknown>): string => (read.ok ? "read" : (read.problems[0]?.code ?? ""));

describe("money", () => {
  test.each([
    ["7.10", "7.10"], ["$7.10", "7.10"], ["USD 7.10", "7.10"], ["7.10 usd", "7.10"], ["$1,234.56", "1234.56"], ["7,10", "7.10"], ["85¢", "0.85"], ["5.-", "5"], ["$ 3", "3"], ["0", "0"], ["0.4375", "0.4375"],
  ])("%s is %s dollars", (text, amount) => expect(value(parseMoney(text, us)).amount).toBe(amount));
  test.each([["4,35 €", "4.35"], ["€4.35", "4.35"], ["1.234,50 €", "1234.50"], ["5,–", "5"], ["4,35 EUR", "4.35"]])("%s is %s euros", (text, amount) =>
    expect(value(parseMoney(text, german)).amount).toBe(amount));
  test("pence, yen and kroner", () => {
    expect(value(parseMoney("85p", british)).amount).toBe("0.85");
    expect(value(parseMoney("￥1,200", japanese)).amount).toBe("1200");
    expect(value(parseMoney("12,50 kr.", danish)).amount).toBe("12.50");
  });
  test("signs of two words, and with a stroke in them", () => {
    expect(value(parseMoney("3 500 F CFA", senegalese)).amount).toBe("3500");
    expect(value(parseMoney("F CFA 7,50", senegalese)).amount).toBe("7.50");
    expect(value(parseMoney("S/ 7.10", peruvian)).amount).toBe("7.10");
    expect(codeOf(parseMoney("3 500 F CFA", us))).toBe("not-money");
  });
  test.each([
    ["-3", "negative"], ["$-3", "negative"], ["(7.10)", "negative"], ["7.10-", "negative"], ["4,35 €", "other-currency"], ["£5", "other-currency"], ["CA$5", "other-currency"], ["5 CAD", "other-currency"],
    ["x", "not-money"], ["7 1/2", "not-money"], ["12/5", "not-money"], ["$7.10 lb", "not-money"], ["1e9", "not-a-number"], ["NaN", "not-money"], ["", "missing"], ["9".repeat(13), "too-large"], ["7".repeat(100_000), "too-long"],
  ])("%j is refused: %s", (text, code) => expect(codeOf(parseMoney(text, us))).toBe(code));
});

describe("a price per unit", () => {
  test.each([
    ["7.10", "7.10 lb"], ["$7.10/lb", "7.10 lb"], ["$7.10 / #", "7.10 lb"], ["0.44 a lb", "0.44 lb"], ["7.10 lb", "7.10 lb"], ["$7.10 per pound", "7.10 lb"], ["44¢/oz", "0.44 oz"], ["7.10 @ lb", "7.10 lb"],
    ["3.20 per 100 g", "32 kg"], ["7.10 USD / kg", "7.10 kg"], ["9 / 2 lb", "4.5 lb"], ["1 / 3 lb", "1/3 lb"],
  ])("%s is %s", (text, expected) => {
    const rate = value(parseRate(text, us, { bare: "lb" }));
    expect(`${rate.amount} ${rate.per}`).toBe(expected);
  });
  test("in euros a kilo", () => {
    expect(value(parseRate("4,35 € / kg", german, { bare: "kg" }))).toEqual({ amount: "4.35", per: "kg", typed: "4,35 € / kg" });
    expect(value(parseRate("3,20 je 100 g", german, { bare: "kg" }))).toMatchObject({ amount: "32", per: "kg" });
  });
  test("with a sign of one letter or two words before the unit", () => {
    expect(value(parseRate("3 500 F CFA / kg", senegalese, { bare: "kg" }))).toMatchObject({ amount: "3500", per: "kg" });
    expect(value(parseRate("7.10 K / kg", { locale: "it-IT", measures: "metric", currency: "MMK" }, { bare: "kg" }))).toMatchObject({ per: "kg" });
    expect(value(parseRate("7.10 CFPF / kg", { locale: "eu-ES", measures: "metric", currency: "XPF" }, { bare: "kg" }))).toMatchObject({ per: "kg" });
    expect(value(parseRate("12 / 5 lbs", peruvian, { bare: "kg" }))).toMatchObject({ amount: "2.4", per: "lb" });
  });
  test("each, where a count is asked for", () => {
    expect(value(parseRate("2.50 each", us, { bare: "each" }))).toMatchObject({ amount: "2.50", per: "each" });
    expect(value(parseRate("2.50 ea", us, { bare: "lb", kinds: ["mass", "count"] }))).toMatchObject({ per: "each" });
  });
  test.each([
    ["7.10/furlong", "unknown-unit"], ["7.10/qt", "wrong-kind"], ["2.50 each", "wrong-kind"], ["7.10 / 0 g", "zero"], ["12/5", "unit-missing"], ["-1/lb", "negative"], ["/lb", "not-money"], ["€7/lb", "other-currency"], ["", "missing"],
  ])("%j is refused: %s", (text, code) => expect(codeOf(parseRate(text, us, { bare: "lb" }))).toBe(code));
});

describe("a share", () => {
  test.each([["32", "0.32"], ["32 %", "0.32"], ["0.32", "0.32"], ["32,5%", "0.325"], ["8.875 percent", "0.08875"], ["1%", "0.01"], ["100", "1"], ["0", "0"], [".3", "0.3"], ["1/3", "1/3"]])(
    "%s is %s", (text, expected) => expect(value(parseShare(text, us))).toBe(expected));
  test("more than the whole says what would be right", () => {
    const read = parseShare("320 %", us);
    expect(read).toEqual({ ok: false, problems: [{ path: "", code: "share-over-whole", sentence: "“320 %” is more than the whole: write a number from 0 to 100, such as 32." }] });
  });
  test.each([["1", "two-readings"], ["-2", "negative"], ["abc", "not-a-number"], ["", "missing"], ["1e2", "not-a-number"]])("%j is refused: %s", (text, code) => expect(codeOf(parseShare(text, us))).toBe(code));
});

describe("a number", () => {
  test.each([["18 3/8", "18.375"], ["-2.50", "-2.50"], ["1/3", "1/3"], ["-1/3", "-1/3"], ["4/3", "4/3"], ["+7", "7"], ["007", "7"], ["-0", "0"]])("%s is %s", (text, expected) => expect(value(parseNumber(text, us))).toBe(expected));
  test.each([["1e5", "not-a-number"], ["5 lb", "not-a-number"], ["0x10", "not-a-number"], ["1/0", "zero-denominator"]])("%j is refused: %s", (text, code) => expect(codeOf(parseNumber(text, us))).toBe(code));
});
