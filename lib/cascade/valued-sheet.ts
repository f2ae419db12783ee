/**
 * A recorded test as a sheet with money on it: the weights are the test's, a typed worth is as typed that day, a linked
 * by-product is at what it is linked to costs now (of one of the house no more than is used), and a test of a cut carries in that cut's net cost of now. So the
 * result page of a test shows what its weights mean today.
 */
import { type Book, type Cut, type TestPart, type YieldTest, borrowedInUse, lineInBase } from "@/lib/book";
import { type Kind, type Rate, type Ratio, type Unit, exact, kindOf, ratio } from "@/lib/measure";
import { type CarriedIn, type Sheet, rateInBase, yieldLine } from "@/lib/yield";
import type { Cascade } from "./cascade";
import { isIncomplete } from "./cost";
import { costExactly } from "./exact";
import type { NodeRef } from "./node";
import { adoptedTests, shareCredited } from "./rows/cut";

const ONE = exact("1");

/** The test as a sheet; what is not known (a price, a by-product's worth) is null and the figures say so. */
export function valuedSheet(cascade: Cascade, test: YieldTest): Sheet {
  return {
    ...test,
    price: test.of.kind === "cut" ? costAsRate(cascade, test.of, test.billed.unit) : test.price,
    parts: test.parts.map((part) => ({ ...part, value: worthOf(cascade, part) })),
  };
}

function worthOf(cascade: Cascade, part: TestPart): Rate | null {
  if (part.value === null) return null;
  if (part.value.kind === "typed") return part.value.rate;
  const worth = costAsRate(cascade, part.value, part.weight.unit);
  return worth && { ...worth, amount: ratio.toExact(ratio.mul(ratio.fromExact(worth.amount), shareCredited(cascade.book, part.value))) };
}

/** What a node costs now per one of a unit, exactly; null while that is not wholly known. */
export function costAsRate(cascade: Cascade, ref: NodeRef, unit: Unit): Rate | null {
  if (!cascade.book.shelves[ref.kind].has(ref.id) || isIncomplete(cascade, ref) || ref.kind === "dish") return null;
  const one = lineInBase(cascade.book, { key: "", of: { kind: ref.kind, id: ref.id }, quantity: { amount: ONE, unit }, note: "" });
  if (!one.ok) return null;
  return { amount: ratio.toExact(ratio.mul(costExactly(cascade, ref), one.amount)), per: unit };
}

/**
 * What a test of a cut goes on from: the share of what was first bought that the stages before it left, and the dealer's
 * price of that now. null for a test of an item as purchased, or while a stage before it has no yield.
 */
export function carriedIn(cascade: Cascade, test: YieldTest): CarriedIn | null {
  const { book } = cascade;
  let left: Ratio = ratio.ONE;
  let of = test.of;
  const seen = new Set<string>();
  while (of.kind === "cut") {
    const cut = book.shelves.cut.get(of.id);
    if (cut === undefined || seen.has(of.id)) return null;
    seen.add(of.id);
    const share = shareOf(book, cut);
    if (share === null) return null;
    left = ratio.mul(left, share);
    of = cut.of;
  }
  if (test.of.kind === "item") return null;
  return { yield: left, dealerPrice: costAsRate(cascade, of, test.billed.unit) };
}

/** An item's price now per base unit of a kind, exactly; null while it is not known or told in another kind. */
export function priceNow(cascade: Cascade, itemId: string, kind: Kind): Ratio | null {
  const item = cascade.book.shelves.item.get(itemId);
  if (item === undefined || item.kind !== kind) return null;
  const unit = UNIT_OF[kind];
  const rate = costAsRate(cascade, { kind: "item", id: itemId }, unit);
  return rate === null || kindOf(rate.per) !== kind ? null : rateInBase(rate);
}

const UNIT_OF: Readonly<Record<Kind, Unit>> = { mass: "lb", volume: "qt", count: "each" };

/** Usable over billed weight of a cut, over its adopted tests pooled, else as borrowed; null while nothing tells it. For buying, never for costing. */
export function yieldOfCut(cascade: Cascade, cutId: string): Ratio | null {
  const cut = cascade.book.shelves.cut.get(cutId);
  return cut === undefined ? null : shareOf(cascade.book, cut);
}

function shareOf(book: Book, cut: Cut): Ratio | null {
  const borrowed = borrowedInUse(cut);
  if (borrowed !== null) return ratio.fromExact(borrowed.share);
  const tests = adoptedTests(book, cut);
  if (tests === null || tests.length === 0) return null;
  const line = yieldLine(tests, cut.partKey, cut.joint);
  return line.ok ? line.value.yield : null;
}
