/**
 * The price-by-portion chart as a workbook that reckons: change a price in its first column, a size in its head, a
 * constant on the second sheet, and every portion follows. C = (W/U)·P − Σ (w_k/U)·v_k for each cut from the item up;
 * a portion is its size of C, or by whole portions (ΣU/Σn)·C − (Σr/Σn)·v_end, counted out on the pieces as weighed. Both
 * ways in which a price may reach the cut have a sheet of their own where they differ.
 */
import type { Decimal } from "@/lib/measure";
import { type Cell, type Sheet, type Workbook, cellName, text } from "./workbook";

export interface ChartCredit {
  readonly name: string;
  /** w_k/U. */
  readonly perUsable: Decimal;
  /** v_k = held + ofPrice·P + ofOrigin·(cost of what the cut is made from), money per unit of the cut. */
  readonly held: Decimal;
  readonly ofPrice: Decimal;
  readonly ofOrigin: Decimal;
}

export interface ChartStage {
  readonly name: string;
  /** What one unit of it is called: "lb". */
  readonly unit: string;
  /** W/U, or 1/Y of a borrowed yield: units of what it is made from for one usable unit. */
  readonly perOrigin: Decimal;
  readonly borrowed: boolean;
  readonly credits: readonly ChartCredit[];
}

export interface ChartMethod {
  /** "With by-products at their own price, as in force". */
  readonly name: string;
  readonly sheet: string;
  readonly stages: readonly ChartStage[];
  /** By row: what each stage costs at that price, per its unit; then each portion. */
  readonly costs: readonly { readonly stages: readonly Decimal[]; readonly portions: readonly Decimal[] }[];
}

export interface ChartSize {
  /** Figure in `sizeUnit`. */
  readonly size: Decimal;
  /** "promised", "as cut"; "" where nothing is to be said. */
  readonly mark: string;
}

export interface PriceChartBook {
  readonly title: string;
  /** Lines under the title: of what, as of when, by whom. */
  readonly lines: readonly string[];
  readonly paper: Workbook["paper"];
  readonly itemName: string;
  readonly priceUnit: string;
  readonly currency: string;
  /** Decimals of the currency. */
  readonly places: number;
  readonly prices: readonly { readonly price: Decimal; readonly today: boolean }[];
  readonly sizes: readonly ChartSize[];
  readonly sizeUnit: string;
  /** Units of size in one unit of the cut: 16 oz to the lb. */
  readonly sizesInUnit: Decimal;
  /** Counted out on pieces, told in the cut's unit; null: by weight. */
  readonly whole: {
    readonly pieces: readonly Decimal[];
    /** The part's weight in the tests, pieces or not. */
    readonly usable: Decimal;
    readonly endValue: Decimal;
    /** By size: usable and end to a portion, in the cut's unit. */
    readonly perPortion: readonly { readonly usable: Decimal; readonly end: Decimal; readonly portions: Decimal }[];
  } | null;
  readonly methods: readonly ChartMethod[];
}

const RATIO = { places: 6 } as const;
/** What a binary fraction may fall short of the whole number that it stands for. */
const HAIR = "0.000000001";

export function priceChartWorkbook(chart: PriceChartBook): Workbook {
  const constants = chart.methods.map((method) => constantsOf(chart, method));
  return {
    title: chart.title, paper: chart.paper,
    sheets: chart.methods.flatMap((method, n): Sheet[] => {
      const worked = constants[n];
      return worked === undefined ? [] : [pricesSheet(chart, method, worked), worked.sheet];
    }),
  };
}

interface Constants {
  readonly sheet: Sheet;
  /** What a stage costs, from the cell of the price and the cell of what it is made from. */
  readonly stage: (at: number, price: string, origin: string) => string;
  readonly sizesInUnit: string;
  readonly pieces: string;
  readonly usable: string;
  readonly endValue: string;
}

/** The second sheet of a method: every constant, where it comes from, and where the first sheet finds it. */
function constantsOf(chart: PriceChartBook, method: ChartMethod): Constants {
  const rows: (Cell | null)[][] = [[text(`Worked from: ${method.name}`, "title")], []];
  const name = `${method.sheet} constants`;
  const at = (row: number, column: number): string => `'${name}'!${cellName(row, column, { row: true, column: true })}`;
  const number = (value: Decimal, places: number = RATIO.places): Cell => ({ kind: "number", value, format: { places }, style: "input" });
  const stages = method.stages.map((stage, n) => {
    const below = n === 0 ? chart.itemName : method.stages[n - 1]?.name ?? "";
    rows.push([text(stage.name, "head"), text("", "head"), text("", "head"), text("", "head"), text("", "head")]);
    rows.push([text(`Paid for of ${below} in one usable ${stage.unit}${stage.borrowed ? ", from a borrowed yield" : ", W/U"}`), number(stage.perOrigin)]);
    const perOrigin = at(rows.length - 1, 1);
    if (stage.credits.length === 0) {
      rows.push([]);
      return { perOrigin, credits: [] };
    }
    rows.push([text("By-product", "strong"), text(`w/U, of it in one usable ${stage.unit}`, "strong"), text(`worth, ${chart.currency} / ${stage.unit}`, "strong"), text("and so much more for each 1 of the dealer’s price", "strong"), text(`and for each 1 of what ${below} costs`, "strong")]);
    const credits = stage.credits.map((credit) => {
      rows.push([text(credit.name), number(credit.perUsable), number(credit.held, 4), number(credit.ofPrice), number(credit.ofOrigin)]);
      return [1, 2, 3, 4].map((column) => at(rows.length - 1, column));
    });
    rows.push([]);
    return { perOrigin, credits };
  });
  rows.push([text("Portions", "head"), text("", "head")]);
  rows.push([text(`${chart.sizeUnit} in one ${method.stages.at(-1)?.unit ?? ""}`), number(chart.sizesInUnit)]);
  const sizesInUnit = at(rows.length - 1, 1);
  let [pieces, usable, endValue] = ["", "", ""];
  if (chart.whole !== null) {
    const unit = method.stages.at(-1)?.unit ?? "";
    rows.push([text(`Usable in the tests, ${unit}`), number(chart.whole.usable)]);
    usable = at(rows.length - 1, 1);
    rows.push([text(`An end left over is worth, ${chart.currency} / ${unit}`), number(chart.whole.endValue, 4)]);
    endValue = at(rows.length - 1, 1);
    rows.push([text(`Pieces as weighed, ${unit}`, "strong")]);
    const first = rows.length;
    chart.whole.pieces.forEach((piece, n) => { rows.push([text(`Piece ${n + 1}`), number(piece)]); });
    pieces = `${at(first, 1)}:${cellName(rows.length - 1, 1, { row: true, column: true })}`;
  }
  return {
    sheet: { name, widths: [44, 16, 18, 18, 18], rows },
    stage: (n, price, origin) => {
      const stage = stages[n];
      if (stage === undefined) throw new Error("expected the constants of the stage");
      return [`${stage.perOrigin}*${origin}`, ...stage.credits.map(([share = "", held = "", ofPrice = "", ofOrigin = ""]) => `${share}*(${held}+${ofPrice}*${price}+${ofOrigin}*${origin})`)].join("-");
    },
    sizesInUnit, pieces, usable, endValue,
  };
}

function pricesSheet(chart: PriceChartBook, method: ChartMethod, worked: Constants): Sheet {
  const rows: (Cell | null)[][] = [[text(chart.title, "title")], ...[...chart.lines, method.name].map((line) => [text(line, "note")]), []];
  const money = { places: chart.places };
  const first = 2 + method.stages.length;
  const own = method.stages.at(-1);
  rows.push([null, null, ...method.stages.map(() => null), ...chart.sizes.map((size) => text(size.mark, "strong"))]);
  const headAt = rows.length;
  rows.push([
    text(`${chart.itemName}, ${chart.currency} / ${chart.priceUnit}`, "head"), text("", "head"), ...method.stages.map((stage) => text(`${stage.name}, ${chart.currency} / ${stage.unit}`, "head")),
    ...chart.sizes.map(({ size }): Cell => ({ kind: "number", value: size, format: { places: placesOf(size) }, style: "input" })),
  ]);
  rows.push([text(`a portion of ${chart.sizeUnit}`, "note")]);
  const countAt = rows.length;
  const sizeCell = (n: number): string => cellName(headAt, first + n, { row: true });
  const portionsCell = (n: number): string => cellName(countAt, first + n, { row: true });
  if (chart.whole !== null) {
    const { perPortion } = chart.whole;
    rows.push([text("whole portions from all pieces", "note"), null, ...method.stages.map(() => null), ...chart.sizes.map((_, n): Cell | null => {
      const line = perPortion[n];
      return line === undefined ? null : { kind: "formula", formula: `SUMPRODUCT(INT(${worked.pieces}*${worked.sizesInUnit}/${sizeCell(n)}+${HAIR}))`, value: line.portions, format: { places: 0 } };
    })]);
  }
  const frozen = { rows: rows.length, columns: 1 };
  chart.prices.forEach(({ price, today }, at) => {
    const row = rows.length;
    const priceCell = cellName(row, 0, { column: true });
    const costs = method.costs[at];
    const costCell = cellName(row, first - 1, { column: true });
    rows.push([
      { kind: "number", value: price, format: { places: Math.max(chart.places, placesOf(price)) }, style: "input" },
      today ? text("today", "strong") : null,
      ...method.stages.map((_, n): Cell | null => {
        const value = costs?.stages[n];
        return value === undefined ? null : { kind: "formula", formula: worked.stage(n, priceCell, n === 0 ? priceCell : cellName(row, 1 + n, { column: true })), value, format: { places: chart.places + 2 } };
      }),
      ...chart.sizes.map((_, n): Cell | null => {
        const value = costs?.portions[n];
        if (value === undefined) return null;
        const portions = portionsCell(n);
        const formula = chart.whole === null
          ? `${costCell}*${sizeCell(n)}/${worked.sizesInUnit}`
          : `(${costCell}*${worked.usable}-(SUM(${worked.pieces})-${portions}*${sizeCell(n)}/${worked.sizesInUnit})*${worked.endValue})/${portions}`;
        return { kind: "formula", formula, value, format: money };
      }),
    ]);
  });
  if (own === undefined) throw new Error("expected a chart to be of a cut");
  return { name: method.sheet, widths: [24, 7, ...method.stages.map(() => 16), ...chart.sizes.map(() => 10)], rows, frozen, landscape: chart.sizes.length > 6 };
}

function placesOf(value: Decimal): number {
  return Math.min(value.decimalPlaces(), 6);
}
