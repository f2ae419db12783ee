/**
 * A cut's row. What a test leaves behind is not a factor but a line: C = (W/U)·P − Σ (w_k/U)·v_k, cost per usable unit
 * from the price P of what the cut is made from and the values v_k of its by-products (Dittmer & Keefe, ch. 6,
 * rewritten so that its constants are weights alone). Held at their own prices, a by-product linked to an item or
 * recipe is credited at that node's cost and a typed one at its typed value; a by-product of the house is credited for
 * no more than is used of it, v_k·min(1, used/produced). By the factor, as the textbooks do,
 * typed values move in step with the dealer's price, which folds them into one constant F = W/U − Σ (w_k/U)·(v_k/P₀),
 * P₀ the price of the newest adopted test; a linked by-product always moves with what it is linked to. Where no P₀
 * is on the sheet (the cut is made from another cut) there is no factor, and typed values stay as typed. While no test
 * stands behind the cut, a borrowed yield Y may: C = P/Y, no by-products (BC Cook Articulation Committee, 2015).
 */
import { type BorrowedYield, type Book, type Cut, type PartValue, type YieldTest, borrowedInUse, cutKind, lineInBase } from "@/lib/book";
import { type Rate, type Ratio, BASE_UNIT, exact, ratio } from "@/lib/measure";
import { oldestFirst, rateInBase, yieldLine } from "@/lib/yield";
import type { RowSink } from "../row";
import { creditedShare } from "./transfer";

/** The adopted tests of a cut; null when one of them is not in the book. */
export function adoptedTests(book: Book, cut: Cut): readonly YieldTest[] | null {
  const tests: YieldTest[] = [];
  for (const id of cut.testIds) {
    const test = book.shelves.test.get(id);
    if (test === undefined) return null;
    tests.push(test);
  }
  return tests;
}

/** What each by-product is worth: the newest known value under its key. */
export function valuesOf(tests: readonly YieldTest[]): ReadonlyMap<string, PartValue> {
  const values = new Map<string, PartValue>();
  for (const test of oldestFirst(tests)) {
    for (const part of test.parts) if (part.role === "by-product" && part.value !== null) values.set(part.key, part.value);
  }
  return values;
}

/** The newest dealer's price on the sheets, money per base unit; null when none tells one above zero. */
export function testPrice(tests: readonly YieldTest[]): Ratio | null {
  let price: Rate | null = null;
  for (const test of oldestFirst(tests)) price = test.price ?? price;
  if (price === null) return null;
  const perBase = rateInBase(price);
  return ratio.sign(perBase) > 0 ? perBase : null;
}

/** The method in force: the cut's own choice, else own prices when any by-product is linked to a priced thing. */
export function repricingOf(cut: Cut, values: ReadonlyMap<string, PartValue>): "by-factor" | "by-products-at-own-price" {
  if (cut.repricing !== null) return cut.repricing;
  for (const value of values.values()) if (value.kind !== "typed") return "by-products-at-own-price";
  return "by-factor";
}

export function sayCut(book: Book, cut: Cut, sink: RowSink): void {
  const borrowed = borrowedInUse(cut);
  const kind = borrowed === null ? null : cutKind(book, cut.id);
  if (borrowed !== null && kind !== null) {
    sayInBase(book, cut.of.kind, cut.of.id, perOriginOf(borrowed), BASE_UNIT[kind], "origin", "", sink);
    return;
  }
  const tests = adoptedTests(book, cut);
  const constants = tests === null ? null : yieldLine(tests, cut.partKey, cut.joint);
  if (tests === null || constants === null || !constants.ok) {
    sink.line(cut.of.kind, cut.of.id, 0, 1, "origin", "");
    sink.lacking("yield", "cut", cut.id);
    return;
  }
  const base = BASE_UNIT[constants.value.measure];
  const values = valuesOf(tests);
  const price = repricingOf(cut, values) === "by-factor" ? testPrice(tests) : null;
  let perOrigin = constants.value.perOrigin;
  const credits = constants.value.credits;
  if (price !== null) {
    for (const { key, perUsable } of credits) {
      const value = values.get(key);
      if (value?.kind === "typed") perOrigin = ratio.sub(perOrigin, ratio.div(ratio.mul(perUsable, rateInBase(value.rate)), price));
    }
  }
  sayInBase(book, cut.of.kind, cut.of.id, perOrigin, base, "origin", "", sink);
  for (const { key, perUsable } of credits) {
    const value = values.get(key);
    if (value === undefined) sink.lackingCredit("price", "cut", cut.id);
    else if (value.kind !== "typed") sayInBase(book, value.kind, value.id, ratio.neg(ratio.mul(perUsable, shareCredited(book, value))), base, "by-product", key, sink);
    else if (price === null) {
      const credit = ratio.mul(perUsable, rateInBase(value.rate));
      sink.bigMoney(-credit.n, credit.d, "by-product", key);
    }
  }
}

/** What part of a linked by-product's worth is credited: of one of the house no more than is used. */
export function shareCredited(book: Book, value: PartValue): Ratio {
  return value.kind === "item" ? creditedShare(book.shelves.item.get(value.id)) : ratio.ONE;
}

/** 1/Y: units of the origin paid for in one usable unit. */
export function perOriginOf(borrowed: BorrowedYield): Ratio {
  return ratio.div(ratio.ONE, ratio.fromExact(borrowed.share));
}

const ONE_OF_A_UNIT = exact("1");

/** `share` of a source for each unit of the sheet's measure: through the source's own base where that is another. */
function sayInBase(
  book: Book, kind: "item" | "cut" | "recipe", id: string, share: Ratio, unit: (typeof BASE_UNIT)[keyof typeof BASE_UNIT],
  role: "origin" | "by-product", key: string, sink: RowSink,
): void {
  const one = lineInBase(book, { key, of: { kind, id }, quantity: { amount: ONE_OF_A_UNIT, unit }, note: "" });
  if (one.ok) {
    const coefficient = ratio.mul(share, one.amount);
    sink.bigLine(kind, id, coefficient.n, coefficient.d, role, key);
    return;
  }
  sink.line(kind, id, 0, 1, role, key);
  if (role === "by-product") sink.lackingCredit(one.missing, one.of.kind, one.of.id);
  // A source that is not in the book is found out by the sink.
  else if (one.missing !== "fact") sink.lacking(one.missing, one.of.kind, one.of.id);
}
