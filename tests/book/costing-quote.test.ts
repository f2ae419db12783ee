/** What a quote comes to at the door: extras, rebates and other money, against figures worked by hand. */
import { describe, expect, test } from "vitest";
import { type Landed, type Quote, askedRate, checkChanges, costingQuote, doorRate, exchangeRate, landedRate, quoteRate, readFact, withChanges } from "@/lib/book";
import { costExactly, costOf } from "@/lib/cascade";
import { compile } from "@/lib/cascade";
import { exact, ratio } from "@/lib/measure";
import { us } from "../measure/habits";
import { bookOf, dealer, item, quote } from "../menu/small-books";

const share = (name: string, way: Landed["way"], of: string): Landed => ({ key: name, name, way, of: { kind: "share", share: exact(of) } });
const money = (name: string, way: Landed["way"], amount: string, per: "pack" | "lb" | "kg"): Landed => ({ key: name, name, way, of: { kind: "money", amount: { amount: exact(amount) }, per } });
const perPound = (rate: ReturnType<typeof askedRate> | null): string | null => (rate === null ? null : ratio.toDecimal(ratio.mul(rate, ratio.fromExact(exact("453.59237")))).toString());
const eur = { currency: "EUR", rate: exact("1.1"), source: "the bank", on: "2026-11-20" };

function larder(more: Partial<Quote>, rates: readonly (typeof eur)[] = []) {
  const book = bookOf([dealer, item("loin"), quote("loin", "10 a lb", more)]);
  const kitchen = book.shelves.kitchen.get(book.kitchenId);
  if (kitchen === undefined) throw new Error("expected a kitchen");
  return withChanges(book, [{ kind: "kitchen", id: kitchen.id, after: { ...kitchen, exchangeRates: rates } }]);
}
const only = (book: ReturnType<typeof larder>): Quote => costingQuote(book, "loin") as Quote;

describe("at the door", () => {
  test("freight by the pound, fuel as a share of the price, a rebate by the case of 40 lb", () => {
    const pack = { levels: [{ count: exact("1"), container: "case" }], size: { amount: exact("40"), unit: "lb" as const }, catchWeight: false };
    const book = larder({ pack, landed: [money("Freight", "adds", "0.25", "lb"), share("Fuel", "adds", "0.02"), money("Rebate", "takes-off", "6", "pack")] });
    // 10 + 0.25 + 2 % of 10 − 6 ÷ 40.
    expect(perPound(quoteRate(book, only(book)))).toBe("10.3");
    expect(perPound(askedRate(only(book)))).toBe("10");
    expect(only(book).landed.map((one) => perPound(landedRate(only(book), one)))).toEqual(["0.25", "0.2", "0.15"]);
    const compiled = compile(book);
    if (!compiled.ok) throw new Error(compiled.problems[0]?.sentence);
    expect(costExactly(compiled.value, { kind: "item", id: "loin" })).toEqual(quoteRate(book, only(book)));
  });

  test("other money is worth what the kitchen says it is, and the extras are in it too", () => {
    const book = larder({ currency: "EUR", landed: [money("Freight", "adds", "1", "lb")] }, [eur]);
    expect(perPound(quoteRate(book, only(book)))).toBe("12.1");
    expect(perPound(doorRate(only(book)))).toBe("11");
  });

  test("money of which nobody said what it is worth leaves the cost open, and names why", () => {
    const book = larder({ currency: "EUR" });
    expect(exchangeRate(book, only(book))).toBeNull();
    expect(quoteRate(book, only(book))).toBeNull();
    const compiled = compile(book);
    if (!compiled.ok) throw new Error(compiled.problems[0]?.sentence);
    expect(costOf(compiled.value, { kind: "item", id: "loin" })?.missing.map(({ what, of }) => `${what} ${of.id}`)).toEqual(["exchange-rate loin"]);
  });

  test("rebates of the whole price are refused", () => {
    const book = larder({});
    const after = { ...only(book), landed: [share("Rebate", "takes-off", "1")] };
    expect(checkChanges(book, [{ kind: "quote", id: after.id, after }]).map(({ code, path }) => `${path}: ${code}`)).toEqual(["landed: nothing-left"]);
  });

  test("a by-product of the house takes no dealer's price", () => {
    const book = larder({});
    const loin = book.shelves.item.get("loin");
    if (loin === undefined) throw new Error("expected the loin");
    const made = { ...loin, transfer: { price: { kind: "fixed", rate: { amount: exact("2"), per: "lb" }, source: "the house" }, on: "2026-11-20", destination: "grind", use: null } } as const;
    expect(checkChanges(book, [{ kind: "item", id: "loin", after: made }]).map(({ of, code }) => `${of.kind} ${code}`)).toEqual(["quote made-here"]);
    expect(costingQuote(withChanges(book, [{ kind: "item", id: "loin", after: made }]), "loin")).toBeNull();
  });
});

describe("read from a form", () => {
  const input = { id: "q", itemId: "loin", dealerId: "dealer", pack: "40 lb", price: "120", per: "pack" };
  const wrong = (more: object): readonly string[] => {
    const read = readFact("quote", { ...input, ...more }, us);
    return read.ok ? [] : read.problems.map(({ path, sentence }) => `${path}: ${sentence}`);
  };

  test("the kitchen's own money needs no name, and a GTIN of twelve digits is told in fourteen", () => {
    const read = readFact("quote", { ...input, currency: "usd", gtin: "0 36000 29145 2", landed: [{ name: "Freight", way: "adds", of: { kind: "money", amount: "4.10", per: "pack" } }] }, us);
    expect(read.ok && [read.value.currency, read.value.gtin, read.value.landed[0]?.key]).toEqual([null, "00036000291452", "freight"]);
  });

  test("what cannot be is said at its place", () => {
    expect(wrong({ gtin: "036000291453" })).toEqual(["gtin: That is not a GTIN: it has 8, 12, 13 or 14 digits, the last of which checks the others. Read it off the carton once more."]);
    expect(wrong({ until: "2026-12-31" })).toEqual(["until: Only a contract has a last day: say that it is one, or leave the day empty."]);
    expect(wrong({ landed: [{ name: "Freight", way: "adds", of: { kind: "money", amount: "1", per: "L" } }] })).toEqual(["landed.0.per: The pack is told in lb, so Freight cannot be per L."]);
    expect(wrong({ currency: "XQQ" })).toEqual(["currency: That is not a currency: give its three letters, such as USD, EUR or GBP."]);
  });
});
