/**
 * Yields that others published, to borrow until the kitchen has a test of its own. Three tables of United States government
 * works, which are in the public domain: refuse of raw foods (Y = 1 − refuse), quantities to buy by a factor (Y = 1/factor),
 * and cooking yields of meat and poultry (Y = cooked over raw). Each row keeps what its source calls the food, how it is
 * prepared, and how surely the figure is known. A published yield is of weight, and never of this kitchen's own trim.
 */
import { Decimal, type Exact, exact, ratio } from "@/lib/measure";
import { COOKED_MEATS, type Pieces } from "./published/cooked-meats";
import { RAW_FOODS } from "./published/raw-foods";
import { BOUGHT_BY_FACTOR } from "./published/recipe-service";

export interface PublishedTable {
  readonly key: "raw" | "factor" | "cooked";
  /** What the yields of this table tell: "as purchased to edible". */
  readonly stage: string;
  /** Who, which document, which edition. */
  readonly document: string;
}

export interface PublishedYield {
  /** Unlike that of every other row. */
  readonly key: string;
  readonly table: PublishedTable;
  /** As the source calls it. */
  readonly food: string;
  /** What is taken off, or how it is cooked, in the source's words; "" where the food's name says it. */
  readonly preparation: string;
  /** Usable (or cooked) over as purchased (or raw), a ratio. */
  readonly share: Exact;
  /** How surely: "mean of n = 20, from 77 to 89 %, SD 3.1"; "" where the source says nothing of it. */
  readonly certainty: string;
  /** The document that this row's figure first stood in, where that is another: the table carries it on. */
  readonly firstIn: string | null;
}

const RAW: PublishedTable = { key: "raw", stage: "as purchased to edible", document: "USDA National Nutrient Database for Standard Reference, Release 28" };
const FACTOR: PublishedTable = { key: "factor", stage: "as purchased to edible", document: "US Armed Forces Recipe Service, TM 10-412, quantities to buy" };
const COOKED: PublishedTable = { key: "cooked", stage: "raw to cooked", document: "USDA Table of Cooking Yields for Meat and Poultry, Release 2 (2014)" };

export const PUBLISHED_TABLES: readonly PublishedTable[] = [RAW, FACTOR, COOKED];

let rows: readonly PublishedYield[] | undefined;

/** Every published yield, in the order of its table. */
export function publishedYields(): readonly PublishedYield[] {
  rows ??= [...RAW_FOODS.map(rawFood), ...BOUGHT_BY_FACTOR.map(boughtByFactor), ...COOKED_MEATS.map(cookedMeat)];
  return rows;
}

/** What a row is of, in one line: food and preparation. */
export function sayPublished({ food, preparation, table }: PublishedYield): string {
  if (preparation === "") return food;
  return table.key === "raw" ? `${food}; without ${preparation.toLowerCase()}` : `${food}; ${preparation.toLowerCase()}`;
}

/** Where a row is from and how surely it is known, in one line. */
export function saySource({ table, certainty, firstIn }: PublishedYield): string {
  const document = firstIn === null ? table.document : `${firstIn}, as carried on in the ${table.document}`;
  return certainty === "" ? document : `${document}; ${certainty}`;
}

function rawFood([number, food, takenOff, refuse]: (typeof RAW_FOODS)[number]): PublishedYield {
  const share = ratio.toExact(ratio.sub(ratio.ONE, ratio.div(ratio.fromExact(exact(refuse)), ratio.of(100n))));
  return { key: `raw ${number}`, table: RAW, food, preparation: takenOff, share, certainty: "a whole per cent, without a spread", firstIn: null };
}

/** 1/factor: 1.89 pounds bought for each edible one leave 100/189. */
function boughtByFactor([food, factor]: (typeof BOUGHT_BY_FACTOR)[number]): PublishedYield {
  const share = ratio.toExact(ratio.div(ratio.ONE, ratio.fromExact(exact(factor))));
  return { key: `factor ${food}`, table: FACTOR, food, preparation: "", share, certainty: `the factor ${factor}, to two places, without a spread`, firstIn: null };
}

function cookedMeat([, food, method, percent, pieces, year]: (typeof COOKED_MEATS)[number]): PublishedYield {
  return {
    key: `cooked ${food}, ${method}`, table: COOKED, food, preparation: method, share: ratio.toExact(ratio.div(ratio.fromExact(exact(percent)), ratio.of(100n))),
    certainty: sayPieces(pieces), firstIn: year === "1975" ? "USDA Agriculture Handbook 102 (1975)" : null,
  };
}

function sayPieces([n, sd, least, greatest]: Pieces): string {
  if (n === null) return "without a number of pieces";
  if (n === "1" || sd === null || least === null || greatest === null) return n === "1" ? "n = 1, without a spread" : `mean of n = ${n}, without a spread`;
  return `mean of n = ${n}, from ${onePlace(least)} to ${onePlace(greatest)} %, SD ${onePlace(sd)}`;
}

function onePlace(figure: string): string {
  return new Decimal(figure).toDecimalPlaces(1).toString();
}
