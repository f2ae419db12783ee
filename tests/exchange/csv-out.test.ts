/** Sheets as CSV: what a reader of CSV reads back, figures of every kitchen's marks, text that a spreadsheet would run. */
import fc from "fast-check";
import Papa from "papaparse";
import { describe, expect, test } from "vitest";
import { type Cell, csvMarks, csvOf, dayCell, listWorkbook, numberCell, safeCsvText, text, xlsx } from "@/lib/exchange";
import { Decimal } from "@/lib/measure";
import { readWorkbook } from "./read-workbook";

const us = { locale: "en-US" };
const de = { locale: "de-DE" };
const rows = (...cells: readonly (readonly (Cell | null)[])[]) => ({ rows: cells });

test("a mark for UTF-8, CR LF after every line, each line as long as the longest", () => {
  expect(csvOf(rows([text("Dish", "head"), text("Cost", "head"), text("Day", "head")], [text("Crème brûlée"), numberCell(new Decimal("1234.5"), 2)], []), us))
    .toBe("\uFEFFDish,Cost,Day\r\nCrème brûlée,1234.5,\r\n,,\r\n");
});

test("figures plain, with the kitchen’s decimal sign and a delimiter that suits it", () => {
  const sheet = rows([text("a"), numberCell(new Decimal("-1234.56"), 2), numberCell(new Decimal(1).div(3), 2), dayCell("2026-11-24"), { kind: "formula", formula: "A1*2", value: new Decimal("0.5"), format: { places: 1 } }]);
  expect(csvOf(sheet, us)).toBe("\uFEFFa,-1234.56,0.33333333333333333,2026-11-24,0.5\r\n");
  expect(csvOf(sheet, de)).toBe("\uFEFFa;-1234,56;0,33333333333333333;2026-11-24;0,5\r\n");
  for (const [locale, decimal, delimiter] of [["en-GB", ".", ","], ["fr-FR", ",", ";"], ["de-CH", ".", ","], ["es-MX", ".", ","], ["pt-BR", ",", ";"], ["ja-JP", ".", ","], ["ar-EG", ".", ","]] as const) expect(csvMarks({ locale }), locale).toEqual({ decimal, delimiter });
  expect(csvOf(rows([numberCell(new Decimal("1e-30"), 2), numberCell(new Decimal("1e25"), 0)]), us)).toBe("\uFEFF0.000000000000000000000000000001,10000000000000000000000000\r\n");
});

describe("text that would run", () => {
  const NASTY = [
    "=1+1", "+1", "-1", "@SUM(A1)", "=cmd|' /C calc'!A0", "=HYPERLINK(\"http://evil.example\",\"x\")", "\t=1", "\r=1", "\n=1", " =1", "＝1", "＠x", "a,=1", "a;=1", "a\t=1", "\"=1\"", "\"\n=1", "'=1", ",=1", ";=1",
  ];

  test.each(NASTY)("%j is one field of text, in whichever way the file is cut", (nasty) => {
    for (const habits of [us, de]) {
      const csv = csvOf(rows([text("before"), text(nasty), text("after")]), habits);
      const { data } = Papa.parse<string[]>(csv.slice(1), { delimiter: csvMarks(habits).delimiter, newline: "\r\n", skipEmptyLines: false });
      expect(data[0]).toEqual(["before", safeCsvText(nasty), "after"]);
      // Taken apart by another mark than ours, a field begins nothing that runs either.
      for (const delimiter of [",", ";", "\t"]) {
        const fields = Papa.parse<string[]>(csv.slice(1), { delimiter }).data.flat();
        expect(fields.filter((field) => /^[=+@＝＋＠-]/.test(field)), `${JSON.stringify(csv)} by ${delimiter}`).toEqual([]);
      }
    }
  });

  test("law: whatever was typed comes back as it is shown, and runs nowhere", () => {
    fc.assert(fc.property(fc.array(fc.array(fc.oneof(fc.string({ unit: "binary", maxLength: 20 }), fc.constantFrom(...NASTY)), { minLength: 2, maxLength: 4 }), { minLength: 1, maxLength: 4 }), fc.constantFrom(us, de), (typed, habits) => {
      const width = Math.max(...typed.map((row) => row.length));
      const csv = csvOf({ rows: typed.map((row) => row.map((cell) => text(cell))) }, habits);
      const { data } = Papa.parse<string[]>(csv.slice(1), { delimiter: csvMarks(habits).delimiter, newline: "\r\n" });
      expect(data.slice(0, -1)).toEqual(typed.map((row) => Array.from({ length: width }, (_, at) => safeCsvText(row[at] ?? ""))));
      expect(data.flat().filter((field) => /^[=+@-]/.test(field))).toEqual([]);
    }));
  });
});

test("what only looks a little like it stays as it is", () => {
  for (const said of ["10 oz – trimmed", "a=b", "salt, pepper", "half; whole", "5 - 6", "x-y,z"]) expect(safeCsvText(said)).toBe(said);
  expect(safeCsvText("kept, -18 °C")).toBe("kept, '-18 °C");
});

test("a list: one row of heads, empty where nothing is known, days that a spreadsheet reckons with", () => {
  const list = listWorkbook<{ readonly name: string; readonly cost: Decimal | null; readonly on: string }>({
    title: "Dishes", paper: "a4", rows: [{ name: "=Steak", cost: new Decimal("12.345"), on: "2026-11-24" }, { name: "", cost: null, on: "1899-05-01" }],
    columns: [{ head: "Dish", of: ({ name }) => name }, { head: "Cost", of: ({ cost }) => numberCell(cost, 2) }, { head: "Day", of: ({ on }) => dayCell(on) }],
  });
  const [sheet] = readWorkbook(xlsx(list)).values();
  expect([...sheet ?? []].map(([at, { text: said, value }]) => [at, said ?? value])).toEqual([["A1", "Dish"], ["B1", "Cost"], ["C1", "Day"], ["A2", "'=Steak"], ["B2", 12.345], ["C2", 46350], ["C3", "1899-05-01"]]);
});
