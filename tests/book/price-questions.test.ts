/** What is asked about a price, a day or an invoice line before it is taken: bad input that a kitchen really produces. */
import { describe, expect, test } from "vitest";
import { type Quote, parsePack, priceQuestions, repeatedLines, testDayQuestions } from "@/lib/book";
import { type Habits, exact, parseMoney, parseShare } from "@/lib/measure";

const us: Habits = { locale: "en-US", measures: "us", currency: "USD" };

function quote(price: string, per: Quote["per"], pack = "18 lb"): Quote {
  const read = parsePack(pack, us);
  if (!read.ok) throw new Error(read.problems[0]?.sentence);
  return { id: "q", itemId: "loin", dealerId: "d", pack: read.value, price: { amount: exact(price) }, per, currency: null, basis: "quoted", code: "", until: null, gtin: "", landed: [] };
}
const asked = (now: Quote, before: Quote | null): readonly string[] => priceQuestions(now, before, us).map((question) => `${question.code}: ${question.sentence}`);

describe("a new price", () => {
  test("Price per case typed as per lb", () => {
    expect(asked(quote("171.00", "lb"), quote("9.50", "lb"))).toEqual([
      "case-price-per-unit: $171.00 per lb is 18 times the last price of $9.50 per lb, and the case holds 18 lb: is $171.00 the price of the case?",
    ]);
    expect(asked(quote("180.00", "lb", "18 lb, catch weight"), quote("9.50", "lb"))[0]).toMatch(/^case-price-per-unit/);
  });
  test("Price per lb typed as case: mirror check", () => {
    expect(asked(quote("9.50", "pack"), quote("171.00", "pack"))).toEqual([
      "unit-price-per-case: $9.50 for a case of 18 lb is $0.53 per lb, and the last price was $9.50 per lb: is $9.50 the price per lb?",
    ]);
  });
  test("Price jump over the house's limit: accepted after confirmation, the old one kept until then", () => {
    expect(asked(quote("11.40", "lb"), quote("9.50", "lb"))).toEqual(["price-jump: $11.40 per lb is 20.0 % above the last price of $9.50 per lb: confirm it, or correct it. Until then the old price stands."]);
    expect(asked(quote("7.60", "lb"), quote("9.50", "lb"))[0]).toMatch(/20\.0 % below/);
    expect(asked(quote("10.92", "lb"), quote("9.50", "lb"))).toEqual([]);
    expect(asked(quote("95.00", "lb", "40 lb"), quote("9.50", "lb"))[0]).toBe("price-point: $95.00 per lb against $9.50 per lb before: is the point in its place in $95.00?");
    expect(asked(quote("171.00", "lb"), null)).toEqual([]);
  });
  test("Unit missing (`12/5`): ask; never guess", () => expect(parsePack("12/5", us)).toMatchObject({ ok: false }));
  test("Zero or negative price: refuse; a credit memo is a separate kind of line", () => {
    expect(parseMoney("-7.10", us)).toMatchObject({ problems: [{ code: "negative", sentence: "“-7.10” is below zero: a price is above it. A credit from the dealer is not a price." }] });
  });
  test("Currency differs from the house: never mixed", () => expect(parseMoney("4,35 €", us)).toMatchObject({ problems: [{ code: "other-currency" }] }));
  test("Percent typed as 32 or 0.32: the same; over 100 refused for a target", () => {
    expect([parseShare("32", us), parseShare("0.32", us)]).toEqual([{ ok: true, value: "0.32" }, { ok: true, value: "0.32" }]);
    expect(parseShare("320", us)).toMatchObject({ problems: [{ code: "share-over-whole" }] });
  });
});

describe("an invoice line", () => {
  const line = { dealerId: "d", number: "A-1041", itemId: "loin", quantity: { amount: exact("18.375"), unit: "lb" as const }, amount: { amount: exact("174.56") }, enteredOn: "2026-05-03" };
  test("Duplicate invoice line: “already entered on 3 May”; credit memos differ in sign", () => {
    const again = { ...line, number: "a 1041", quantity: { amount: exact("294"), unit: "oz" as const }, enteredOn: "2026-05-04" };
    expect(repeatedLines([again], [line], us)).toEqual([{ path: "lines.0", code: "already-entered", sentence: "This line of invoice a 1041 is already entered, on Sun 3 May 2026: same item, weight and price. Leave it out, unless it was billed twice." }]);
    expect(repeatedLines([{ ...line, amount: { amount: exact("-174.56") } }, { ...line, number: "A-1042" }, { ...line, number: "" }], [line, { ...line, number: "" }], us)).toEqual([]);
    expect(repeatedLines([line, line], [], us).map((problem) => problem.path)).toEqual(["lines.1"]);
  });
});

describe("a day", () => {
  test("Date in the future, test before purchase: ask", () => {
    expect(testDayQuestions("2026-11-26", "2026-11-25", null, us)).toEqual([{ path: "on", code: "in-the-future", sentence: "Thu 26 Nov 2026 is still to come; today is Wed 25 Nov 2026. On which day was it weighed?" }]);
    expect(testDayQuestions("2026-11-20", "2026-11-25", "2026-11-21", us)).toEqual([{ path: "on", code: "before-purchase", sentence: "The test is of Fri 20 Nov 2026, but the goods were bought on Sat 21 Nov 2026: which of the two days is right?" }]);
    expect(testDayQuestions("2026-11-21", "2026-11-25", "2026-11-21", us)).toEqual([]);
  });
});
