/**
 * A by-product of the house opened: the market or the decision that its transfer price comes from, with its day, or what
 * the item costs whose place it takes, less the work still to be done to it. A pound of trim in the place of a pound of
 * ground chuck at 3.20, less 0.60 of grinding, is passed on at 2.60.
 */
import { type Item, type Transfer, kitchenOf } from "@/lib/book";
import { type Decimal, type Quantity, type Ratio, type Unit, baseFactor, customaryUnit, ratio, toDecimal } from "@/lib/measure";
import { rateInBase } from "@/lib/yield";
import { conversionFigures } from "./explain-conversion";
import { type Sources, behind, knowsNothing, missingFact, one, perOne, told, transferBehind, unitToTell } from "./explain-sources";
import type { AboutItem, Conversion, Step } from "./explain-types";
import { nameOf } from "./names";
import type { Missing, NodeCost, NodeRef } from "./node";
import { crossingTo } from "./rows/transfer";

export interface OpenedTransfer {
  readonly steps: readonly Step[];
  readonly divisor: Quantity | null;
  readonly about: AboutItem;
}

export function openTransfer(sources: Sources, item: Item, transfer: Transfer): OpenedTransfer {
  const { book } = sources;
  const { price } = transfer;
  const decided = transferBehind(book, item, transfer);
  const about: AboutItem = { kind: "item", quote: null, transfer: decided, specification: item.specification };
  const plain = { kind: "transfer", share: null, converted: null, detail: null, borrowed: [] } as const;
  if (price.kind !== "item") {
    const { rate, source } = price;
    return {
      steps: [{ ...plain, key: item.id, name: source, quantity: one(rate.per), rate: { amount: toDecimal(rate.amount), per: rate.per }, amount: toDecimal(rate.amount), ref: null, behind: decided, missing: [] }],
      divisor: one(rate.per), about,
    };
  }
  const unit = customaryUnit(item.kind, kitchenOf(book));
  const of: NodeRef = { kind: "item", id: price.itemId };
  const taken = inItsPlace(sources, item, of, unit);
  const work: Step[] = price.less === null ? [] : [{
    ...plain, key: "work", kind: "work", name: "the work still to be done", quantity: one(unit), rate: { amount: perOne(ratio.toDecimal(rateInBase(price.less)), unit), per: unit },
    amount: perOne(ratio.toDecimal(rateInBase(price.less)), unit).neg(), ref: null, behind: null, missing: [],
  }];
  return {
    steps: [{
      ...plain, key: price.itemId, name: nameOf(book, of), quantity: one(unit), converted: taken.converted, rate: taken.amount === null ? null : { amount: taken.amount, per: unit }, amount: taken.amount,
      ref: taken.cost === null ? null : of, behind: behind(book, of), missing: taken.missing,
    }, ...work],
    divisor: one(unit), about,
  };
}

interface InItsPlace {
  readonly cost: NodeCost | null;
  /** Money for one of the by-product's unit; null: unknown. */
  readonly amount: Decimal | null;
  readonly converted: Conversion | null;
  readonly missing: readonly Missing[];
}

function inItsPlace(sources: Sources, item: Item, of: NodeRef, unit: Unit): InItsPlace {
  const { book } = sources;
  const cost = sources.costOf(of);
  const other = book.shelves.item.get(of.id);
  const crossing = crossingTo(book, item, of.id);
  if (cost === null || other === undefined || crossing === "fact") return { cost: null, amount: null, converted: null, missing: [missingFact(of)] };
  if (typeof crossing === "string") return { cost, amount: null, converted: null, missing: [{ what: crossing, of, name: nameOf(book, of) }, ...cost.missing] };
  const nothingKnown = knowsNothing(cost);
  const amount: Ratio = ratio.mul(crossing, ratio.fromExact(baseFactor(unit)));
  const tell = unitToTell(book, amount, other.kind);
  const through = conversionFigures(book, of, item.kind, other.kind);
  return {
    cost, amount: nothingKnown ? null : ratio.toDecimal(amount).mul(cost.amount), missing: cost.missing,
    converted: other.kind === item.kind ? null : {
      quantity: told(amount, tell), rate: nothingKnown ? null : { amount: perOne(cost.amount, tell), per: tell },
      through: through.length > 0 ? through : conversionFigures(book, { kind: "item", id: item.id }, item.kind, other.kind),
    },
  };
}
