/** Figures as they are printed, with the rounding rules of the trade. */
import { describe, expect, test } from "vitest";
import { Decimal, type Habits, type Quantity, type Unit, exact, moneyFigure, moneyPlaces, moneyText, parseMoney, parseShare, printDay, printFactor, printMoney, printPoints, printQuantity, printShare, printUnitCost, quantityText, rateText, roundMoney, shareText, toDecimal } from "@/lib/measure";
import { KITCHENS, british, french, german, japanese, spanishEnglish, us } from "./habits";

const q = (amount: string, unit: Unit): Quantity => ({ amount: exact(amount), unit });
const plain = (text: string): string => text.replace(/[\u00a0\u202f]/g, " ");

describe("quantities", () => {
  test.each<[string, Unit, Habits, string]>([
    ["18.375", "lb", us, "18 lb 6 oz"], ["0.5", "lb", us, "8 oz"], ["18", "lb", us, "18 lb"], ["0", "lb", us, "0 lb"], ["0.54296875", "lb", us, "8 11/16 oz"], ["18.40625", "lb", us, "18 lb 6 1/2 oz"],
    ["0.62", "lb", us, "0.62 lb"], ["3.3", "lb", us, "3.3 lb"], ["8.6875", "oz", us, "8 11/16 oz"], ["1/3", "cup", us, "1/3 cup"], ["0.75", "cup", us, "3/4 cup"], ["1.5", "cup", us, "1 1/2 cups"], ["2", "portion", us, "2 portions"],
    ["1", "portion", us, "1 portion"], ["6.9", "kg", us, "6.9 kg"], ["18.375", "lb", german, "18,375 lb"], ["1234.5", "g", german, "1.234,5 g"], ["1234.5", "g", us, "1,234.5 g"], ["0.75", "cup", german, "0,75 cup"],
    ["2", "pt", british, "2 US pt"], ["2", "imp pt", british, "2 imp pt"], ["0.1234567890123", "kg", us, "0.123 kg"], ["1000/997", "kg", us, "1.003 kg"], ["-1.125", "lb", us, "-1 lb 2 oz"], ["1/3", "lb", us, "5 1/3 oz"],
  ])("%s %s", (amount, unit, habits, expected) => expect(quantityText(q(amount, unit), habits)).toBe(expected));

  test("pounds and ounces are two pairs", () => {
    expect(printQuantity(q("18.375", "lb"), us)).toEqual([{ figure: "18", unit: "lb" }, { figure: "6", unit: "oz" }]);
  });
  test("what was worked out goes to the scale's step, half-up", () => {
    expect(quantityText(q("18.3781", "lb"), us, { step: q("0.5", "oz") })).toBe("18 lb 6 oz");
    expect(quantityText(q("1.0625", "lb"), us, { step: q("2", "oz") })).toBe("1 lb 2 oz");
    expect(quantityText(q("6.1234", "kg"), german, { step: q("5", "g") })).toBe("6,125 kg");
    expect(quantityText(q("6", "qt"), us, { step: q("5", "g") })).toBe("6 qt");
  });
});

describe("money", () => {
  test("half-up to the currency's own decimals", () => {
    expect(moneyPlaces("USD")).toBe(2);
    expect(moneyPlaces("JPY")).toBe(0);
    expect(moneyPlaces("KWD")).toBe(3);
    expect(printMoney(new Decimal("12.4988"), us)).toBe("$12.50");
    expect(printMoney(new Decimal("1234.5"), japanese)).toBe("￥1,235");
    expect(plain(printMoney(new Decimal("4.345"), german))).toBe("4,35 €");
    expect(plain(moneyFigure(new Decimal("1234.5"), french))).toBe("1 234,50");
    expect(printMoney(new Decimal("4.6871"), us, { places: 4 })).toBe("$4.6871");
    expect(printMoney(new Decimal("-0.001"), us)).toBe("$0.00");
    expect(printMoney(new Decimal("-0.125"), us)).toBe("-$0.13");
  });
  test("a figure a hair beside a tie is the tie; a figure truly below it is not", () => {
    expect(roundMoney(new Decimal("0.124999999999999999999999999999999"), "USD").toFixed()).toBe("0.13");
    expect(roundMoney(new Decimal("0.12499999999999999999999"), "USD").toFixed()).toBe("0.12");
    expect(roundMoney(new Decimal("2.5"), "JPY").toFixed()).toBe("3");
    expect(roundMoney(new Decimal("-2.5"), "JPY").toFixed()).toBe("-3");
  });
  test("digits beyond what a binary number holds are printed as they are", () => {
    expect(printMoney(new Decimal("123456789012345678.91"), us)).toBe("$123,456,789,012,345,678.91");
  });
  test("money has the decimal mark that numbers have, where a locale has two", () => {
    expect(printMoney(new Decimal("7.125"), spanishEnglish, { places: 3 })).toBe("€7,125");
    expect(printMoney(new Decimal("1234567.5"), spanishEnglish)).toBe("€1.234.567,50");
    expect(plain(printMoney(new Decimal("8000"), { locale: "de-AT", measures: "metric", currency: "JPY" }))).toBe("¥ 8 000");
  });
  test("rates and unit costs", () => {
    expect(rateText({ amount: exact("7.1"), per: "lb" }, us)).toBe("$7.10 / lb");
    expect(rateText({ amount: exact("0.4375"), per: "oz" }, us)).toBe("$0.4375 / oz");
    expect(rateText({ amount: exact("0.00000007"), per: "g" }, us)).toBe("$0.00000007 / g");
    expect(rateText({ amount: exact("320/3"), per: "kg" }, us)).toBe("$106.666667 / kg");
    expect(rateText({ amount: exact("4"), per: "gal" }, british)).toBe("£4.00 / US gal");
    expect(rateText({ amount: exact("4"), per: "imp gal" }, british)).toBe("£4.00 / imp gal");
    expect(printUnitCost(new Decimal("0.0135087"), "kg", us)).toEqual({ figure: "$13.51", unit: "kg" });
  });
});

test("factors to four places, shares and points to one, days day first", () => {
  expect(printFactor(new Decimal("2.045633965534"), us)).toBe("2.0456");
  expect(printShare(new Decimal("0.47222222"), us)).toBe("47.2");
  expect(printShare(new Decimal("0.3125"), german)).toBe("31,3");
  expect(printPoints(new Decimal("-0.013"), us)).toBe("1.3");
  expect(printDay("2026-11-25", us)).toBe("Wed 25 Nov 2026");
  expect(printDay("2026-11-25", german)).toBe("Mi 25 Nov 2026");
});

test("recorded money is read back as it was", () => {
  expect(moneyText(exact("17.4"), us)).toBe("17.40");
  for (const habits of KITCHENS) {
    for (const amount of ["7.1", "17.4", "0.0425", "1234.5", "1000000"]) {
      const back = parseMoney(moneyText(exact(amount), habits), habits);
      expect(back.ok && toDecimal(back.value.amount).eq(toDecimal(exact(amount))), `${amount} in ${habits.locale}`).toBe(true);
    }
  }
});

test("a recorded share keeps every decimal, so that what stands in a field is read back as it was", () => {
  expect(shareText(exact("0.08875"), us)).toBe("8.875 %");
  expect(shareText(exact("0.3"), us)).toBe("30 %");
  expect(shareText(exact("0.08875"), german)).toBe("8,875 %");
  for (const habits of KITCHENS) {
    for (const share of ["0", "0.005", "0.01", "0.08875", "0.2825", "0.3", "0.333333", "1"]) {
      const back = parseShare(shareText(exact(share), habits), habits);
      expect(back.ok && back.value, `${share} in ${habits.locale}`).toBe(share);
    }
  }
});

test("an unknown locale or currency prints plainly instead of failing", () => {
  expect(printMoney(new Decimal("7.1"), { locale: "??", measures: "us", currency: "no" })).toBe("7.10");
});
