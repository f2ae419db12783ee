/** Everything the page of a test tells, gathered once: its figures, what stands on it, what portions it gives, other tests. */
import type { Cut, PortionSpec, YieldTest } from "@/lib/book";
import { type Cascade, carriedIn, priceNow, valuedSheet } from "@/lib/cascade";
import { type Checked, type Ratio, customaryUnit, kindOf } from "@/lib/measure";
import {
  type CookingFigures, type PortionFigures, type WholePortions, type YieldFigures, cookingLossTest, figuresOf, piecesOf, portionByWeight, quantityInBase, rateInBase, repriceAtOwnPrices, repriceByFactor, wholePortions,
} from "@/lib/yield";

export interface TestResult {
  readonly figures: Checked<YieldFigures>;
  readonly cooking: CookingFigures | null;
  readonly cuts: readonly Cut[];
  readonly portions: readonly { readonly spec: PortionSpec; readonly byWeight: PortionFigures | null; readonly whole: WholePortions | null }[];
  /** Both ways to a new cost at the dealer's price of now, where that differs from the test's; money per base unit. */
  readonly repriced: { readonly price: Ratio; readonly byFactor: Ratio; readonly atOwnPrices: Ratio } | null;
  /** Other tests of the same thing and kind, newest first. */
  readonly others: readonly { readonly test: YieldTest; readonly figures: YieldFigures }[];
}

export function resultOf(cascade: Cascade, test: YieldTest): TestResult {
  const { shelves } = cascade.book;
  const sheet = valuedSheet(cascade, test);
  const checked = figuresOf(sheet);
  const cooking = test.kind === "cooking" ? cookingLossTest(sheet, carriedIn(cascade, test)) : null;
  const cuts = [...shelves.cut.values()].filter((cut) => cut.testIds.includes(test.id));
  const figures = checked.ok ? checked.value : null;
  const money = figures?.money ?? null;
  const unit = customaryUnit(kindOf(test.billed.unit), { measures: test.billed.unit === "kg" || test.billed.unit === "g" ? "metric" : "us" });

  const portions = [...shelves.spec.values()].filter((spec) => cuts.some((cut) => cut.id === spec.cutId)).map((spec) => {
    const cut = cuts.find((one) => one.id === spec.cutId);
    const part = figures?.parts.find((one) => one.key === cut?.partKey && one.role === "main");
    const same = kindOf(spec.size.unit) === kindOf(test.billed.unit);
    const pieces = cut === undefined ? null : piecesOf(test, cut.partKey);
    const counted = same && pieces !== null && pieces.length > 0 ? wholePortions(pieces.map(quantityInBase), quantityInBase(spec.size), spec.size.unit) : null;
    return {
      spec,
      byWeight: part?.perUnit && money && same ? portionByWeight(part.perUnit, money.price, spec.size, unit) : null,
      whole: counted?.ok ? counted.value : null,
    };
  });

  const price = test.of.kind === "item" ? priceNow(cascade, test.of.id, kindOf(test.billed.unit)) : null;
  const moved = price !== null && money !== null && test.price !== null && (price.n !== money.price.n || price.d !== money.price.d);
  const repriced = moved && figures !== null && money?.factor
    ? { price, byFactor: repriceByFactor(money.factor, price), atOwnPrices: repriceAtOwnPrices(money.costPerUnit, figures.billed, figures.usable, rateInBase(test.price), price) }
    : null;

  const others = [...shelves.test.values()]
    .filter((one) => one.id !== test.id && one.kind === test.kind && one.of.kind === test.of.kind && one.of.id === test.of.id)
    .sort((a, b) => (a.on < b.on ? 1 : -1)).slice(0, 8)
    .flatMap((one) => {
      const read = figuresOf(valuedSheet(cascade, one));
      return read.ok ? [{ test: one, figures: read.value }] : [];
    });
  return { figures: checked, cooking: cooking?.ok ? cooking.value : null, cuts, portions, repriced, others };
}
