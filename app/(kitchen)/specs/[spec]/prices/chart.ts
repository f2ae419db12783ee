/** The price-by-portion chart put into printed figures for the page, and into those of the workbook. Costed by lib/cascade. */
import type { PortionSpec, Repricing } from "@/lib/book";
import { type ChartedMethod, type PriceChart, priceChart } from "@/lib/cascade";
import type { ChartMethod, PriceChartBook } from "@/lib/exchange";
import { Decimal, type Ratio, UNITS, moneyFigure, moneyPlaces, oneOf, printDay, printMoney, quantityText, ratio } from "@/lib/measure";
import { missingText } from "@/components/figure/Missing";
import type { PaperSize } from "@/components/paper/paper-size";
import type { PriceChartView } from "@/components/spec/price-chart-view";
import { currencySign } from "../../../change-flow/ripple-view";
import type { OpenKitchen } from "../../../open-kitchen";
import type { AskedChart } from "./asked";

const METHOD_WORDS: Readonly<Record<Repricing, string>> = { "by-factor": "by the factor", "by-products-at-own-price": "with by-products at their own price" };
const METHOD_SHEETS: Readonly<Record<Repricing, string>> = { "by-factor": "By the factor", "by-products-at-own-price": "By-products held" };

export type ChartOrWhy = { readonly ok: true; readonly chart: PriceChart } | { readonly ok: false; readonly why: string };

export function chartOf({ live }: OpenKitchen, spec: PortionSpec, asked: AskedChart): ChartOrWhy {
  const found = priceChart(live.cascade, spec, asked);
  if (found.ok) return { ok: true, chart: found.value };
  return { ok: false, why: found.missing.length === 0 ? "Nothing that is bought stands at the root of this cut, so there is no price to step." : `There is no chart yet: missing ${missingText(found.missing)}.` };
}

const markOf = ({ promised, asCut }: PriceChart["sizes"][number]): string => (promised && asCut ? "as it is" : asCut ? "as cut" : promised ? "promised" : "");

/** The last place of a price that says something, at least the currency's and at most four. */
const placesOf = (price: Ratio, least: number): number => Math.max(least, Math.min(4, ratio.toDecimal(price).decimalPlaces()));

export function chartView({ kitchen, live, visitor }: OpenKitchen, spec: PortionSpec, chart: PriceChart): PriceChartView {
  const [own, other] = chart.methods;
  if (own === undefined) throw new Error("expected a method to be in force");
  const currency = currencySign(kitchen);
  const places = moneyPlaces(kitchen.currency);
  const money = (amount: Ratio | undefined): string => (amount === undefined ? "" : moneyFigure(ratio.toDecimal(amount), kitchen));
  const use = chart.sizes.findIndex((size) => size.asCut);
  const inUse = chart.sizes[use];
  const today = chart.prices.findIndex((price) => price.today);
  const priceNow = chart.prices[today]?.price;
  const costNow = own.costs[today]?.portions[use];
  return {
    title: `${spec.name} by price and size`,
    lines: `${kitchen.name} · as of ${printDay(live.today, kitchen)} · ${spec.costing === "whole" ? "by whole portions, the ends counted" : "by weight"}, ${METHOD_WORDS[own.method]}`,
    priceHead: `${chart.itemName}, ${currency} / ${UNITS[chart.priceUnit].one}`,
    cutHead: `Usable, ${currency} / ${UNITS[chart.cutUnit].one}`,
    sizeHead: `A portion, ${currency}`,
    sizes: chart.sizes.map((size) => ({ text: quantityText(size.size, kitchen), mark: markOf(size), inUse: size.asCut })),
    otherHead: other === undefined || inUse === undefined ? null : `${quantityText(inUse.size, kitchen)} ${METHOD_WORDS[other.method]}`,
    rows: chart.prices.map(({ price, today: isToday }, at) => ({
      key: ratio.toExact(price), today: isToday, price: moneyFigure(ratio.toDecimal(price), kitchen, { places: placesOf(price, places) }),
      cut: money(own.costs[at]?.stages.at(-1)), portions: own.costs[at]?.portions.map(money) ?? [], other: money(other?.costs[at]?.portions[use]),
    })),
    says: [
      ...(priceNow === undefined || inUse === undefined || costNow === undefined ? [] : [`Today ${chart.itemName} is ${printMoney(ratio.toDecimal(priceNow), kitchen)} ${oneOf(chart.priceUnit)}, and a portion of ${quantityText(inUse.size, kitchen)} costs ${printMoney(ratio.toDecimal(costNow), kitchen)}.`]),
      ...(other === undefined ? [] : [`A new price reaches the cut ${METHOD_WORDS[own.method]}; ${METHOD_WORDS[other.method]} it would be what the last column says.`]),
      ...(chart.left.length === 0 ? [] : [`${chart.left.map((size) => quantityText(size, kitchen)).join(", ")}: not shown, since ${spec.costing === "whole" ? "no tested piece holds it" : "the cut is told in another kind of unit"}.`]),
    ],
    printed: `Printed ${printDay(live.today, kitchen)} by ${visitor.name}`,
  };
}

export function chartBook(open: OpenKitchen, spec: PortionSpec, chart: PriceChart, paper: PaperSize): PriceChartBook {
  const { kitchen, live, visitor } = open;
  const view = chartView(open, spec, chart);
  const decimal = ratio.toDecimal;
  const { whole } = chart;
  return {
    title: view.title,
    lines: [view.lines, ...view.says.slice(0, 1), `Made ${printDay(live.today, kitchen)} by ${visitor.name}. Change a framed figure, and what hangs on it follows.`],
    paper, itemName: chart.itemName, priceUnit: UNITS[chart.priceUnit].one, currency: currencySign(kitchen), places: moneyPlaces(kitchen.currency),
    prices: chart.prices.map(({ price, today }) => ({ price: decimal(price), today })),
    sizes: chart.sizes.map((size) => ({ size: decimal(size.amount), mark: markOf(size) })),
    sizeUnit: UNITS[chart.sizeUnit].one, sizesInUnit: decimal(chart.sizesInUnit),
    whole: whole === null ? null : {
      pieces: whole.pieces.map(decimal), usable: decimal(whole.usable), endValue: decimal(whole.endValue),
      perPortion: whole.perPortion.map(({ usable, end, portions }) => ({ usable: decimal(usable), end: decimal(end), portions: new Decimal(portions.toString()) })),
    },
    methods: chart.methods.map(bookMethod),
  };
}

function bookMethod({ method, inForce, stages, costs }: ChartedMethod): ChartMethod {
  const decimal = ratio.toDecimal;
  return {
    name: `A new price reaches the cut ${METHOD_WORDS[method]}, which is ${inForce ? "" : "not "}in force`, sheet: METHOD_SHEETS[method],
    stages: stages.map(({ name, unit, borrowed, perOrigin, credits }) => ({
      name, unit: UNITS[unit].one, borrowed, perOrigin: decimal(perOrigin),
      credits: credits.map((credit) => ({ name: credit.name, perUsable: decimal(credit.perUsable), held: decimal(credit.held), ofPrice: decimal(credit.ofPrice), ofOrigin: decimal(credit.ofOrigin) })),
    })),
    costs: costs.map((row) => ({ stages: row.stages.map(decimal), portions: row.portions.map(decimal) })),
  };
}
