/** Workbooks as bytes: the same each time, well-formed, and text that cannot run. */
import { strFromU8, unzipSync } from "fflate";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { cellName, readFileIn, safeText, sheetNames, text, xlsx } from "@/lib/exchange";
import { Decimal } from "@/lib/measure";
import { readWorkbook } from "./read-workbook";

describe("text that a spreadsheet would run", () => {
  test.each(["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", " =1", "＝1+1", "＠x"])("%j gets an apostrophe", (typed) => {
    expect(safeText(typed)).toBe(`'${typed}`);
  });
  test.each(["Strip steak", "10 oz", "a=b", "", "½ oz – trimmed", "'quoted"])("%j stays as it is", (typed) => {
    expect(safeText(typed)).toBe(typed);
  });
});

const sheetOf = (typed: string) => ({ title: typed, paper: "a4" as const, sheets: [{ name: typed, widths: [10], rows: [[text(typed)]] }] });

test("law: whatever was typed comes back as text, with what XML cannot hold left out", () => {
  fc.assert(fc.property(fc.string({ unit: "binary", maxLength: 60 }), (typed) => {
    const [sheet] = readWorkbook(xlsx(sheetOf(typed))).values();
    const cell = sheet?.get("A1");
    expect(cell?.formula).toBeNull();
    const kept = safeText(typed).replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, "");
    expect(cell?.text ?? "").toBe(kept);
  }));
});

test("text that looks like a character written in figures stays that text", () => {
  for (const typed of ["_x0041_", "a_x000D_b", "_x005F_x0041_", "_x00", "x0041_"]) {
    const read = readFileIn(xlsx({ title: "t", paper: "a4", sheets: [{ name: "s", widths: [10], rows: [[text(typed)]] }] }), "x.xlsx");
    expect(read.ok && read.value.kind === "table" && read.value.tables[0]?.rows[0]?.[0]?.text).toBe(typed);
  }
});

test("names that a sheet may have, each once", () => {
  expect(sheetNames([{ name: "Prices/2026: [all]?" }, { name: "prices 2026   all" }, { name: "" }, { name: "x".repeat(60) }])).toEqual(["Prices 2026   all", "prices 2026   all 2", "Sheet 3", "x".repeat(28)]);
});

test("columns go on after Z", () => {
  expect([cellName(0, 0), cellName(9, 25), cellName(9, 26), cellName(0, 701), cellName(0, 702), cellName(2, 1, { row: true, column: true })]).toEqual(["A1", "Z10", "AA10", "ZZ1", "AAA1", "$B$3"]);
});

test("the same workbook gives the same bytes; figures keep 17 digits; formulas carry what they come to", () => {
  const book = {
    title: "Prices", paper: "letter" as const,
    sheets: [{ name: "Prices", widths: [10, 10], frozen: { rows: 1, columns: 1 }, rows: [[
      { kind: "number" as const, value: new Decimal(1).div(3), format: { places: 2 } }, { kind: "formula" as const, formula: "A1*3", value: new Decimal(1), format: { places: 2 } }, null,
    ]] }],
  };
  const bytes = xlsx(book);
  expect(xlsx(book)).toEqual(bytes);
  const parts = unzipSync(bytes);
  const sheet = strFromU8(parts["xl/worksheets/sheet1.xml"] ?? new Uint8Array());
  expect(sheet).toContain("<v>0.33333333333333333</v>");
  expect(sheet).toContain("<f>A1*3</f><v>1</v>");
  expect(sheet).toContain(`paperSize="1"`);
  expect(sheet).toContain(`topLeftCell="B2"`);
});
