/**
 * What an explanation reads from: the book, and the cost of any node in it. Here too are the few questions that every
 * kind of explanation asks: what a node is called, what stands behind it at first glance, how people say its cost.
 */
import { type Book, type FactOf, type Item, type Provenance, type Transfer, borrowedInUse, costingQuote, factKey, kitchenOf, quoteKindMatches } from "@/lib/book";
import {
  type Decimal, type Exact, type Kind, type Quantity, type Ratio, type Unit, BASE_UNIT, baseFactor, exact, inBase, kindOf, ratio,
  toDecimal,
} from "@/lib/measure";
import { oldestFirst } from "@/lib/yield";
import type { Behind, CostOf, QuoteBehind, RateOf, TransferBehind } from "./explain-types";
import { nameOf } from "./names";
import type { Missing, NodeCost, NodeKind, NodeRef } from "./node";
import { adoptedTests } from "./rows/cut";

export interface Sources {
  readonly book: Book;
  /** null: the book has no such node. */
  costOf(ref: NodeRef): NodeCost | null;
}

const ONE = exact("1");

export function one(unit: Unit): Quantity {
  return { amount: ONE, unit };
}

/** An amount of base units (g, mL, each) told in a unit, exactly. */
export function told(amount: Ratio, unit: Unit): Quantity {
  return { amount: ratio.toExact(ratio.div(amount, ratio.fromExact(baseFactor(unit)))), unit };
}

export function provenanceOf(book: Book, kind: keyof FactOf, id: string): Provenance | null {
  return book.provenance.get(factKey(kind, id)) ?? null;
}

/** The quote that an item is costed by, with its dealer and its history; null when there is none that prices it. */
export function quoteBehind(book: Book, itemId: string): QuoteBehind | null {
  const item = book.shelves.item.get(itemId);
  const quote = item ? costingQuote(book, itemId) : null;
  if (!item || !quote || !quoteKindMatches(item, quote)) return null;
  return {
    kind: "quote",
    quote,
    dealerName: book.shelves.dealer.get(quote.dealerId)?.name ?? quote.dealerId,
    provenance: provenanceOf(book, "quote", quote.id),
  };
}

/** The transfer price of a by-product of the house, with when it applies from and who recorded it. */
export function transferBehind(book: Book, item: Item, transfer: Transfer): TransferBehind {
  const of = transfer.price.kind === "item" ? ({ kind: "item", id: transfer.price.itemId } as const) : null;
  return { kind: "transfer", transfer, inPlaceOf: of && { ref: of, name: nameOf(book, of) }, provenance: provenanceOf(book, "item", item.id) };
}

/** What stands behind a node at first glance: an item's quote or transfer price; the tests, or the borrowed yield, of a cut or of a spec's cut. */
export function behind(book: Book, ref: NodeRef): Behind | null {
  if (ref.kind === "item") {
    const item = book.shelves.item.get(ref.id);
    return item?.transfer ? transferBehind(book, item, item.transfer) : quoteBehind(book, ref.id);
  }
  const cutId = ref.kind === "cut" ? ref.id : ref.kind === "spec" ? book.shelves.spec.get(ref.id)?.cutId : undefined;
  const cut = cutId === undefined ? undefined : book.shelves.cut.get(cutId);
  const borrowed = cut ? borrowedInUse(cut) : null;
  if (borrowed !== null) return { kind: "borrowed", borrowed };
  const tests = cut ? adoptedTests(book, cut) : null;
  if (!tests) return null;
  const ordered = oldestFirst(tests);
  const oldest = ordered[0];
  const newest = ordered.at(-1);
  if (!oldest || !newest) return null;
  return { kind: "tests", count: ordered.length, oldestOn: oldest.on, newestOn: newest.on, cutter: newest.cutter };
}

/** The quantities people ask the cost of, in a kitchen's own measures. */
const ASKED = {
  us: { mass: [one("lb"), one("oz")], volume: [one("qt"), one("fl oz")], count: [one("each")] },
  metric: {
    mass: [one("kg"), { amount: exact("100"), unit: "g" }],
    volume: [one("L"), { amount: exact("100"), unit: "mL" }],
    count: [one("each")],
  },
} as const satisfies Record<"us" | "metric", Record<Kind, readonly Quantity[]>>;

/** A cost per base unit as people say it: of a pound and an ounce, of a kilo and 100 g, of one. */
export function costAsSaid(book: Book, perBase: Decimal, kind: Kind): CostOf[] {
  return ASKED[kitchenOf(book).measures][kind].map((quantity) => ({ quantity, amount: inBase(quantity).mul(perBase) }));
}

/** The unit a kitchen would tell such an amount in: ounces below a pound, grams below a kilo. */
export function unitToTell(book: Book, amount: Ratio, kind: Kind): Unit {
  const [small, large] = UNITS_TO_TELL[kitchenOf(book).measures][kind];
  const size = ratio.sign(amount) < 0 ? ratio.neg(amount) : amount;
  return ratio.compare(size, ratio.fromExact(baseFactor(large))) < 0 ? small : large;
}

const UNITS_TO_TELL = {
  us: { mass: ["oz", "lb"], volume: ["fl oz", "qt"], count: ["each", "each"] },
  metric: { mass: ["g", "kg"], volume: ["mL", "L"], count: ["each", "each"] },
} as const satisfies Record<"us" | "metric", Record<Kind, readonly [Unit, Unit]>>;

/** The unit of one base unit of a kind, and back from what a cost is told per. */
export const KIND_OF_BASE = { g: "mass", mL: "volume", each: "count" } as const satisfies Record<string, Kind>;

export function baseUnitOf(quantity: Quantity): "g" | "mL" | "each" {
  return BASE_UNIT[kindOf(quantity.unit)];
}

/** A cost per base unit restated per one of a unit. */
export function perOne(perBase: Decimal, unit: Unit): Decimal {
  return perBase.mul(toDecimal(baseFactor(unit)));
}

/** A rate restated per another unit of its kind, for a page that tells all its rates per one unit; else as it is. */
export function ratePer(rate: RateOf, unit: Unit): RateOf {
  if (rate.per === unit || kindOf(rate.per) !== kindOf(unit)) return rate;
  return { amount: perOne(rate.amount, unit).div(toDecimal(baseFactor(rate.per))), per: unit };
}

/** Nothing of a source's cost is known: it has a gap and its bound is nothing. */
export function knowsNothing(cost: NodeCost): boolean {
  return cost.missing.length > 0 && cost.amount.isZero();
}

export function missingFact(ref: NodeRef): Missing {
  return { what: "fact", of: ref, name: ref.id };
}

/** What is missing, each thing once. */
export function mergeMissing(lists: readonly (readonly Missing[])[]): Missing[] {
  const seen = new Map<string, Missing>();
  for (const missing of lists.flat()) seen.set(`${missing.what} ${missing.of.kind}:${missing.of.id}`, missing);
  return [...seen.values()];
}

/** The item at the root of an item, cut or spec: what the dealer's price is asked for. null when a fact is missing on the way. */
export function rootItem(book: Book, ref: NodeRef): NodeRef | null {
  let at: { readonly kind: NodeKind; readonly id: string } = ref;
  // A cut made from a cut made from an item: as many steps as there are cuts at most.
  for (let steps = 0; steps <= book.shelves.cut.size + 1; steps += 1) {
    if (at.kind === "item") return book.shelves.item.has(at.id) ? { kind: "item", id: at.id } : null;
    if (at.kind === "spec") {
      const spec = book.shelves.spec.get(at.id);
      if (!spec) return null;
      at = { kind: "cut", id: spec.cutId };
    } else if (at.kind === "cut") {
      const cut = book.shelves.cut.get(at.id);
      if (!cut) return null;
      at = cut.of;
    } else return null;
  }
  return null;
}

export function exactCount(amount: bigint): Exact {
  return ratio.toExact(ratio.of(amount));
}
