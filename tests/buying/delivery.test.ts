/** A delivery judged: short weight, prices against the quote, totals, repeats, average packs, prices taken over. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Delivery, type DeliveryLine, type Quote, emptyBook, lineValue, readFact, withChanges } from "@/lib/book";
import { billedInTable, billedPack, enteredBefore, fillLines, judgeDelivered, packOff, priceAgainst, shortClaims, takenOver, toCent, togetherByGtin, type BilledLine } from "@/lib/buying";
import { type Ratio, exact, ratio } from "@/lib/measure";
import { readDemo } from "@/seed/read";

const demo = readDemo();
const book = withChanges(emptyBook({ id: "demo", ...demo.kitchen }, "2026-11-24"), demo.entries.map((entry) => entry.change));
const kitchen = { id: "demo", ...demo.kitchen };

const figure = (value: Ratio | undefined): string => (value === undefined ? "none" : ratio.toExact(value));
const exactly = (text: string): Ratio => ratio.fromExact(exact(text));

function line(more: Readonly<Record<string, unknown>>): DeliveryLine {
  const read = readFact("delivery", { id: "d", dealerId: "tarrow", number: "1", kind: "invoice", on: "2026-11-24", note: "", lines: [{ itemId: "beef-striploin", price: "10.85", per: "lb", billed: "26.4 lb", ...more }] }, kitchen);
  const [one] = read.ok ? read.value.lines : [];
  if (one === undefined) throw new Error(read.ok ? "no line" : read.problems[0]?.sentence);
  return one;
}
const delivery = (more: Partial<Delivery>, ...lines: readonly DeliveryLine[]): Delivery => ({ id: "d", dealerId: "tarrow", number: "31300", kind: "invoice", on: "2026-11-24", note: "", lines, ...more });
const quoteOf = (id: string): Quote => { const quote = book.shelves.quote.get(id); if (quote === undefined) throw new Error(id); return quote; };
const judged = (more: Readonly<Record<string, unknown>>, quote: Quote | null = quoteOf("beef-striploin-tarrow")) => judgeDelivered(line(more), quote, kitchen);

describe("what came", () => {
  test("billed 20 lb, received 18 lb 6 oz: a claim, not yield (trade brief, 3)", () => {
    const { short, more } = judged({ billed: "20 lb", received: "18 lb 6 oz", price: "7.10" });
    expect([short?.quantity, figure(short?.claim)]).toEqual([{ amount: "1.625", unit: "lb" }, "11.5375"]);
    expect(short?.sentence).toContain("1 lb 10 oz short. That is a claim on the dealer of 11.54, not yield");
    expect(more).toBeNull();
  });

  test("less than half of what a door scale shows is nothing; more than was billed is told", () => {
    expect(judged({ billed: "26.4 lb", received: "26.38 lb" }).short).toBeNull();
    expect(judged({ billed: "26.4 lb", received: "27 lb" }).more).toEqual({ amount: "0.6", unit: "lb" });
    expect(judged({ billed: "26.4 lb", received: "26.42 lb" }).more).toBeNull();
    expect(judged({}).short).toBeNull();
  });

  test("pieces that did not come are claimed by the piece", () => {
    const { short } = judged({ itemId: "russets", packs: "2", billed: "160 each", received: "150 each", price: "29.50", per: "pack" }, quoteOf("russets-dunmere"));
    expect([short?.quantity, figure(short?.claim)]).toEqual([{ amount: "10", unit: "each" }, "3.6875"]);
  });

  test("claims of a delivery add up in whole cents; a credit memo claims nothing", () => {
    const short = line({ billed: "20 lb", received: "18 lb 6 oz", price: "7.10" });
    expect(figure(shortClaims(delivery({}, short, short), kitchen).claimed)).toBe("23.08");
    expect(shortClaims(delivery({ kind: "credit" }, short), kitchen).lines).toBe(0);
  });
});

describe("the price against the quote", () => {
  test("per pound, dearer and cheaper, in all", () => {
    expect(judged({}).price).toEqual({ kind: "agrees" });
    const { price } = judged({ price: "11.05" });
    expect(price.kind === "dearer" && [figure(price.by), price.per, figure(price.quoted), figure(price.over)]).toEqual(["0.2", "lb", "10.85", "5.28"]);
    expect(judged({ price: "10.80" }).price.kind).toBe("cheaper");
  });

  test("a case against a case, a case against a price a pound", () => {
    const cod = quoteOf("cod-skerry-lane");
    const dearer = priceAgainst(line({ itemId: "cod", packs: "2", billed: "20 lb", price: "105", per: "pack" }), cod);
    expect(dearer.kind === "dearer" && [figure(dearer.by), dearer.per, figure(dearer.over)]).toEqual(["1", "pack", "2"]);
    expect(priceAgainst(line({ itemId: "cod", billed: "20 lb", price: "10.40", per: "lb" }), cod)).toEqual({ kind: "agrees" });
    // A smaller case for the same money is dearer by the pound.
    const smaller = priceAgainst(line({ itemId: "cod", packs: "2", billed: "16 lb", price: "104", per: "pack" }), cod);
    expect(smaller.kind === "dearer" && [figure(smaller.by), smaller.per]).toEqual(["2.6", "lb"]);
  });

  test("kilos against pounds: the same price is the same price", () => {
    const perKg = { ...quoteOf("beef-striploin-tarrow"), per: "kg" as const, price: { amount: exact("15.65") } };
    expect(judged({ price: "7.10" }, perKg).price).toEqual({ kind: "agrees" });
    expect(judged({ price: "7.12" }, perKg).price.kind).toBe("dearer");
    expect(judged({ price: "10.85" }, null).price).toEqual({ kind: "none" });
    expect(judged({}, { ...quoteOf("beef-striploin-tarrow"), currency: "EUR" }).price).toEqual({ kind: "apart", why: "money" });
    expect(judged({ itemId: "russets", billed: "10 lb", price: "1" }, quoteOf("russets-dunmere")).price).toEqual({ kind: "apart", why: "units" });
  });
});

describe("the total of a line", () => {
  test("price × quantity, rounded to the cent", () => {
    expect(judged({ amount: "286.44" }).totalOff).toBeNull();
    expect(figure(judged({ amount: "286.54" }).totalOff ?? undefined)).toBe("0.1");
    expect(judged({ billed: "12.345 lb", price: "1", amount: "12.35" }).totalOff).toBeNull();
    expect(judged({ billed: "12.345 lb", price: "1", amount: "12.34" }).totalOff).not.toBeNull();
  });

  test("half up for any money, whole yen", () => {
    expect([toCent(exactly("2.345"), "USD"), toCent(exactly("-2.345"), "USD"), toCent(exactly("2.5"), "JPY")].map(figure)).toEqual(["2.35", "-2.35", "3"]);
    fc.assert(fc.property(fc.bigInt({ min: -(10n ** 9n), max: 10n ** 9n }), fc.bigInt({ min: 1n, max: 10n ** 6n }), (n, d) => {
      const cents = toCent(ratio.of(n, d), "USD");
      const off = ratio.sub(cents, ratio.of(n, d));
      expect(ratio.compare(ratio.mul(ratio.sign(off) < 0 ? ratio.neg(off) : off, ratio.of(200n)), ratio.ONE)).toBeLessThanOrEqual(0);
      expect(100n % cents.d).toBe(0n);
    }));
  });
});

describe("entered before", () => {
  const earlier = book.shelves.delivery.get("tarrow-31207");
  if (earlier === undefined) throw new Error("expected the demo's delivery");
  test("the whole paper once, a line by its place, a credit memo never", () => {
    expect(enteredBefore({ ...earlier, id: "again", number: "31 207" }, book, kitchen).map(({ path, code }) => [path, code])).toEqual([["number", "already-entered"]]);
    const [first] = earlier.lines;
    if (first === undefined) throw new Error("expected a line");
    expect(enteredBefore({ ...earlier, id: "again", lines: [line({ itemId: "lamb-leg", billed: "8 lb", price: "7.60" }), first] }, book, kitchen).map(({ path }) => path)).toEqual(["lines.1"]);
    expect(enteredBefore({ ...earlier, id: "again", kind: "credit" }, book, kitchen)).toEqual([]);
    expect(enteredBefore({ ...earlier, id: "again", dealerId: "ossel-wray" }, book, kitchen)).toEqual([]);
    expect(enteredBefore(earlier, book, kitchen)).toEqual([]);
  });
});

describe("what a piece weighs", () => {
  test("the average billed over deliveries, against the estimate", () => {
    const billed = billedPack(book.shelves.delivery.values(), "beef-striploin", "tarrow");
    // 26.9 lb and 26.4 lb, two pieces each.
    expect(billed && [figure(billed.packs), billed.deliveries]).toEqual(["4", 2]);
    expect(billed && figure(ratio.div(billed.average, exactly("453.59237")))).toBe("13.325");
    expect(billed && figure(packOff(quoteOf("beef-striploin-tarrow"), billed) ?? undefined)).toBe("0.025");
    expect(billedPack(book.shelves.delivery.values(), "lamb-leg", null)).toBeNull();
  });
});

describe("prices taken over", () => {
  const over = (...lines: readonly DeliveryLine[]) => takenOver(delivery({}, ...lines), book, "USD", (itemId) => `new-${itemId}`);
  test("the quote keeps its pack and code, the price is the invoice's", () => {
    const { prices } = over(line({ price: "11.05" }));
    expect(prices.map(({ quote }) => [quote.id, quote.price.amount, quote.per, quote.basis, quote.code])).toEqual([["beef-striploin-tarrow", "11.05", "lb", "invoice", "TM-1107"]]);
    expect(prices[0]?.quote.pack).toEqual(quoteOf("beef-striploin-tarrow").pack);
  });

  test("a case price of catch weight becomes a price a pound; a first price makes its pack of what was billed", () => {
    const { prices } = over(line({ packs: "2", billed: "26 lb", price: "140", per: "pack" }), line({ itemId: "lamb-leg", billed: "8.5 lb", price: "7.60", per: "lb" }));
    expect(prices[0]?.quote).toMatchObject({ per: "lb", price: { amount: "10.7692" } });
    const first = takenOver(delivery({ dealerId: "ribadoira" }, line({ itemId: "carrots", packs: "2", billed: "50 lb", price: "18", per: "pack" })), book, "USD", (itemId) => `new-${itemId}`);
    expect(first.prices[0]?.quote).toMatchObject({ id: "new-carrots", dealerId: "ribadoira", per: "pack", pack: { size: { amount: "25", unit: "lb" }, catchWeight: false } });
  });

  test("what cannot be taken over is said; every price taken over is a quote that the book takes", () => {
    expect(takenOver(delivery({ dealerId: "ribadoira" }, line({ itemId: "carrots", price: "1" })), book, "USD", String).left[0]?.sentence).toContain("how many packs");
    expect(over(line({}))).toEqual({ prices: [], left: [] });
    const bound = withChanges(book, [{ kind: "quote", id: "beef-striploin-tarrow", after: { ...quoteOf("beef-striploin-tarrow"), basis: "contract", until: "2026-12-31" } }]);
    expect(takenOver(delivery({}, line({ price: "11.05" })), bound, "USD", String)).toMatchObject({ prices: [], left: [{ line: 0, sentence: expect.stringContaining("under contract") as string }] });
    expect(takenOver(delivery({ kind: "credit" }, line({})), book, "USD", String).prices).toEqual([]);
    for (const one of book.shelves.delivery.values()) for (const { quote } of takenOver(one, book, "USD", String).prices) expect(readFact("quote", quote, kitchen).ok, quote.id).toBe(true);
  });
});

const told = (more: Partial<BilledLine>): BilledLine => ({ at: "line 1", code: "", gtin: "", name: "", packs: null, billed: null, price: null, per: null, amount: null, lot: "", useBy: null, note: "", ...more });

describe("lines from elsewhere", () => {
  test("by code, GTIN, name; else open, with what it may be", () => {
    const filled = fillLines([told({ code: "tm-1107", packs: exact("2") }), told({ name: "Ground Chuck", packs: exact("1") }), told({ name: "STRIPLOIN BF BNLS" })], book, "tarrow");
    expect(filled.lines.map(({ itemId }) => itemId)).toEqual(["beef-striploin", "ground-chuck", null]);
    expect(filled.lines[1]).toMatchObject({ billed: { amount: "40", unit: "lb" }, price: "5.35", per: "lb" });
    expect(filled.left[0]).toContain("catch weight, and the paper tells no weight");
    expect(filled.left[1]).toContain("perhaps Beef striploin, boneless");
  });

  test("cartons of one item become one line", () => {
    const carton = (weight: string, lot: string, useBy: string) => told({ gtin: "90614141000015", packs: exact("1"), billed: { amount: exact(weight), unit: "lb" }, lot, useBy });
    expect(togetherByGtin([carton("15.80", "A", "2026-12-09"), carton("14.25", "B", "2026-12-01"), carton("15", "A", "2026-12-20"), told({ gtin: "00614141000036", packs: exact("1") })])).toMatchObject([
      { packs: "3", billed: { amount: "45.05", unit: "lb" }, lot: "A, B", useBy: "2026-12-01" }, { packs: "1", billed: null },
    ]);
  });

  test("a table with headings, figures as the file has them or as the kitchen writes", () => {
    const cell = (text: string) => ({ text, number: null });
    const rows = [["Valley Meats"], [], ["Item", "Code", "Cases", "Weight (lb)", "Price", "Per", "Ext."], ["Striploin", "TM-1107", "2", "26.4", "$10.85", "lb", "286.44"], ["", "", "", "", "", "", ""], ["Cod", "", "1", "", "104", "case", "104.00"], ["Total", "", "", "", "", "", ""], ["Bad", "", "x", "", "1", "lb", ""]].map((row) => row.map(cell));
    const read = billedInTable([{ name: "x", rows }], kitchen);
    expect(read.ok && read.value.lines.map(({ at, code, packs, billed, price, per, amount }) => [at, code, packs, billed?.amount, price, per, amount])).toEqual([
      ["row 4 of the file", "TM-1107", "2", "26.4", "10.85", "lb", "286.44"], ["row 6 of the file", "", "1", undefined, "104", "pack", "104.00"], ["row 8 of the file", "", null, undefined, "1", "lb", null],
    ]);
    expect(read.ok && read.value.left[0]).toContain("Row 8 of the file");
    expect(billedInTable([{ name: "x", rows: [[cell("no headings")]] }], kitchen).ok).toBe(false);
  });
});

test("law: what is short is claimed at what was paid for it: claim ÷ short = value ÷ billed", () => {
  fc.assert(fc.property(fc.integer({ min: 100, max: 9999 }), fc.integer({ min: 1, max: 99 }), fc.integer({ min: 1, max: 99_999 }), fc.boolean(), (billed, percent, cents, byPack) => {
    const one: DeliveryLine = { ...line({}), packs: exact("3"), billed: { amount: ratio.toExact(ratio.of(BigInt(billed), 10n)), unit: "lb" }, received: { amount: ratio.toExact(ratio.of(BigInt(billed * percent), 1000n)), unit: "lb" }, price: { amount: ratio.toExact(ratio.of(BigInt(cents), 100n)) }, per: byPack ? "pack" : "lb" };
    const { short } = judgeDelivered(one, null, kitchen);
    if (short === null) throw new Error("expected short weight");
    expect(ratio.compare(ratio.mul(short.claim, ratio.fromExact(one.billed.amount)), ratio.mul(lineValue(one), ratio.fromExact(short.quantity.amount)))).toBe(0);
  }));
});

