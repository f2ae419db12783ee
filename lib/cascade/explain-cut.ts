/**
 * A cut opened: the sheet of its tests at today's prices. C = (W·P − Σ w_k·v_k)/U (Dittmer & Keefe, ch. 6): what was
 * billed at what that costs now, less each by-product at what it is worth and says why it is, discards and losses for
 * nothing, and what is left over the usable weight. Several tests stand as one by their pooled weights. Where a test
 * has several main parts the others carry their share of the joint cost. Two ways exist for a new dealer price to
 * reach a cut, and both are told.
 */
import type { Cut, PartValue, Repricing, YieldTest } from "@/lib/book";
import { type Ratio, type Unit, Decimal, baseFactor, ratio, toDecimal } from "@/lib/measure";
import {
  type Loss, type WeighedPart, type WeighedSheet, jointCost, lossesOf, oldestFirst, poolWeights, quantityInBase, rateInBase, readWeights,
} from "@/lib/yield";
import { type Taken, takenFrom } from "./explain-lines";
import {
  type Sources, baseUnitOf, behind, one, perOne, provenanceOf, ratePer, rootItem, told,
} from "./explain-sources";
import type { AboutCut, CostFactor, LossDetail, RateOf, Step, TestTold, ValueSource } from "./explain-types";
import { nameOf } from "./names";
import type { Missing, NodeRef } from "./node";
import { adoptedTests, repricingOf, testPrice, valuesOf } from "./rows/cut";

export interface OpenedCut {
  readonly steps: readonly Step[];
  readonly divisor: ReturnType<typeof told> | null;
  readonly about: AboutCut;
}

const NOTHING = new Decimal(0);

export function openCut(sources: Sources, cut: Cut): OpenedCut {
  const sheet = pooledSheet(sources, cut);
  return sheet === null ? withoutYield(sources, cut) : openSheet(sources, cut, sheet);
}

/** The tests behind a cut as one sheet, in base units; this part, its share of the joint cost, and the losses. */
interface PooledSheet {
  readonly tests: readonly YieldTest[];
  readonly sheet: WeighedSheet;
  /** What weights are told in. */
  readonly unit: Unit;
  readonly billed: Ratio;
  readonly part: WeighedPart;
  readonly usable: Ratio;
  readonly mains: readonly { readonly part: WeighedPart; readonly share: Ratio }[];
  readonly share: Ratio;
  /** The losses of each test, in the order of `tests`. */
  readonly losses: readonly (readonly Loss[])[];
}

function pooledSheet(sources: Sources, cut: Cut): PooledSheet | null {
  const adopted = adoptedTests(sources.book, cut);
  if (!adopted || adopted.length === 0) return null;
  const tests = oldestFirst(adopted);
  const pooled = poolWeights(tests);
  if (!pooled.ok) return null;
  const losses = tests.map((test) => {
    const weights = readWeights(test);
    const found = weights.ok ? lossesOf(weights.value) : weights;
    return found.ok ? found.value.losses : null;
  });
  const sheet = pooled.value;
  const mainParts = sheet.parts.filter((part) => part.role === "main");
  const shares = jointCost(cut.joint, ratio.ONE, mainParts.map((part) => ({
    key: part.key,
    name: part.name,
    weight: quantityInBase(part.weight),
    marketValue: part.marketValue && rateInBase(part.marketValue),
    furtherCost: part.furtherCost && rateInBase(part.furtherCost),
  })));
  const part = mainParts.find((main) => main.key === cut.partKey);
  if (!shares.ok || !part || losses.some((each) => each === null)) return null;
  const mains = mainParts.map((main) => ({ part: main, share: shares.value.find((each) => each.key === main.key)?.share ?? ratio.ZERO }));
  return {
    tests,
    sheet,
    unit: sheet.billed.unit,
    billed: quantityInBase(sheet.billed),
    part,
    usable: quantityInBase(part.weight),
    mains,
    share: mains.find((main) => main.part.key === cut.partKey)?.share ?? ratio.ONE,
    losses: losses.flatMap((each) => (each ? [each] : [])),
  };
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
      missing: [{ what: "yield", of, name: cut.name }],
    }],
    divisor: null,
    about: {
      kind: "cut", cut, origin: { ref: origin, name: nameOf(sources.book, origin), behind: behind(sources.book, origin) },
      tests: [], unit: null, yield: null, perOrigin: null, factor: null, repricing: null, joint: null,
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
  const creditsBy = (method: Repricing): Step[] => byProducts.map((part) =>
    creditStep(sources, cut, pooled, part, values.get(part.key), method === "by-factor" ? priceAtTest : null, boundNow));
  const credits = creditsBy(inForce);
  const joint = sum([billed, ...credits]);
  const others = pooled.mains.filter((main) => main.part.key !== cut.partKey).map((main): Step => ({
    ...plainStep(main.part.key, "other-main", main.part.name),
    quantity: main.part.weight,
    amount: billed.amount === null ? null : joint.mul(ratio.toDecimal(main.share)).neg(),
    missing: billed.missing,
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
      unit,
      yield: ratio.toDecimal(ratio.div(pooled.usable, pooled.billed)),
      perOrigin: ratio.toDecimal(ratio.div(ratio.mul(pooled.share, pooled.billed), pooled.usable)),
      factor: costFactor(sources, cut, pooled),
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
  };
}

/**
 * A by-product as a credit. Linked: at what it is linked to costs now. Typed: as typed at the newest test that tells
 * it, or, by the factor, moved in step with the dealer's price P′/P since the newest test (`then`, null: held).
 */
function creditStep(
  sources: Sources, cut: Cut, pooled: PooledSheet, part: WeighedPart, value: PartValue | undefined, then: Ratio | null, now: Decimal | null,
): Step {
  const step = { ...plainStep(part.key, "by-product", part.name), quantity: part.weight };
  if (!value) {
    const missing: Missing[] = [{ what: "price", of: { kind: "cut", id: cut.id }, name: cut.name }];
    return { ...step, amount: null, missing, detail: { of: "credit", value: null } };
  }
  if (value.kind !== "typed") {
    const ref = { kind: value.kind, id: value.id } as const;
    const taken = takenFrom(sources, { key: part.key, of: ref, quantity: part.weight, note: "" });
    return {
      ...step,
      converted: taken.converted,
      rate: taken.rate && ratePer({ amount: taken.rate, per: part.weight.unit }, pooled.unit),
      amount: taken.amount && taken.amount.neg(),
      ref: taken.cost ? ref : null,
      behind: behind(sources.book, ref),
      missing: taken.missing,
      detail: { of: "credit", value: { kind: "linked", ref, name: nameOf(sources.book, ref) } },
    };
  }
  const typed = rateInBase(value.rate);
  const perBase = then === null ? ratio.toDecimal(typed) : now === null ? null : ratio.toDecimal(ratio.div(typed, then)).mul(now);
  return {
    ...step,
    rate: perBase && { amount: perOne(perBase, pooled.unit), per: pooled.unit },
    amount: perBase && ratio.toDecimal(quantityInBase(part.weight)).mul(perBase).neg(),
    detail: { of: "credit", value: typedAt(sources, pooled.tests, part.key, value, then !== null) },
  };
}

/** Which test a typed value is of: the newest that tells one under this key. */
function typedAt(
  sources: Sources, tests: readonly YieldTest[], key: string, value: PartValue & { kind: "typed" }, movesWithPrice: boolean,
): ValueSource | null {
  const test = tests.findLast((each) => each.parts.some((part) => part.key === key && part.role === "by-product" && part.value !== null));
  return test ? {
    kind: "typed", testId: test.id, on: test.on, provenance: provenanceOf(sources.book, "test", test.id),
    typed: { amount: toDecimal(value.rate.amount), per: value.rate.per }, movesWithPrice,
  } : null;
}

/** Losses by difference, those of one name in all the tests together. */
function lossSteps(pooled: PooledSheet): Step[] {
  const keys = [...new Set(pooled.losses.flat().map((loss) => loss.key))];
  return keys.map((key): Step => {
    const each = pooled.losses.map((losses) => losses.find((loss) => loss.key === key));
    const found = each.flatMap((loss) => (loss ? [loss] : []));
    const weight = ratio.sum(found.map((loss) => loss.weight));
    const forgiven = ratio.sum(found.map((loss) => loss.forgiven));
    const shares = pooled.tests.map((test, index) => ratio.toDecimal(ratio.div(each[index]?.weight ?? ratio.ZERO, quantityInBase(test.billed))));
    const detail: LossDetail = {
      of: "loss",
      loss: key,
      ofWhole: ratio.toDecimal(ratio.div(weight, pooled.billed)),
      among: shares.length < 2 ? null : { least: Decimal.min(...shares), greatest: Decimal.max(...shares) },
      forgiven: ratio.sign(forgiven) === 0 ? null : told(forgiven, pooled.unit),
    };
    return { ...plainStep(key, "loss", found[0]?.name ?? key), quantity: told(weight, pooled.unit), detail };
  });
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

/** F = C/P on the price of the item at the root; null while either is not wholly known, or P is zero. */
function costFactor(sources: Sources, cut: Cut, pooled: PooledSheet): CostFactor | null {
  const root = rootItem(sources.book, { kind: "cut", id: cut.id });
  const cost = sources.costOf({ kind: "cut", id: cut.id });
  const line = root && takenFrom(sources, { key: "root", of: { kind: "item", id: root.id }, quantity: one(baseUnitOf(pooled.sheet.billed)), note: "" });
  if (!root || !cost || cost.missing.length > 0 || !line || line.missing.length > 0 || !line.amount?.gt(0)) return null;
  return {
    factor: cost.amount.div(line.amount),
    item: root,
    name: nameOf(sources.book, root),
    price: { amount: perOne(line.amount, pooled.unit), per: pooled.unit },
  };
}

function plainStep(key: string, kind: Step["kind"], name: string): Step {
  return {
    key, kind, name, quantity: null, converted: null, rate: null, amount: NOTHING, share: null, ref: null, behind: null, missing: [], detail: null,
  };
}

function sum(steps: readonly Step[]): Decimal {
  return steps.reduce((total, step) => (step.amount ? total.plus(step.amount) : total), NOTHING);
}

/**
 * A cost by both methods at another price of the origin, from a cut opened today: by the factor, C·P′/P; with
 * by-products at their own price, C + (W/U)·(P′ − P). `price` and the results per one of the cut's unit. null while
 * the cost or the price is not wholly known or is zero. (By-products linked to things that themselves move with this
 * price are held here; a try-out moves them too.)
 */
export function repricedAt(opened: { readonly cost: { readonly amount: Decimal; readonly missing: readonly Missing[] }; readonly about: AboutCut }, price: Decimal):
  { readonly byFactor: RateOf; readonly byProductsAtOwnPrice: RateOf } | null {
  const { unit, repricing, perOrigin } = opened.about;
  const now = repricing?.priceNow?.amount;
  if (unit === null || !now?.gt(0) || !perOrigin || opened.cost.missing.length > 0) return null;
  const cost = perOne(opened.cost.amount, unit);
  return {
    byFactor: { amount: cost.mul(price).div(now), per: unit },
    byProductsAtOwnPrice: { amount: cost.plus(perOrigin.mul(price.minus(now))), per: unit },
  };
}

