/** Everything the page of a test tells, gathered once: its figures, what stands on it, what portions it gives, other tests. */
import { type Cut, type JointMethod, type PortionSpec, type YieldTest, cutsOn, testsOf } from "@/lib/book";
import { type Cascade, carriedIn, priceNow, valuedSheet } from "@/lib/cascade";
import { type Checked, type Ratio, customaryUnit, kindOf } from "@/lib/measure";
import {
  type CookingFigures, type JointShare, type PortionFigures, type Sheet, type WholePortions, type YieldFigures, cookingLossTest, figuresOf, jointCostByEveryMethod,
  piecesOf, portionByWeight, quantityInBase, rateInBase, repriceAtOwnPrices, repriceByFactor, wholePortions,
} from "@/lib/yield";
import { figuresOfTest, jointOf } from "../result-view";

export interface TestResult {
  readonly figures: Checked<YieldFigures>;
  readonly cooking: CookingFigures | null;
  readonly cuts: readonly Cut[];
  readonly portions: readonly { readonly spec: PortionSpec; readonly byWeight: PortionFigures | null; readonly whole: WholePortions | null }[];
  /** Several main parts: what each method makes of the joint cost; null where there is one, or the cost is not known. */
  readonly joint: { readonly inForce: JointMethod; readonly methods: Readonly<Record<JointMethod, Checked<readonly JointShare[]>>> } | null;
  /** Both ways to a new cost at the dealer's price of now, where that differs from the test's; money per base unit. */
  readonly repriced: { readonly price: Ratio; readonly byFactor: Ratio; readonly atOwnPrices: Ratio } | null;
  /** Other tests of the same thing and kind, newest first. */
  readonly others: readonly { readonly test: YieldTest; readonly figures: YieldFigures }[];
}

export function resultOf(cascade: Cascade, test: YieldTest): TestResult {
  const { shelves } = cascade.book;
  const sheet = valuedSheet(cascade, test);
  const checked = figuresOfTest(cascade, test);
  const carried = carriedIn(cascade, test);
  const cooking = test.kind === "cooking" ? cookingLossTest(sheet, carried, jointOf(cascade, test)) : null;
  const cuts = cutsOn(cascade.book, test.id);
  const figures = checked.ok ? checked.value : null;
  const money = figures?.money ?? null;
  // A factor per portion stands on what the dealer asks, also where an earlier test's net cost was carried in.
  const dealerPrice = test.of.kind === "item" ? money?.price ?? null : carried?.dealerPrice ? rateInBase(carried.dealerPrice) : null;
  const unit = customaryUnit(kindOf(test.billed.unit), { measures: test.billed.unit === "kg" || test.billed.unit === "g" ? "metric" : "us" });

  const portions = [...shelves.spec.values()].filter((spec) => cuts.some((cut) => cut.id === spec.cutId)).map((spec) => {
    const cut = cuts.find((one) => one.id === spec.cutId);
    const part = figures?.parts.find((one) => one.key === cut?.partKey && one.role === "main");
    const same = kindOf(spec.size.unit) === kindOf(test.billed.unit);
    const pieces = cut === undefined ? null : piecesOf(test, cut.partKey);
    const counted = same && pieces !== null && pieces.length > 0 ? wholePortions(pieces.map(quantityInBase), quantityInBase(spec.size), spec.size.unit) : null;
    return {
      spec,
      byWeight: part?.perUnit && dealerPrice && same ? portionByWeight(part.perUnit, dealerPrice, spec.size, unit) : null,
      whole: counted?.ok ? counted.value : null,
    };
  });

  const price = test.of.kind === "item" ? priceNow(cascade, test.of.id, kindOf(test.billed.unit)) : null;
  const moved = price !== null && money !== null && test.price !== null && (price.n !== money.price.n || price.d !== money.price.d);
  const repriced = moved && figures !== null && money?.factor
    ? { price, byFactor: repriceByFactor(money.factor, price), atOwnPrices: repriceAtOwnPrices(money.costPerUnit, figures.billed, figures.usable, rateInBase(test.price), price) }
    : null;

  const others = testsOf(cascade.book, test.of, test.kind).filter((one) => one.id !== test.id)
    .sort((a, b) => (a.on < b.on ? 1 : -1)).slice(0, 8)
    .flatMap((one) => {
      const read = figuresOf(valuedSheet(cascade, one));
      return read.ok ? [{ test: one, figures: read.value }] : [];
    });
  return { figures: checked, cooking: cooking?.ok ? cooking.value : null, cuts, portions, joint: jointFigures(sheet, figures, jointOf(cascade, test)), repriced, others };
}

function jointFigures(sheet: Sheet, figures: YieldFigures | null, inForce: JointMethod): TestResult["joint"] {
  const mains = sheet.parts.filter((part) => part.role === "main");
  if (figures === null || figures.money === null || mains.length < 2) return null;
  const parts = mains.map((part) => ({
    key: part.key, name: part.name, weight: quantityInBase(part.weight),
    marketValue: part.marketValue && rateInBase(part.marketValue), furtherCost: part.furtherCost && rateInBase(part.furtherCost),
  }));
  return { inForce, methods: jointCostByEveryMethod(figures.money.usableValue, parts) };
}
