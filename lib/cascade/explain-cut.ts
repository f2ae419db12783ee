/**
 * A cut opened: the sheet of its tests at today's prices. C = (W·P − Σ w_k·v_k)/U (Dittmer & Keefe, ch. 6): what was
 * billed at what that costs now, less each by-product at what it is worth and says why it is, discards and losses for
 * nothing, and what is left over the usable weight. Several tests stand as one by their pooled weights. Where a test
 * has several main parts the others carry their share of the joint cost. Two ways exist for a new dealer price to
 * reach a cut, and both are told. A cut on a borrowed yield is opened in explain-borrowed.ts.
 */
import type { Cut, Repricing, YieldTest } from "@/lib/book";
import { type Decimal, type Quantity, baseFactor, ratio, toDecimal } from "@/lib/measure";
import { type WeighedSheet, quantityInBase } from "@/lib/yield";
import { openBorrowed } from "./explain-borrowed";
import { costFactor } from "./explain-cost-factor";
import { creditStep } from "./explain-credit";
import { type Taken, takenFrom } from "./explain-lines";
import { type PooledSheet, NOTHING, lossSteps, plainStep, pooledSheet } from "./explain-sheet";
import { type Sources, behind, mergeMissing, missingFact, perOne, provenanceOf } from "./explain-sources";
import type { AboutCut, Explanation, RateOf, Step, TestTold } from "./explain-types";
import { nameOf } from "./names";
import type { NodeRef } from "./node";
import { repricingOf, testPrice, valuesOf } from "./rows/cut";

export interface OpenedCut {
  readonly steps: readonly Step[];
  readonly divisor: Quantity | null;
  readonly about: AboutCut;
}

export function openCut(sources: Sources, cut: Cut): OpenedCut {
  const borrowed = openBorrowed(sources, cut);
  if (borrowed !== null) return borrowed;
  const sheet = pooledSheet(sources, cut);
  return sheet === null ? withoutYield(sources, cut) : openSheet(sources, cut, sheet);
}

/** No test stands behind the cut, or the tests do not tell this part's cost: its yield is what is missing. */
function withoutYield(sources: Sources, cut: Cut): OpenedCut {
  const of: NodeRef = { kind: "cut", id: cut.id };
  const origin: NodeRef = { kind: cut.of.kind, id: cut.of.id };
  return {
    steps: [{
      ...plainStep("billed", "billed", nameOf(sources.book, origin)),
      amount: null,
      ref: sources.costOf(origin) ? origin : null,
      behind: behind(sources.book, origin),
      missing: [{ what: "yield", of, name: cut.name }, ...(sources.costOf(origin)?.missing ?? [missingFact(origin)])],
    }],
    divisor: null,
    about: {
      kind: "cut", cut, origin: { ref: origin, name: nameOf(sources.book, origin), behind: behind(sources.book, origin) },
      tests: [], borrowed: null, unit: null, yield: null, perOrigin: null, factor: null, repricing: null, joint: null,
    },
  };
}

function openSheet(sources: Sources, cut: Cut, pooled: PooledSheet): OpenedCut {
  const { sheet, unit } = pooled;
  const origin = { kind: cut.of.kind, id: cut.of.id } as const;
  const values = valuesOf(pooled.tests);
  const inForce = repricingOf(cut, values);
  const priceAtTest = testPrice(pooled.tests);
  const billedLine = takenFrom(sources, { key: "billed", of: origin, quantity: sheet.billed, note: "" });
  const billed = billedStep(sources, origin, sheet, billedLine);

  // P now, money per base unit of the sheet: what everything that moves with the dealer's price moves with.
  const boundNow = billed.rate ? billed.rate.amount.div(toDecimal(baseFactor(billed.rate.per))) : null;
  const priceNow = billed.missing.length === 0 ? boundNow : null;
  const byProducts = sheet.parts.filter((part) => part.role === "by-product");
  const move = priceAtTest && { then: priceAtTest, now: boundNow, missing: billed.missing };
  const creditsBy = (method: Repricing): Step[] => byProducts.map((part) =>
    creditStep(sources, cut, pooled, part, values.get(part.key), method === "by-factor" ? move : null));
  const credits = creditsBy(inForce);
  const joint = sum([billed, ...credits]);
  const jointMissing = mergeMissing([billed, ...credits].map((step) => step.missing));
  const others = pooled.mains.filter((main) => main.part.key !== cut.partKey).map((main): Step => ({
    ...plainStep(main.part.key, "other-main", main.part.name),
    quantity: main.part.weight,
    amount: billed.amount === null || credits.some((credit) => credit.amount === null) ? null : joint.mul(ratio.toDecimal(main.share)).neg(),
    missing: jointMissing,
    detail: { of: "joint", share: ratio.toDecimal(main.share) },
  }));
  const weighed = sheet.parts.filter((part) => part.role === "discard" || part.role === "purge").map((part): Step => ({
    ...plainStep(part.key, part.role === "purge" ? "purge" : "discard", part.name),
    quantity: part.weight,
    rate: { amount: NOTHING, per: unit },
  }));

  const costByMethod = (method: Repricing): RateOf | null => {
    const steps = [billed, ...creditsBy(method)];
    if (steps.some((step) => step.amount === null || step.missing.length > 0)) return null;
    const perBase = sum(steps).mul(ratio.toDecimal(pooled.share)).div(ratio.toDecimal(pooled.usable));
    return { amount: perOne(perBase, unit), per: unit };
  };
  const steps = [billed, ...credits, ...weighed, ...lossSteps(pooled), ...others];
  const own = costByMethod("by-products-at-own-price");
  const moved = priceAtTest === null ? null : costByMethod("by-factor");
  return {
    steps,
    divisor: pooled.part.weight,
    about: {
      kind: "cut",
      cut,
      origin: { ref: origin, name: nameOf(sources.book, origin), behind: behind(sources.book, origin) },
      tests: pooled.tests.map((test) => testTold(sources, cut, test)),
      borrowed: null,
      unit,
      yield: ratio.toDecimal(ratio.div(pooled.usable, pooled.billed)),
      perOrigin: ratio.toDecimal(ratio.div(ratio.mul(pooled.share, pooled.billed), pooled.usable)),
      factor: costFactor(sources, cut.id, pooled.unit),
      repricing: {
        inForce,
        chosen: cut.repricing !== null,
        byFactor: moved,
        byProductsAtOwnPrice: own,
        gap: own && moved ? { amount: own.amount.minus(moved.amount), per: unit } : null,
        priceAtTest: priceAtTest && { amount: perOne(ratio.toDecimal(priceAtTest), unit), per: unit },
        priceNow: priceNow && { amount: perOne(priceNow, unit), per: unit },
      },
      joint: pooled.mains.length < 2 ? null : {
        method: cut.joint,
        shares: pooled.mains.map(({ part, share }) => ({ key: part.key, name: part.name, weight: part.weight, share: ratio.toDecimal(share) })),
      },
    },
  };
}

function billedStep(sources: Sources, origin: NodeRef, sheet: WeighedSheet, taken: Taken): Step {
  return {
    ...plainStep("billed", "billed", nameOf(sources.book, origin)),
    quantity: sheet.billed,
    converted: taken.converted,
    rate: taken.rate && { amount: taken.rate, per: sheet.billed.unit },
    amount: taken.amount,
    ref: taken.cost ? origin : null,
    behind: behind(sources.book, origin),
    missing: taken.missing,
    borrowed: taken.cost?.borrowed ?? [],
  };
}

function testTold(sources: Sources, cut: Cut, test: YieldTest): TestTold {
  const main = test.parts.find((part) => part.key === cut.partKey && part.role === "main");
  return {
    test,
    dealerName: test.dealerId === null ? null : sources.book.shelves.dealer.get(test.dealerId)?.name ?? test.dealerId,
    yield: main ? ratio.toDecimal(ratio.div(quantityInBase(main.weight), quantityInBase(test.billed))) : NOTHING,
    provenance: provenanceOf(sources.book, "test", test.id),
  };
}

function sum(steps: readonly Step[]): Decimal {
  return steps.reduce((total, step) => (step.amount ? total.plus(step.amount) : total), NOTHING);
}

/** What a cut comes to by each method at a price of its origin, per one of the cut's unit. */
export interface Repriced {
  readonly byFactor: RateOf;
  readonly byProductsAtOwnPrice: RateOf;
}

/**
 * A cost by both methods at another price of the origin, from a cut opened today: by the factor, C·P′/P; with
 * by-products at their own price, C + (W/U)·(P′ − P). `price` is per one of the cut's unit. null while the cost or the
 * price is not wholly known, or is zero. By-products linked to things that themselves move with this price are held
 * here; a try-out moves them too.
 */
export function repricedAt(cost: Explanation["cost"], about: AboutCut, price: Decimal): Repriced | null {
  const { unit, repricing, perOrigin } = about;
  const now = repricing?.priceNow?.amount;
  if (unit === null || !now?.gt(0) || !perOrigin || cost.missing.length > 0) return null;
  const perUnit = perOne(cost.amount, unit);
  return {
    byFactor: { amount: perUnit.mul(price).div(now), per: unit },
    byProductsAtOwnPrice: { amount: perUnit.plus(perOrigin.mul(price.minus(now))), per: unit },
  };
}
