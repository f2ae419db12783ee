/** Any file: what our own writers make reads back; bytes of any kind give a table or a sentence, never an exception. */
import { strToU8, zipSync } from "fflate";
import fc from "fast-check";
import Papa from "papaparse";
import { describe, expect, test } from "vitest";
import { type Workbook, readFileIn, xlsx } from "@/lib/exchange";
import { splitCsv } from "@/lib/exchange/in/csv-split";
import { guessDelimiter } from "@/lib/exchange/in/csv-read";
import { DELIMITERS, FILE_LIMITS } from "@/lib/exchange/in/read-shapes";
import { dayText, lookOf } from "@/lib/exchange/in/xlsx-read-date";
import { Decimal } from "@/lib/measure";

const refusal = (bytes: Uint8Array, name = "list"): readonly [string, string] => {
  const file = readFileIn(bytes, name);
  if (file.ok) throw new Error(`expected a refusal, read ${file.value.kind}`);
  return [file.problems[0]?.code ?? "", file.problems[0]?.sentence ?? ""];
};
const rowsOf = (bytes: Uint8Array): readonly (readonly string[])[] => {
  const file = readFileIn(bytes, "list");
  if (!file.ok || file.value.kind !== "table") throw new Error(file.ok ? "no table" : file.problems[0]?.sentence);
  return (file.value.tables[0]?.rows ?? []).map((row) => row.map((cell) => cell.text));
};
const csv = (text: string): readonly (readonly string[])[] => rowsOf(strToU8(text));

const cellText = fc.string({ unit: fc.constantFrom(..."abc 12.,;\t|\"\n'=éß½€日"), maxLength: 12 });

describe("CSV", () => {
  test("any table written by the rules reads back, and as papaparse reads it", () => {
    const quotedCell = (cell: string): string => `"${cell.replaceAll("\"", "\"\"")}"`;
    fc.assert(fc.property(fc.constantFrom(...DELIMITERS), fc.constantFrom("\n", "\r\n", "\r"), fc.array(fc.array(cellText, { minLength: 2, maxLength: 5 }), { minLength: 1, maxLength: 6 }), (delimiter, end, rows) => {
      const text = rows.map((row) => row.map(quotedCell).join(delimiter)).join(end);
      const tidy = rows.map((row) => row.map((cell) => cell.replace(/\r\n?/g, "\n")));
      const split = splitCsv(text.replace(/\r\n?/g, "\n"), delimiter);
      expect(split.ok && split.value).toEqual(tidy);
      expect(Papa.parse(text.replace(/\r\n?/g, "\n"), { delimiter, newline: "\n" }).data).toEqual(tidy);
    }), { numRuns: 300 });
  });

  test("text without quotation marks is split as papaparse splits it", () => {
    fc.assert(fc.property(fc.constantFrom(...DELIMITERS), fc.string({ unit: fc.constantFrom(..."ab1.,;\t|\n '"), minLength: 1, maxLength: 60 }), (delimiter, text) => {
      const split = splitCsv(text, delimiter);
      const judge = (Papa.parse(text, { delimiter, newline: "\n" }).data as string[][]).map((row) => (row.length === 1 && row[0] === "" ? [] : row));
      // Line ends at the end open no rows of ours.
      const told = (rows: readonly (readonly string[])[]): readonly (readonly string[])[] => rows.slice(0, rows.findLastIndex((row) => row.length > 0) + 1);
      expect(split.ok && told(split.value)).toEqual(told(judge));
    }), { numRuns: 500 });
  });

  test("marks where they should not be stay what they are", () => {
    expect(csv("Pan 5\",3\n\"5\" pan\",4\n")).toEqual([["Pan 5\"", "3"], ["5\" pan", "4"]]);
    expect(csv("a;b\n\"two\nlines\";2\n\n;\n")).toEqual([["a", "b"], ["two\nlines", "2"]]);
    expect(refusal(strToU8("a,b\nc,\"d\ne,f\n"))).toEqual(["open-quote", "Row 2 opens a quotation mark (\") in column 2 that is never closed: close it, or take it out, and read the file again."]);
  });

  test("what parts the columns", () => {
    expect(guessDelimiter("Beef, lean;12,50;kg\nVeal;7,10;kg\n")).toBe(";");
    expect(guessDelimiter("Price list, valid from Monday\n\nitem\tprice\nBeef, lean\t7.10\n")).toBe("\t");
    expect(guessDelimiter("Code,Item,Price\n1,Beef,7.10\n2,\"Veal; leg\",5\n")).toBe(",");
    expect(guessDelimiter("just one column\nof text\n")).toBe(",");
    expect(csv("sep=|\na|b,c\n")).toEqual([["a", "b,c"]]);
  });

  test("UTF-16 without a mark, UTF-8 with one, Windows-1252 with a euro", () => {
    const wide = (text: string, first: number): Uint8Array => Uint8Array.from([...text].flatMap((letter) => (first === 0 ? [letter.charCodeAt(0), 0] : [0, letter.charCodeAt(0)])));
    expect(rowsOf(wide("item;price\nbeef;7\n", 0))).toEqual([["item", "price"], ["beef", "7"]]);
    expect(rowsOf(wide("item;price\nbeef;7\n", 1))).toEqual([["item", "price"], ["beef", "7"]]);
    expect(csv("\ufeffitem;price\nbeef;7\n")).toEqual([["item", "price"], ["beef", "7"]]);
    expect(rowsOf(new Uint8Array([0x61, 0x3b, 0x62, 0x0a, 0x80, 0x3b, 0x92, 0x0a]))).toEqual([["a", "b"], ["€", "’"]]);
  });

  test("bounds", () => {
    expect(refusal(strToU8("a,b\n".repeat(FILE_LIMITS.rows + 1)))[0]).toBe("too-many-rows");
    expect(csv("a,b\n".repeat(FILE_LIMITS.rows)).length).toBe(FILE_LIMITS.rows);
    expect(refusal(strToU8(`${",".repeat(FILE_LIMITS.columns)}a`))[0]).toBe("too-many-columns");
    expect(refusal(strToU8(`a,b\n${"x".repeat(40_000)},c\n`))[0]).toBe("cell-too-long");
    expect(refusal(new Uint8Array(FILE_LIMITS.bytes + 1))[0]).toBe("too-large");
    expect(refusal(new Uint8Array(0))[0]).toBe("empty");
    expect(refusal(strToU8("\n\n  \n"))[0]).toBe("empty");
  });

  test.each([["open marks", "\"a"], ["marks in marks", "\"\" "], ["mark, letter, mark", "\"a\"b\n"], ["blank lines", "\n"], ["commas", ","], ["half open", "a\"b,"]])("20 MB of %s are over quickly", (_, piece) => {
    const bytes = strToU8(piece.repeat(Math.floor((FILE_LIMITS.bytes - 10) / piece.length)));
    const start = performance.now();
    readFileIn(bytes, "x.csv");
    expect(performance.now() - start).toBeLessThan(15_000);
  }, 30_000);
});

describe("workbooks", () => {
  // A row of nothing but spaces is no row of a list.
  const sheetText = fc.string({ unit: fc.constantFrom(..."abc 1=+@é日<&>\"'_x000D_"), maxLength: 14 }).filter((text) => text === "" || text.trim() !== "");
  test("what our own writer makes reads back: text as it was made safe, figures to 15 digits", () => {
    fc.assert(fc.property(fc.array(fc.array(fc.oneof(sheetText, fc.tuple(fc.bigInt({ min: -(10n ** 14n), max: 10n ** 14n }), fc.integer({ min: 0, max: 8 }))), { maxLength: 4 }), { maxLength: 5 }), (rows) => {
      const book: Workbook = {
        title: "t", paper: "a4",
        sheets: [{ name: "One", widths: [], rows: [[{ kind: "text", text: "first" }], ...rows.map((row) => row.map((cell) => (typeof cell === "string" ? { kind: "text" as const, text: cell } : { kind: "number" as const, value: new Decimal(cell[0].toString()).div(new Decimal(10).pow(cell[1])), format: { places: 2 } })))] }],
      };
      const file = readFileIn(xlsx(book), "x.xlsx");
      if (!file.ok || file.value.kind !== "table") throw new Error(file.ok ? "no table" : file.problems[0]?.sentence);
      const read = file.value.tables[0]?.rows ?? [];
      rows.forEach((row, at) => {
        row.forEach((cell, column) => {
          const found = read[at + 1]?.[column] ?? { text: "", number: null };
          if (typeof cell !== "string") expect(found.number).toBe(new Decimal(cell[0].toString()).div(new Decimal(10).pow(cell[1])).toSignificantDigits(15).toFixed());
          else if (!/_x|^\s*[=+\-@]/.test(cell)) expect(found.text).toBe(cell);
        });
      });
    }), { numRuns: 150 });
  });

  test("formats that are days, and those that are not", () => {
    expect(["yyyy-mm-dd", "d.m.yy", "mmm yy", "[$-409]d mmm yyyy;@", "m/d", "mmmm", "[$-F800]dddd, mmmm dd, yyyy"].map((code) => lookOf(164, code))).toEqual(Array(7).fill("day"));
    expect(["hh:mm", "[h]:mm:ss", "h:mm AM/PM", "mm:ss"].map((code) => lookOf(164, code))).toEqual(Array(4).fill("time"));
    expect(lookOf(164, "d/m/yyyy h:mm")).toBe("day-time");
    expect(["0.00", "#,##0.00 [$€-407]", "General", "\"days\" 0", "#,##0.00\\ \"lbs\"", "[Red]-0.00;0", "0.00E+00", "_(* #,##0_)"].map((code) => lookOf(164, code))).toEqual(Array(8).fill("number"));
    expect(lookOf(164, "00000")).toEqual({ digits: 5 });
    expect([14, 22, 20, 10, 0, 49].map((id) => lookOf(id, undefined))).toEqual(["day", "day-time", "time", "percent", "number", "number"]);
  });

  test("days: the day that never was, 1904, the last", () => {
    const day = (serial: string, from1904 = false) => dayText(new Decimal(serial), "day", from1904);
    expect([day("1"), day("59"), day("60"), day("61"), day("46145"), day("2958465"), day("2958467"), day("-1")]).toEqual(["1900-01-01", "1900-02-28", null, "1900-03-01", "2026-05-03", "9999-12-31", null, null]);
    expect(day("0", true)).toBe("1904-01-01");
    expect(dayText(new Decimal("46145.999999"), "day-time", false)).toBe("2026-05-04");
    expect(dayText(new Decimal("46145.604166666664"), "day-time", false)).toBe("2026-05-03 14:30");
  });
});

const TYPES = `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>`;
function workbook(parts: Readonly<Record<string, string>>, level: 0 | 9 = 9): Uint8Array {
  const all = {
    "[Content_Types].xml": TYPES,
    "xl/workbook.xml": `<workbook xmlns:r="r"><sheets><sheet name="A" sheetId="1" r:id="rId1"/></sheets></workbook>`,
    "xl/_rels/workbook.xml.rels": `<Relationships><Relationship Id="rId1" Type="x/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
    ...parts,
  };
  return zipSync(Object.fromEntries(Object.entries(all).map(([name, text]) => [name, strToU8(text)])), { level });
}
const sheet = (rows: string): Record<string, string> => ({ "xl/worksheets/sheet1.xml": `<worksheet><sheetData>${rows}</sheetData></worksheet>` });

describe("hostile workbooks", () => {
  test("the plain one is read", () => {
    expect(rowsOf(workbook(sheet(`<row><c><v>1</v></c><c t="inlineStr"><is><t>a</t><rPh><t>no</t></rPh></is></c></row><row r="4"><c r="B4" t="b"><v>1</v></c></row>`)))).toEqual([["1", "a"], [], [], ["", "TRUE"]]);
  });

  test("a bomb by what it declares is not opened", () => {
    expect(refusal(workbook(sheet(" ".repeat(30 * 1024 * 1024))))[0]).toBe("too-large-unpacked");
  });

  test("a bomb that declares little is stopped as it unpacks", () => {
    const bytes = workbook(sheet(" ".repeat(30 * 1024 * 1024)));
    const view = new DataView(bytes.buffer);
    for (let at = 0; at < bytes.length - 4; at += 1) {
      if (view.getUint32(at, true) === 0x02014b50 && view.getUint32(at + 24, true) > 1024 * 1024) view.setUint32(at + 24, 5000, true);
    }
    const before = process.memoryUsage().rss;
    expect(refusal(bytes)[0]).toBe("too-large-unpacked");
    expect(process.memoryUsage().rss - before).toBeLessThan(120 * 1024 * 1024);
  });

  test("parts that lie over each other, and two of one name", () => {
    const bytes = workbook(sheet(`<row><c><v>1</v></c></row>`), 0);
    const view = new DataView(bytes.buffer);
    let first = -1;
    for (let at = 0; at < bytes.length - 46; at += 1) {
      if (view.getUint32(at, true) !== 0x02014b50) continue;
      if (first < 0) first = view.getUint32(at + 42, true);
      else view.setUint32(at + 42, first, true);
    }
    expect(refusal(bytes)[0]).toBe("too-large-unpacked");
  });

  test("a changed byte is told, not read as another price", () => {
    const bytes = workbook(sheet(`<row><c><v>71234</v></c></row>`), 0);
    const at = new TextDecoder("latin1").decode(bytes).indexOf("71234");
    bytes[at] = 0x39;
    expect(refusal(bytes)[0]).toBe("broken-zip");
  });

  test.each([
    ["a document type", { "xl/workbook.xml": `<!DOCTYPE x [<!ENTITY a "b">]><workbook/>` }, "doctype"],
    ["an entity of its own", { "xl/workbook.xml": `<workbook>&lol;</workbook>` }, "broken-xml"],
    ["elements without end", sheet("<a>".repeat(500)), "too-deep"],
    ["XML that stops", sheet("<row><c>"), "broken-xml"],
    ["a row far below", sheet(`<row r="1048576"><c r="A1048576"><v>1</v></c></row>`), "too-many-rows"],
    ["a column far to the right", sheet(`<row><c r="XFD1"><v>1</v></c></row>`), "too-many-columns"],
    ["no sheet of cells", { "xl/_rels/workbook.xml.rels": "<Relationships/>" }, "no-sheets"],
    ["nothing in it", sheet(""), "empty"],
    ["only formulas without results", sheet("<row><c><f>1+1</f></c></row>"), "empty"],
    ["a binary workbook", { "xl/workbook.bin": "x" }, "not-a-workbook"],
    ["a document", { "word/document.xml": "<w/>" }, "not-a-workbook"],
  ])("%s", (_, parts, code) => {
    expect(refusal(workbook(parts as Record<string, string>))[0]).toBe(code);
  });

  test("strange values stay text, and nothing becomes a number that is none", () => {
    expect(rowsOf(workbook(sheet(`<row><c><v>1E400</v></c><c><v>NaN</v></c><c t="s"><v>9</v></c><c t="s"><v>-1</v></c><c><v>1e-7</v></c><c><v>-0</v></c></row>`)))).toEqual([["1E400", "NaN", "", "", "0.0000001", "0"]]);
  });

  test("under a password, old, or something else altogether", () => {
    const ole = new Uint8Array(600);
    ole.set([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1]);
    expect(refusal(ole)[1]).toContain("old Office kind");
    ole.set([..."EncryptedPackage"].flatMap((letter) => [letter.charCodeAt(0), 0]), 512);
    expect(refusal(ole)[1]).toContain("under a password");
    const locked = workbook(sheet(`<row><c><v>1</v></c></row>`));
    const view = new DataView(locked.buffer);
    for (let at = 0; at < locked.length - 46; at += 1) if (view.getUint32(at, true) === 0x02014b50) view.setUint16(at + 8, 1, true);
    expect(refusal(locked)[0]).toBe("password");
    expect(refusal(strToU8("%PDF-1.7\n"))[1]).toContain("PDF");
    expect(refusal(strToU8("<!DOCTYPE html><html><table></table></html>"), "prices.xls")[1]).toContain("a web page, whatever its name says");
    expect(refusal(zipSync({ "list.csv": strToU8("a,b") }))[1]).toContain("unpack it");
    expect(refusal(strToU8("PK"))[0]).toBe("not-a-workbook");
    expect(refusal(Uint8Array.from({ length: 3000 }, (_, n) => (n * 7919) % 32))[0]).toBe("not-text");
  });
});

describe("XML", () => {
  test.each([
    [`<?xml version="1.0"?><!DOCTYPE lolz [<!ENTITY lol "lol">]><lolz>&lol;</lolz>`, "doctype"],
    [`<?xml version="1.0"?><Order xmlns="urn:oasis:names:specification:ubl:schema:xsd:Order-2"/>`, "not-ubl"],
    [`<Invoice xmlns="urn:oasis:names:specification:ubl:schema:xsd:Invoice-2"/>`, "empty"],
    [`<Invoice xmlns="urn:oasis:names:specification:ubl:schema:xsd:Invoice-2">`, "broken-xml"],
    [`<Invoice/>`, "not-ubl"],
    [`<a:Invoice/>`, "broken-xml"],
    ["<a>".repeat(100_000), "too-deep"],
  ])("%.60s", (text, code) => { expect(refusal(strToU8(text))[0]).toBe(code); });
});

describe("any bytes", () => {
  const start = fc.constantFrom(new Uint8Array(0), new Uint8Array([0x50, 0x4b, 3, 4]), new Uint8Array([0xff, 0xfe]), new Uint8Array([0xef, 0xbb, 0xbf]), strToU8("<?xml "), strToU8("<Invoice "), new Uint8Array([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1]));
  test("never throw", () => {
    fc.assert(fc.property(start, fc.uint8Array({ maxLength: 400 }), (head, body) => {
      const bytes = new Uint8Array(head.length + body.length);
      bytes.set(head);
      bytes.set(body, head.length);
      readFileIn(bytes, "x");
    }), { numRuns: 1500 });
  });

  test("a workbook with bytes changed or cut off never throws", () => {
    const whole = workbook({ ...sheet(`<row><c t="s"><v>0</v></c><c s="1"><v>46145</v></c></row>`), "xl/sharedStrings.xml": "<sst><si><t>Beef</t></si></sst>", "xl/styles.xml": `<styleSheet><cellXfs><xf/><xf numFmtId="14"/></cellXfs></styleSheet>` });
    fc.assert(fc.property(fc.array(fc.tuple(fc.nat(whole.length - 1), fc.integer({ min: 0, max: 255 })), { maxLength: 6 }), fc.nat(whole.length), (changes, length) => {
      const bytes = whole.slice();
      for (const [at, byte] of changes) bytes[at] = byte;
      readFileIn(bytes, "x.xlsx");
      readFileIn(bytes.subarray(0, length), "x.xlsx");
    }), { numRuns: 800 });
  });
});
