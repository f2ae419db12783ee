/** The price-by-portion chart as a workbook: read back, its formulas say what our cells say, and follow a changed price and size. */
import { describe, expect, test } from "vitest";
import { type PortionSpec, emptyBook, kitchenOf, withChanges } from "@/lib/book";
import { compile, costOf, tryOut } from "@/lib/cascade";
import { priceChartWorkbook, xlsx } from "@/lib/exchange";
import { exact, moneyFigure } from "@/lib/measure";
import type { OpenKitchen } from "@/app/(kitchen)/open-kitchen";
import { readAsked } from "@/app/(kitchen)/specs/[spec]/prices/asked";
import { chartBook, chartOf, chartView } from "@/app/(kitchen)/specs/[spec]/prices/chart";
import { readDemo } from "@/seed/read";
import { readWorkbook, reckon } from "./read-workbook";

const demo = readDemo();
const book = withChanges(emptyBook({ id: "demo", ...demo.kitchen }, "2026-11-24"), demo.entries.map((entry) => entry.change));
const compiled = compile(book);
if (!compiled.ok) throw new Error("expected the demo to compile");
const cascade = compiled.value;
const open = { live: { book, cascade, today: "2026-11-24" }, kitchen: kitchenOf(book), visitor: { name: "=Chef" } } as unknown as OpenKitchen;

function specNamed(id: string, more: Partial<PortionSpec> = {}): PortionSpec {
  const spec = book.shelves.spec.get(id);
  if (spec === undefined) throw new Error(`expected spec ${id}`);
  return { ...spec, ...more };
}

function made(spec: PortionSpec, search: Readonly<Record<string, string>> = {}) {
  const asked = readAsked(search, spec, open.kitchen);
  const found = chartOf(open, spec, asked);
  if (!found.ok) throw new Error(found.why);
  const data = chartBook(open, spec, found.chart, "letter");
  return { asked, chart: found.chart, data, view: chartView(open, spec, found.chart), sheets: readWorkbook(xlsx(priceChartWorkbook(data))) };
}

const SPECS = ["strip-steak-10", "strip-steak-6", "chicken-breast-9", "salmon-6", "pork-chop-9", "lamb-steak-7", "shrimp-4", "roast-pork-5"];

describe.each(SPECS)("%s", (id) => {
  const spec = specNamed(id);
  const { chart, data, view, sheets } = made(spec);

  test("today’s price at what is cut is what the portion costs", () => {
    const today = view.rows.find((row) => row.today);
    const at = view.sizes.findIndex(({ mark }) => mark === "as it is" || mark === "as cut");
    const cost = costOf(cascade, { kind: "spec", id });
    expect(today?.portions[at]).toBe(cost && moneyFigure(cost.amount, open.kitchen));
  });

  test("every formula says what our exact cell says", () => {
    let formulas = 0;
    for (const [name, sheet] of sheets) {
      for (const [cell, { formula, value }] of sheet) {
        if (formula === null) continue;
        formulas += 1;
        expect(Math.abs(reckon(sheets, name, cell) - (value ?? NaN)), `${name}!${cell} = ${formula}`).toBeLessThan(1e-9);
      }
    }
    expect(formulas).toBeGreaterThanOrEqual(data.methods.length * chart.prices.length * (chart.sizes.length + 1));
  });

  test("a changed price reckons what a costing at that price says", () => {
    const [first] = data.methods;
    const sheet = sheets.get(first?.sheet ?? "");
    const row = [...(sheet ?? [])].find(([, cell]) => cell.text === "today")?.[0].slice(1) ?? "";
    const at = chart.sizes.findIndex(({ asCut }) => asCut);
    const cell = [...(sheet?.keys() ?? [])].filter((name) => name.replace(/^[A-Z]+/, "") === row).at(2 + (first?.stages.length ?? 0) + at) ?? "";
    const quote = [...book.shelves.quote.values()].find((one) => one.itemId === chart.itemId && one.dealerId === book.shelves.item.get(chart.itemId)?.dealerId);
    if (quote === undefined) throw new Error("expected a quote");
    const tried = tryOut(cascade, [{ kind: "quote", id: quote.id, after: { ...quote, price: { amount: exact("13.37") }, per: chart.priceUnit } }]);
    if (!tried.ok) throw new Error("expected the price to be tried");
    const cost = costOf(tried.value.after, { kind: "spec", id });
    expect(Math.abs(reckon(sheets, first?.sheet ?? "", cell, { [`${first?.sheet ?? ""}!A${row}`]: 13.37 }) - (cost?.amount.toNumber() ?? NaN))).toBeLessThan(1e-9);
  });
});

test("a changed size is counted out anew on the pieces", () => {
  const { sheets, data } = made(specNamed("strip-steak-10"), { sizes: "9 oz; 10 oz" });
  const sheet = data.methods[0]?.sheet ?? "";
  const cells = [...(sheets.get(sheet) ?? [])];
  const nine = cells.find(([, cell]) => cell.value === 9 && cell.formula === null)?.[0] ?? "";
  const ten = cells.find(([name, cell]) => cell.value === 10 && cell.formula === null && name.slice(1) === nine.slice(1))?.[0] ?? "";
  const count = (of: string): string => cells.find(([name, cell]) => name.startsWith(of.slice(0, 1)) && cell.formula?.startsWith("SUMPRODUCT") === true)?.[0] ?? "";
  expect(reckon(sheets, sheet, count(ten))).toBe(41);
  expect(reckon(sheets, sheet, count(nine), { [`${sheet}!${nine}`]: 10 })).toBe(41);
});

test("text is never a formula: who made it is called =Chef", () => {
  const { sheets } = made(specNamed("salmon-6", { name: "+1+cmd|' /C calc'!A0" }));
  const texts = [...sheets.values()].flatMap((sheet) => [...sheet.values()].flatMap(({ text }) => text ?? []));
  expect(texts.filter((text) => /^[=+\-@\t\r]/.test(text))).toEqual([]);
  expect(texts.some((text) => text.startsWith("'+1+cmd"))).toBe(true);
});

describe("what an address asks for", () => {
  const spec = specNamed("salmon-6");
  test("step, rows and sizes; the portion’s own size is always there", () => {
    const { chart, view } = made(spec, { step: "0.50", rows: "5", sizes: "5 oz; 7" });
    expect(view.sizes.map(({ text, mark }) => `${text} ${mark}`.trim())).toEqual(["5 oz", "6 oz as it is", "7 oz"]);
    expect(chart.prices).toHaveLength(5);
    expect(view.rows.map(({ today }) => today)).toEqual([false, false, true, false, false]);
  });

  test("what cannot be read is told, and the usual stands", () => {
    const { asked, chart } = made(spec, { step: "-1", rows: "900", sizes: "a bit; 5 oz" });
    expect(asked.problems.map(({ path }) => path)).toEqual(["step", "rows", "sizes"]);
    expect(chart.prices).toHaveLength(15);
    expect(asked.values["sizes"]).toBe("a bit; 5 oz");
  });

  test("both methods, where they differ", () => {
    const two = SPECS.map((id) => made(specNamed(id))).filter(({ data }) => data.methods.length === 2);
    expect(two.length).toBeGreaterThan(0);
    for (const { view, sheets } of two) {
      expect(view.otherHead).not.toBeNull();
      expect(view.rows.every(({ other }) => other !== "")).toBe(true);
      expect([...sheets.keys()].sort()).toEqual(["By the factor", "By the factor constants", "By-products held", "By-products held constants"]);
    }
  });
});
