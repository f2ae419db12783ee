/**
 * The price-by-portion chart: dealer's prices in even steps around today's, by sizes of portion; each cell what a costing at
 * that price would say (portion-prices.ts). Everything is told per unit: prices in the unit the dealer asks in, cuts in
 * the kitchen's large one. A textbook exercise asks for exactly this table.
 */
import { type PortionSpec, type Repricing, costingQuote, cutWeight, kitchenOf } from "@/lib/book";
import { type Quantity, type Ratio, type Unit, baseFactor, customaryUnit, kindOf, moneyPlaces, ratio } from "@/lib/measure";
import { quantityInBase } from "@/lib/yield";
import type { Cascade } from "./cascade";
import type { Missing } from "./node";
import { type PortionLine, type PriceMethod, type Stage, atPrice, portionCost, portionLine, portionPrices, priceSteps, sensiblePriceStep } from "./portion-prices";

/** A stage with its constants per unit: of the cut in `unit`, of what it is made from in the unit of the stage below, of the price in the chart's. */
export interface ChartedStage extends Stage {
  readonly unit: Unit;
}

export interface ChartedMethod {
  readonly method: Repricing;
  readonly inForce: boolean;
  readonly stages: readonly ChartedStage[];
  /** By price: what each stage costs per its unit, and what a portion of each size costs. */
  readonly costs: readonly { readonly stages: readonly Ratio[]; readonly portions: readonly Ratio[] }[];
}

export interface PriceChart {
  readonly itemId: string;
  readonly itemName: string;
  readonly priceUnit: Unit;
  readonly cutUnit: Unit;
  readonly sizeUnit: Unit;
  /** Units of size in one unit of the cut: 16 oz to the lb. */
  readonly sizesInUnit: Ratio;
  readonly step: Ratio;
  /** Money per unit, lowest first. */
  readonly prices: readonly { readonly price: Ratio; readonly today: boolean }[];
  readonly sizes: readonly { readonly size: Quantity; /** In the size's unit. */ readonly amount: Ratio; readonly promised: boolean; readonly asCut: boolean }[];
  /** Sizes that were asked for and cannot be costed. */
  readonly left: readonly Quantity[];
  /** The method in force first; the other where it differs. */
  readonly methods: readonly ChartedMethod[];
  /** Pieces, usable weight, and by size usable weight and end to a portion, in the cut's unit; an end's value per that unit. null: by weight. */
  readonly whole: {
    readonly pieces: readonly Ratio[];
    readonly usable: Ratio;
    readonly endValue: Ratio;
    readonly perPortion: readonly { readonly usable: Ratio; readonly end: Ratio; readonly portions: bigint }[];
  } | null;
}

export interface ChartAsked {
  /** Money per unit of the price; null: a sensible one. */
  readonly step: Ratio | null;
  readonly rows: number;
  readonly sizes: readonly Quantity[];
}

export type PriceChartOrNot = { readonly ok: true; readonly value: PriceChart } | { readonly ok: false; readonly missing: readonly Missing[] };

/** The chart of a spec. Its own size, and what is really cut, are always among the sizes. Not ok: what is not known; nothing in particular where nothing is bought at the root. */
export function priceChart(cascade: Cascade, spec: PortionSpec, asked: ChartAsked): PriceChartOrNot {
  const { book } = cascade;
  const found = portionPrices(cascade, spec);
  if (!found.ok) return found;
  const { item, itemName, priceNow, methods } = found.value;
  const kitchen = kitchenOf(book);
  const quote = costingQuote(book, item.id);
  const priceUnit = quote !== null && quote.per !== "pack" ? quote.per : customaryUnit(book.shelves.item.get(item.id)?.kind ?? "mass", kitchen);
  const cutUnit = customaryUnit(kindOf(spec.size.unit), kitchen);
  const now = ratio.mul(priceNow, factor(priceUnit));
  const step = asked.step ?? sensiblePriceStep(now, ratio.of(1n, 10n ** BigInt(moneyPlaces(kitchen.currency))));
  const prices = priceSteps(now, step, asked.rows);
  const wanted = withOwn(asked.sizes, spec);
  const lines = wanted.flatMap((size) => portionLine(book, spec, size) ?? []);
  const inUnit = (base: Ratio): Ratio => ratio.div(base, factor(cutUnit));
  const [first] = lines;
  return {
    ok: true,
    value: {
      itemId: item.id, itemName, priceUnit, cutUnit, sizeUnit: spec.size.unit, sizesInUnit: ratio.div(factor(cutUnit), factor(spec.size.unit)), step,
      prices: prices.map((price) => ({ price, today: ratio.compare(price, now) === 0 })),
      sizes: lines.map(({ size }) => ({ size, amount: ratio.div(quantityInBase(size), factor(spec.size.unit)), promised: same(size, spec.size), asCut: same(size, cutWeight(spec)) })),
      left: wanted.filter((size) => !lines.some((line) => line.size === size)),
      methods: methods.map((method) => charted(method, cutUnit, priceUnit, prices, lines, (stage) => customaryUnit(stage.kind, kitchen))),
      whole: first === undefined || first.portions === null ? null : {
        pieces: first.pieces.map(inUnit), usable: inUnit(ratio.mul(first.usable, ratio.of(first.portions))), endValue: ratio.mul(first.endValue, factor(cutUnit)),
        perPortion: lines.map((line) => ({ usable: inUnit(line.usable), end: inUnit(line.end), portions: line.portions ?? 0n })),
      },
    },
  };
}

function charted(method: PriceMethod, cutUnit: Unit, priceUnit: Unit, prices: readonly Ratio[], lines: readonly PortionLine[], large: (stage: Stage) => Unit): ChartedMethod {
  const units = method.stages.map((stage, at) => (at === method.stages.length - 1 ? cutUnit : large(stage)));
  const own = (at: number): Ratio => factor(units[at] ?? cutUnit);
  return {
    method: method.method, inForce: method.inForce,
    stages: method.stages.map((stage, at): ChartedStage => {
      const perBelow = ratio.div(own(at), at === 0 ? factor(priceUnit) : own(at - 1));
      const perPrice = ratio.div(own(at), factor(priceUnit));
      return {
        ...stage, unit: units[at] ?? cutUnit, perOrigin: ratio.mul(stage.perOrigin, perBelow),
        credits: stage.credits.map((credit) => ({
          ...credit, held: ratio.mul(credit.held, own(at)), ofPrice: ratio.mul(credit.ofPrice, perPrice), ofOrigin: ratio.mul(credit.ofOrigin, perBelow),
        })),
      };
    }),
    costs: prices.map((price) => {
      const perBase = ratio.div(price, factor(priceUnit));
      const C = atPrice(method.line, perBase);
      return { stages: method.lines.map((line, at) => ratio.mul(atPrice(line, perBase), own(at))), portions: lines.map((line) => portionCost(line, C)) };
    }),
  };
}

/** The sizes asked for, the portion's own and what is really cut among them, each once, smallest first. */
function withOwn(asked: readonly Quantity[], spec: PortionSpec): readonly Quantity[] {
  const all = [...asked, spec.size, cutWeight(spec)];
  return all.filter((size, at) => all.findIndex((one) => same(one, size)) === at).sort((a, b) => ratio.compare(quantityInBase(a), quantityInBase(b)));
}

function same(one: Quantity, other: Quantity): boolean {
  return ratio.compare(quantityInBase(one), quantityInBase(other)) === 0;
}

function factor(unit: Unit): Ratio {
  return ratio.fromExact(baseFactor(unit));
}
