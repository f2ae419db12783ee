/**
 * What a figure opened to its arithmetic consists of. Every explanation is one page of a ledger: steps that each have
 * a quantity, a rate and an amount, and what their sum is divided by to give the cost. Σ amount ÷ divisor is the cost
 * of the node, to the digits the cascade carries. A step names the node it takes its rate from, so that it can be
 * opened in turn, down to the quote and the readings of the scale, with their dates and who. Unknown is not zero: a
 * step whose rate or quantity cannot be told has amount null and says what is missing. Plain data: nothing is rounded,
 * formatted or said in sentences here.
 */
import type { Allowance, BorrowedYield, Cut, DishRole, ExchangeRate, JointMethod, Landed, Provenance, Quote, Repricing, Transfer, TransferUse, YieldTest } from "@/lib/book";
import type { Decimal, Exact, Quantity, Unit } from "@/lib/measure";
import type { LossKey } from "@/lib/yield";
import type { BorrowedCut, Missing, NodeCost, NodeRef } from "./node";

/** What a quantity costs, money: 1 lb, 100 g, 1 portion. */
export interface CostOf {
  readonly quantity: Quantity;
  readonly amount: Decimal;
}

/** Money per one of a unit. */
export interface RateOf {
  readonly amount: Decimal;
  readonly per: Unit;
}

/**
 * price: what is asked for an item's pack, or for one of its unit. extra, rebate: what comes on top of that or is paid back, a rebate below zero, for as much as the price is for. transfer: what a by-product of the house is passed on at, or
 * what costs the item whose place it takes; work: still to be done to it, below zero. billed: what was billed for a cut's tests, at what
 * that costs now. by-product: credited, below zero. discard, purge, loss: weighed or found by difference, worth
 * nothing. borrowed: what a borrowed yield says is lost, or taken up. other-main: what the other main parts carry of a joint cost, below zero. size: so much of the cut in a
 * portion. pieces, end: the pieces cut into whole portions, and what is left of them, credited. line: of a recipe or dish.
 * allowance: reckoned on its lines, a share or money.
 */
export type StepKind =
  | "price" | "extra" | "rebate" | "transfer" | "work" | "billed" | "by-product" | "discard" | "purge" | "loss" | "borrowed" | "other-main" | "size" | "pieces" | "end" | "line" | "allowance";

export interface Step {
  /** Stable within the explanation: the line's, the part's or the loss's key. */
  readonly key: string;
  readonly kind: StepKind;
  readonly name: string;
  /** As weighed or written, in its own unit; null where there is none. */
  readonly quantity: Quantity | null;
  /** The same in the measure that its source is costed in, where that is another: a cup of flour in grams. */
  readonly converted: Conversion | null;
  /**
   * Money per one of a unit of the quantity's kind: in recipes and dishes the unit it is written in, in cuts and specs
   * one unit for the whole page. null when unknown or when the step bears no price.
   */
  readonly rate: RateOf | null;
  /** Money, signed: a credit is below zero. null: unknown. A lower bound (a credit: an upper) when `missing` is not empty. */
  readonly amount: Decimal | null;
  /** Its part of the sum of all amounts, a ratio; null when either is unknown or the sum is zero. */
  readonly share: Decimal | null;
  /** The node whose cost the rate is: what to open next. null at the leaves. */
  readonly ref: NodeRef | null;
  /** What stands behind that node at first glance: its quote, or its tests. */
  readonly behind: Behind | null;
  readonly missing: readonly Missing[];
  /** Cuts on borrowed yields that this step's cost rests on. */
  readonly borrowed: readonly BorrowedCut[];
  readonly detail: StepDetail | null;
}

/** A quantity in another measure, and through which recorded figures of the item it was reached. */
export interface Conversion {
  readonly quantity: Quantity;
  readonly rate: RateOf | null;
  readonly through: readonly ConversionFigure[];
}

export interface ConversionFigure {
  readonly what: "density" | "each-weight";
  readonly itemId: string;
  /** Grams in a millilitre, or what one weighs. */
  readonly figure: { readonly gramsPerMl: Exact } | { readonly weight: Quantity };
  /** Where the figure comes from ("own cup, weighed") and its day. */
  readonly source: string;
  readonly on: string;
}

/** How a recipe or dish line's quantity is meant; the kind of thing it takes says so. */
export type Basis = "as-purchased" | "edible-portion" | "portion" | "batch";

/** What only some kinds of step have to tell. */
export type StepDetail =
  | { readonly of: "line"; readonly basis: Basis; readonly role: DishRole | null; readonly note: string; readonly batch: BatchShare | null }
  /** `cap`: of a by-product of the house no more is credited than is used of it; null where all of it is. */
  | { readonly of: "credit"; readonly value: ValueSource | null; readonly cap: CreditCap | null }
  | LossDetail
  | { readonly of: "borrowed"; readonly borrowed: BorrowedYield }
  | { readonly of: "joint"; readonly share: Decimal }
  | { readonly of: "allowance"; readonly allowance: Allowance }
  | AskedAbroad
  | { readonly of: "landed"; readonly landed: Landed; readonly currency: string | null };

/** A price asked in other money than the kitchen's: `asked` for what the step's quantity says; the amount is that × rate. */
export interface AskedAbroad {
  readonly of: "exchange";
  readonly asked: Decimal;
  readonly currency: string;
  /** null: nobody has said what it is worth. */
  readonly rate: ExchangeRate | null;
}

/** A line's part of the batch that it is taken from. */
export interface BatchShare {
  readonly share: Decimal;
  /** The measured yield that the quantity is a part of. */
  readonly yield: Quantity;
  /** Money for the whole batch; a lower bound like its step. */
  readonly cost: Decimal;
}

/** A credit held to what is used: 40 lb come off, 25 are used, so 62.5 % of the worth is credited. */
export interface CreditCap {
  /** min(1, used/produced), below 1. */
  readonly share: Decimal;
  readonly use: TransferUse;
}

/** Where a by-product's value comes from. */
export type ValueSource =
  | {
      readonly kind: "typed"; readonly testId: string; readonly on: string; readonly provenance: Provenance | null;
      /** As typed that day, money per one of its unit. */
      readonly typed: RateOf;
      /** True where the cut is repriced by the factor, so that the value moves in step with the dealer's price. */
      readonly movesWithPrice: boolean;
    }
  | { readonly kind: "linked"; readonly ref: NodeRef; readonly name: string };

export interface LossDetail {
  readonly of: "loss";
  readonly loss: LossKey;
  /** Over the billed weight, a ratio. */
  readonly ofWhole: Decimal;
  /** The least and greatest of the pooled tests; null when there is one test. */
  readonly among: { readonly least: Decimal; readonly greatest: Decimal } | null;
  /** By how much the parts weighed more than the whole, where the scale's step explains it; null when they did not. */
  readonly forgiven: Quantity | null;
}

export interface QuoteBehind {
  readonly kind: "quote";
  readonly quote: Quote;
  readonly dealerName: string;
  /** Since when it applies, and who recorded it when; null when it is only pretended. */
  readonly provenance: Provenance | null;
}

/** A by-product of the house: how its price was found and on which day, and whose place it takes. */
export interface TransferBehind {
  readonly kind: "transfer";
  readonly transfer: Transfer;
  readonly inPlaceOf: { readonly ref: NodeRef; readonly name: string } | null;
  /** Since when it applies, and who recorded it when; null when it is only pretended. */
  readonly provenance: Provenance | null;
}

export interface TestsBehind {
  readonly kind: "tests";
  readonly count: number;
  /** Days of the oldest and the newest, "2026-11-21", and who worked the newest. */
  readonly oldestOn: string;
  readonly newestOn: string;
  readonly cutter: string;
}

/** A cut without a test of its own, costed by a yield measured elsewhere. */
export interface BorrowedBehind {
  readonly kind: "borrowed";
  readonly borrowed: BorrowedYield;
}

export type Behind = QuoteBehind | TransferBehind | TestsBehind | BorrowedBehind;

export interface Explanation {
  readonly ref: NodeRef;
  readonly name: string;
  /** The day the book applies on. */
  readonly on: string;
  readonly cost: NodeCost;
  /** The same cost as people say it: of 1 lb and 1 oz, of 1 kg and 100 g, of 1 portion, of 1 qt of a batch. */
  readonly costOf: readonly CostOf[];
  readonly steps: readonly Step[];
  /** Sum of the known amounts, money. */
  readonly total: Decimal;
  /** What the sum is divided by: the content of a pack, the usable weight, the portions. null: the sum is the cost. */
  readonly divisor: Quantity | null;
  /**
   * False where the cost is held at 0 ("at least 0") rather than at the sum: something is unknown beside credits, and
   * credits may not be taken from what is not known.
   */
  readonly summed: boolean;
  /** Who recorded the fact itself, when and why; null when it is only pretended. */
  readonly provenance: Provenance | null;
  readonly about: About;
}

export type About = AboutItem | AboutCut | AboutSpec | AboutRecipe | AboutDish;

export interface AboutItem {
  readonly kind: "item";
  /** The quote it is costed by; null when there is none, or none of its kind of quantity. */
  readonly quote: QuoteBehind | null;
  /** Of a by-product of the house; null: it is bought. */
  readonly transfer: TransferBehind | null;
  readonly specification: string;
}

/** One adopted test, as it was read from the scale. */
export interface TestTold {
  readonly test: YieldTest;
  readonly dealerName: string | null;
  /** This part's weight over the billed weight of this test, a ratio. */
  readonly yield: Decimal;
  readonly provenance: Provenance | null;
}

/** Both ways a new dealer price can reach a cut, at today's prices, per one of the cut's unit. */
export interface TwoRepricings {
  readonly inForce: Repricing;
  /** False when nobody chose and the default applies. */
  readonly chosen: boolean;
  /** Typed by-product values moved in step with the dealer's price since the newest test. null: a price then or now is missing. */
  readonly byFactor: RateOf | null;
  /** Typed by-product values held as typed. null: a price now is missing. */
  readonly byProductsAtOwnPrice: RateOf | null;
  /** The second less the first: (V/U)·(P′/P − 1) with V the typed values. null where either is. */
  readonly gap: RateOf | null;
  readonly priceAtTest: RateOf | null;
  readonly priceNow: RateOf | null;
}

export interface AboutCut {
  readonly kind: "cut";
  readonly cut: Cut;
  readonly origin: { readonly ref: NodeRef; readonly name: string; readonly behind: Behind | null };
  /** The tests pooled, oldest first; empty when the yield is not known. */
  readonly tests: readonly TestTold[];
  /** The borrowed yield that stands in for a test; null where there is none, or tests of the house's own. */
  readonly borrowed: BorrowedYield | null;
  /** What weights and rates are told in; null when the yield is not known. */
  readonly unit: Unit | null;
  /** This part's weight over the billed weight, pooled, or as borrowed, a ratio. For buying, never for costing. */
  readonly yield: Decimal | null;
  /** Units of the origin paid for in one usable unit, W/U times the joint share: the slope of the cost in its price. */
  readonly perOrigin: Decimal | null;
  readonly factor: CostFactor | null;
  readonly repricing: TwoRepricings | null;
  /** How joint cost is shared; null when the part is the only main one. */
  readonly joint: { readonly method: JointMethod; readonly shares: readonly { readonly key: string; readonly name: string; readonly weight: Quantity; readonly share: Decimal }[] } | null;
}

/** Cost factor per unit F = C/P at today's prices, a pure number, on the price of the item at the root of the chain. */
export interface CostFactor {
  readonly factor: Decimal;
  readonly item: NodeRef;
  readonly name: string;
  /** P, per one of the cut's unit. */
  readonly price: RateOf;
}

/** One tested piece cut into whole portions. */
export interface PieceTold {
  readonly weight: Quantity;
  readonly portions: Exact;
  readonly left: Quantity;
}

export interface AboutSpec {
  readonly kind: "spec";
  readonly cut: NodeRef;
  readonly cutName: string;
  readonly size: Quantity;
  readonly costing: "by-weight" | "whole";
  /** Whole portions only: the pieces of the tests and what is left of each. */
  readonly pieces: readonly PieceTold[];
  readonly portions: Exact | null;
  /** What a portion costs by weight alone, size × cost per unit, money: the lower bound of whole portions. null: unknown. */
  readonly byWeight: Decimal | null;
  /** Cost factor per portion f = c/P: a hidden weight, as purchased, paid for with each portion. null: unknown. */
  readonly factor: { readonly perPortion: Decimal; readonly unit: Unit; readonly item: NodeRef; readonly name: string } | null;
}

export interface AboutRecipe {
  readonly kind: "recipe";
  /** The measured batch yields. */
  readonly yields: readonly Quantity[];
}

export interface AboutDish {
  readonly kind: "dish";
}
