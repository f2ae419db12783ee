/**
 * One item from each dealer that quotes it, laid side by side by what a usable pound of a cut costs: C_d = (A_d − V_d)/U_d with
 * the price at the door and that dealer's own tests, portion, plate and food cost after it. The cheapest asked price may lose
 * to one that leaves less trim on, less purge in the bag, or bills what arrives (edible-portion comparison of dealers: Dittmer, Keefe, Hoyer & Foucar-Szocki).
 *
 * Everything but price and yield is held the same: by-products are worth what they are worth in this house today, whoever's
 * meat they come off. Each dealer is costed by the cascade itself, over a book in which the item is bought from them and
 * the cut stands on their tests. A dealer without a test of their own is costed by the house's tests, and said to be: then
 * only prices are compared. Whether tests can tell two dealers apart is asked of the cost that each single test gives (Welch,
 * as lib/yield/compare.ts, which asks it of yields).
 */
import { type Book, type Change, type Cut, type PartValue, type Quote, type YieldTest, askedRate, borrowedInUse, costingQuote, exchangeRate, kitchenOf, matchingTests, quoteKindMatches, quoteRate, quotesOf } from "@/lib/book";
import { type Cascade, type Missing, adoptedTests, costExactly, costOf, priceLine, priceNow, repricingOf, testPrice, testsAtToday, tryOut, valuesOf } from "@/lib/cascade";
import { Decimal, type Ratio, kindOf, ratio } from "@/lib/measure";
import { foodCostRatio, netPriceExactly } from "@/lib/menu";
import {
  type Comparison, type TestYield, TESTS_TO_START, USUAL_LEVEL, compareGroups, deviationsOf, lossesOf, poolWeights, quantityInBase, readWeights, tHolding, testYield, varianceOf, wholePortionLine,
} from "@/lib/yield";

export interface DealersAsked {
  readonly itemId: string;
  /** A cut of the item. */
  readonly cutId: string;
  /** A portion of the cut, and a dish; null: not asked. */
  readonly specId: string | null;
  readonly dishId: string | null;
}

/** Shares of what was billed, over a dealer's own tests pooled. */
export interface WhatIsLost {
  readonly purge: Ratio;
  /** Parts that are called glaze. */
  readonly glaze: Ratio;
  readonly byProducts: Ratio;
  readonly discard: Ratio;
  /** Not accounted for by any part: loss in cutting, cooking loss. */
  readonly loss: Ratio;
}

export interface DealerCompared {
  readonly dealerId: string;
  readonly name: string;
  readonly quote: Quote;
  /** It is bought from them now. */
  readonly now: boolean;
  /** Money per base unit (g, mL, each) in the kitchen's money: as asked, and at the door with what comes on top. null: the money has no known worth. */
  readonly asked: Ratio | null;
  readonly door: Ratio | null;
  readonly tests: readonly YieldTest[];
  /** Whose yield it is costed by. */
  readonly by: "own" | "house" | "borrowed" | "none";
  readonly yield: Ratio | null;
  readonly lost: WhatIsLost | null;
  /** What a tested piece was billed at on average, base units; null without own tests. */
  readonly piece: Ratio | null;
  /** Whole portions a piece gives by their tests; null where portions are not counted, or pieces were not weighed. */
  readonly portionsAPiece: Ratio | null;
  /** (billed − received) over billed, of deliveries that were weighed at the door; null: none was. */
  readonly shortAtDoor: Ratio | null;
  /** C_d, money per base unit of the cut; null where something is missing. */
  readonly cost: Ratio | null;
  readonly portion: Ratio | null;
  readonly plate: Ratio | null;
  /** Plate cost over net price; null without either. */
  readonly foodCost: Decimal | null;
  readonly missing: readonly Missing[];
  /** Price at the door at which a usable unit would cost what the cheapest does; null for that one, or where it cannot be. */
  readonly levelAt: Ratio | null;
}

/** Whether two dealers' tests tell their usable cost apart. */
export interface DealersTold {
  readonly cheaper: string;
  readonly other: string;
  /** Money per base unit that the other costs more, as the costs above say. */
  readonly by: Ratio;
  readonly told:
    /** By between `least` and `most` more, money per base unit. */
    | { readonly kind: "told"; readonly least: Decimal; readonly most: Decimal; readonly level: Ratio }
    /** The tests, one by one, say it the other way round than the figures pooled by weight. */
    | { readonly kind: "against" }
    /** The interval of the difference holds zero. `tests`: about so many of each would tell a difference of this size; null: more than anybody makes. */
    | { readonly kind: "cannot-tell"; readonly low: Decimal; readonly high: Decimal; readonly level: Ratio; readonly tests: number | null }
    | { readonly kind: "too-few"; readonly needed: number; readonly have: readonly { readonly dealerId: string; readonly tests: number }[] }
    | { readonly kind: "no-spread" }
    /** One of them, or both, is costed by the house's tests. */
    | { readonly kind: "price-only"; readonly untested: readonly string[] };
}

export interface DealersSideBySide {
  /** By what a usable unit costs, the cheapest first; what is not known last; then by name. */
  readonly dealers: readonly DealerCompared[];
  readonly cheapestAsked: string | null;
  readonly cheapestUsable: string | null;
  /** The cheapest usable against each other whose cost is known. */
  readonly told: readonly DealersTold[];
}

export function compareDealers(cascade: Cascade, asked: DealersAsked): DealersSideBySide {
  const { book } = cascade;
  const cut = book.shelves.cut.get(asked.cutId);
  if (cut === undefined) return { dealers: [], cheapestAsked: null, cheapestUsable: null, told: [] };
  const item = book.shelves.item.get(asked.itemId);
  const values = worthInTheHouse(cascade, cut, asked.itemId);
  // In the order of their ids, so that nothing depends on the order of the quotes.
  const quotes = [...new Map(quotesOf(book, asked.itemId).filter((quote) => item !== undefined && quoteKindMatches(item, quote)).map((quote) => [quote.dealerId, quote])).values()].sort((a, b) => (a.dealerId < b.dealerId ? -1 : 1));
  const tried = quotes.map((quote) => triedOf(cascade, cut, quote, values, asked));
  const cheapest = leastBy(tried, ({ cost }) => cost);
  const dealers = tried.map(({ line, alone: _, ...one }): DealerCompared => ({
    ...one,
    levelAt: cheapest === null || cheapest.dealerId === one.dealerId || cheapest.cost === null || one.cost === null || line === null || ratio.sign(line.slope) <= 0 ? null : positive(ratio.div(ratio.sub(cheapest.cost, line.rest), line.slope)),
  }));
  return {
    dealers: [...dealers].sort((a, b) => (a.cost === null ? (b.cost === null ? byName(a, b) : 1) : b.cost === null ? -1 : ratio.compare(a.cost, b.cost) || byName(a, b))),
    cheapestAsked: leastBy(tried, ({ asked: price }) => price)?.dealerId ?? null, cheapestUsable: cheapest?.dealerId ?? null,
    told: cheapest === null ? [] : toldApart(tried, cheapest),
  };
}

function byName(a: DealerCompared, b: DealerCompared): number {
  return a.name < b.name ? -1 : a.name > b.name ? 1 : a.dealerId < b.dealerId ? -1 : 1;
}

function positive(price: Ratio): Ratio | null {
  return ratio.sign(price) > 0 ? price : null;
}

/** The one with the least figure; the first of equals, null where none is known. */
function leastBy<T>(all: readonly T[], figure: (one: T) => Ratio | null): T | null {
  let least: { readonly one: T; readonly at: Ratio } | null = null;
  for (const one of all) {
    const at = figure(one);
    if (at !== null && (least === null || ratio.compare(at, least.at) < 0)) least = { one, at };
  }
  return least?.one ?? null;
}

interface Tried extends Omit<DealerCompared, "levelAt"> {
  /** The cut's cost as a line in this dealer's price. */
  readonly line: { readonly slope: Ratio; readonly rest: Ratio } | null;
  /** What each of their tests alone would make a usable unit cost. */
  readonly alone: readonly TestYield[];
}

/** What by-products are worth in this house today, by their key: as the tests behind the cut say, a typed worth moved with the price where the cut does so. */
function worthInTheHouse(cascade: Cascade, cut: Cut, itemId: string): ReadonlyMap<string, PartValue> {
  const behind = adoptedTests(cascade.book, cut) ?? [];
  const values = valuesOf(behind);
  const then = repricingOf(cut, values) === "by-factor" ? testPrice(behind) : null;
  if (then === null || behind[0] === undefined) return values;
  const now = priceNow(cascade, itemId, kindOf(behind[0].billed.unit));
  if (now === null) return values;
  const times = ratio.div(now, then);
  return new Map([...values].map(([key, value]): [string, PartValue] => [key, value.kind !== "typed" ? value : { kind: "typed", rate: { amount: ratio.toExact(ratio.mul(ratio.fromExact(value.rate.amount), times)), per: value.rate.per } }]));
}

/** A dealer's own tests of a cut: of their goods, of the right kind, and not left out by anybody. */
export function testsOfDealer(book: Book, cut: Cut, dealerId: string): readonly YieldTest[] {
  return matchingTests(book, cut).filter(({ test, standing }) => test.dealerId === dealerId && standing.kind !== "left-out").map(({ test }) => test);
}

function triedOf(cascade: Cascade, cut: Cut, quote: Quote, values: ReadonlyMap<string, PartValue>, { itemId, specId, dishId }: DealersAsked): Tried {
  const { book } = cascade;
  const { dealerId } = quote;
  const own = testsOfDealer(book, cut, dealerId);
  const behind = adoptedTests(book, cut) ?? [];
  const used = own.length > 0 ? own : behind;
  const newest = valuesOf(used);
  const worth = (key: string): PartValue | null => values.get(key) ?? newest.get(key) ?? null;
  const tests = used.map((test): YieldTest => ({ ...test, parts: test.parts.map((part) => (part.role === "by-product" ? { ...part, value: worth(part.key) } : part)) }));
  const item = book.shelves.item.get(itemId);
  const changes: readonly Change[] = [
    ...(item === undefined ? [] : [{ kind: "item", id: itemId, after: { ...item, dealerId } } as const]),
    ...tests.map((test): Change => ({ kind: "test", id: test.id, after: test })),
    { kind: "cut", id: cut.id, after: { ...cut, testIds: tests.map(({ id }) => id), repricing: "by-products-at-own-price" } },
  ];
  const laid = tryOut(cascade, changes);
  const after = laid.ok ? laid.value.after : null;
  const ref = { kind: "cut", id: cut.id } as const;
  const cost = after === null ? null : costOf(after, ref);
  const known = after !== null && cost !== null && cost.missing.length === 0;
  const exchange = exchangeRate(book, quote);
  const pooled = own.length === 0 ? null : pooledOf(own);
  const triedCut = after?.book.shelves.cut.get(cut.id);
  const spec = specId === null ? undefined : book.shelves.spec.get(specId);
  return {
    dealerId, name: book.shelves.dealer.get(dealerId)?.name ?? dealerId, quote, now: costingQuote(book, itemId)?.id === quote.id,
    asked: exchange === null ? null : ratio.mul(askedRate(quote), exchange), door: quoteRate(book, quote),
    tests: own, by: own.length > 0 ? "own" : behind.length > 0 ? "house" : borrowedInUse(cut) !== null ? "borrowed" : "none",
    yield: yieldOver(book, cut, used), lost: pooled?.lost ?? null, piece: pooled?.piece ?? null,
    portionsAPiece: spec === undefined || own.length === 0 ? null : portionsAPiece(own, cut, spec.meanCut?.weight ?? spec.size),
    shortAtDoor: shortAtDoor(book, dealerId, itemId),
    cost: known ? costExactly(after, ref) : null,
    portion: after === null || specId === null ? null : wholly(after, { kind: "spec", id: specId }), plate: after === null || dishId === null ? null : wholly(after, { kind: "dish", id: dishId }),
    foodCost: after === null || dishId === null ? null : foodCostOf(after, dishId),
    missing: cost?.missing ?? [],
    line: known ? priceLine(after, ref, itemId) : null,
    alone: after === null || triedCut === undefined ? [] : aloneOf(after, triedCut, own.length > 0 ? tests : []),
  };
}

function wholly(cascade: Cascade, ref: { readonly kind: "spec" | "dish"; readonly id: string }): Ratio | null {
  const cost = costOf(cascade, ref);
  return cost === null || cost.missing.length > 0 ? null : costExactly(cascade, ref);
}

function foodCostOf(cascade: Cascade, dishId: string): Decimal | null {
  const plate = wholly(cascade, { kind: "dish", id: dishId });
  const price = cascade.book.shelves.menuPrice.get(dishId);
  if (plate === null || price === undefined) return null;
  return foodCostRatio(ratio.toDecimal(plate), ratio.toDecimal(netPriceExactly(price.gross.amount, price.taxRate ?? kitchenOf(cascade.book).taxRate)));
}

function yieldOver(book: Book, cut: Cut, tests: readonly YieldTest[]): Ratio | null {
  if (tests.length === 0) { const borrowed = borrowedInUse(cut); return borrowed === null ? null : ratio.fromExact(borrowed.share); }
  const yields = tests.map((test) => testYield(test.id, test, cut.partKey));
  const good = yields.flatMap((one) => (one.ok ? [one.value] : []));
  return good.length < tests.length ? null : ratio.div(ratio.sum(good.map(({ usable }) => usable)), ratio.sum(good.map(({ billed }) => billed)));
}

function pooledOf(tests: readonly YieldTest[]): { readonly lost: WhatIsLost; readonly piece: Ratio } | null {
  const pooled = poolWeights(tests);
  const read = pooled.ok ? readWeights(pooled.value) : null;
  if (read?.ok !== true) return null;
  const { billed, parts, pieces } = read.value;
  const losses = lossesOf(read.value);
  const share = (of: (part: (typeof parts)[number]) => boolean): Ratio => ratio.div(ratio.sum(parts.filter(of).map(({ weight }) => weight)), billed);
  const isGlaze = ({ name, role }: (typeof parts)[number]): boolean => role !== "main" && /\bglaz/i.test(name);
  return {
    piece: ratio.div(billed, pieces),
    lost: {
      purge: share((part) => part.role === "purge" && !isGlaze(part)), glaze: share(isGlaze), byProducts: share((part) => part.role === "by-product" && !isGlaze(part)), discard: share((part) => part.role === "discard" && !isGlaze(part)),
      loss: losses.ok ? ratio.div(ratio.sum(losses.value.losses.map(({ weight }) => weight)), billed) : ratio.ZERO,
    },
  };
}

function portionsAPiece(tests: readonly YieldTest[], cut: Cut, size: Parameters<typeof wholePortionLine>[2]): Ratio | null {
  const line = wholePortionLine(tests, cut.partKey, size);
  return line.ok ? ratio.div(ratio.of(line.value.counted.portions), ratio.sum(tests.map((test) => ratio.fromExact(test.pieces)))) : null;
}

function shortAtDoor(book: Book, dealerId: string, itemId: string): Ratio | null {
  let billed = ratio.ZERO;
  let received = ratio.ZERO;
  for (const delivery of book.shelves.delivery.values()) {
    if (delivery.dealerId !== dealerId || delivery.kind !== "invoice") continue;
    for (const line of delivery.lines) {
      if (line.itemId !== itemId || line.received === null || kindOf(line.received.unit) !== kindOf(line.billed.unit)) continue;
      billed = ratio.add(billed, quantityInBase(line.billed));
      received = ratio.add(received, quantityInBase(line.received));
    }
  }
  return ratio.sign(billed) === 0 ? null : ratio.div(ratio.sub(billed, received), billed);
}

/** What a usable unit would cost by each test alone, as the figure that is compared. */
function aloneOf(cascade: Cascade, cut: Cut, tests: readonly YieldTest[]): readonly TestYield[] {
  const { alone } = testsAtToday(cascade, cut, tests);
  return tests.flatMap((test): readonly TestYield[] => {
    const cost = alone.get(test.id) ?? null;
    const own = testYield(test.id, test, cut.partKey);
    return cost === null || !own.ok ? [] : [{ ...own.value, yield: cost }];
  });
}

function toldApart(tried: readonly Tried[], cheapest: Tried): readonly DealersTold[] {
  const others = tried.filter((one) => one !== cheapest && one.cost !== null);
  const tested = tried.filter(({ cost, alone }) => cost !== null && alone.length > 0);
  const compared = tested.length < 2 ? null : compareGroups(tested.map(({ dealerId, alone }) => ({ name: dealerId, tests: alone })));
  const pairs: readonly Comparison[] = compared?.ok === true ? compared.value : [];
  return others.map((other): DealersTold => {
    const base = { cheaper: cheapest.dealerId, other: other.dealerId, by: ratio.sub(other.cost ?? ratio.ZERO, cheapest.cost ?? ratio.ZERO) };
    const untested = [cheapest, other].filter(({ alone }) => alone.length === 0).map(({ dealerId }) => dealerId);
    if (untested.length > 0) return { ...base, told: { kind: "price-only", untested } };
    const pair = pairs.find(({ a, b }) => (a === cheapest.dealerId && b === other.dealerId) || (b === cheapest.dealerId && a === other.dealerId));
    if (pair === undefined) return { ...base, told: { kind: "no-spread" } };
    return { ...base, told: toldBy(pair, cheapest, other) };
  });
}

function toldBy({ a, verdict, difference }: Comparison, cheapest: Tried, other: Tried): DealersTold["told"] {
  switch (verdict.kind) {
    case "more": return verdict.less === cheapest.dealerId ? { kind: "told", least: verdict.least, most: verdict.most, level: difference?.level ?? USUAL_LEVEL } : { kind: "against" };
    case "cannot-tell": {
      const { low = new Decimal(0), high = new Decimal(0), level = USUAL_LEVEL } = difference ?? {};
      // Told as what the other costs more than the cheapest.
      const turned = a === cheapest.dealerId;
      return { kind: "cannot-tell", low: turned ? high.neg() : low, high: turned ? low.neg() : high, level, tests: testsToTell(cheapest.alone, other.alone) };
    }
    case "too-few": return { kind: "too-few", needed: verdict.needed, have: verdict.groups.map(({ name, tests }) => ({ dealerId: name, tests })) };
    case "no-spread": return { kind: "no-spread" };
  }
}

/** Nobody makes more tests than so many of one cut of one dealer to find out. */
const MOST_TESTS = 200;

/**
 * About how many tests of a single piece each side would need, for a difference as large as the one seen to be told: the
 * least n with t·√((s_a² + s_b²)/n) < |ȳ_a − ȳ_b|, t of Welch's (n − 1)(s_a² + s_b²)²/(s_a⁴ + s_b⁴) degrees, should pieces go on
 * differing as they have. null: more than anybody makes, or there is no difference. Derived from Welch (1947).
 */
export function testsToTell(a: readonly TestYield[], b: readonly TestYield[], level: Ratio = USUAL_LEVEL): number | null {
  if (a.length < 2 || b.length < 2) return null;
  const [one, other] = [a, b].map((group) => { const found = deviationsOf(group.map((test) => ({ value: test.yield, weight: test.pieces }))); return { mean: found.mean, v: varianceOf(found) ?? ratio.ZERO }; });
  if (one === undefined || other === undefined) return null;
  const apart = ratio.toDecimal(ratio.sub(one.mean, other.mean)).abs();
  const v = ratio.toDecimal(ratio.add(one.v, other.v));
  if (apart.isZero()) return null;
  if (v.isZero()) return TESTS_TO_START;
  const perDegree = v.pow(2).div(ratio.toDecimal(ratio.add(ratio.mul(one.v, one.v), ratio.mul(other.v, other.v))));
  const tells = (n: number): boolean => tHolding(ratio.toDecimal(level), perDegree.mul(n - 1)).mul(v.div(n).sqrt()).lt(apart);
  if (!tells(MOST_TESTS)) return null;
  let [least, enough] = [TESTS_TO_START - 1, MOST_TESTS];
  while (enough - least > 1) {
    const half = Math.floor((least + enough) / 2);
    if (tells(half)) enough = half;
    else least = half;
  }
  return enough;
}
