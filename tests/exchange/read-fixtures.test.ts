/** Files as other programs write them (tests/exchange/fixtures), and what is no list at all. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { type FileRead, readFileIn } from "@/lib/exchange";

const bytesOf = (name: string): Uint8Array => new Uint8Array(readFileSync(join(import.meta.dirname, "fixtures", name)));

function read(name: string, asked?: Parameters<typeof readFileIn>[2]): FileRead {
  const file = readFileIn(bytesOf(name), name, asked);
  if (!file.ok) throw new Error(file.problems[0]?.sentence);
  return file.value;
}

function table(name: string, asked?: Parameters<typeof readFileIn>[2]): Extract<FileRead, { kind: "table" }> {
  const file = read(name, asked);
  if (file.kind !== "table") throw new Error("expected a table");
  return file;
}

const texts = (file: Extract<FileRead, { kind: "table" }>, at = 0): readonly (readonly string[])[] => (file.tables[at]?.rows ?? []).map((row) => row.map((cell) => cell.text));

describe("CSV as LibreOffice writes it", () => {
  test("Germany: semicolons, decimal commas, Windows-1252, both guessed and said", () => {
    const file = table("libreoffice-de.csv");
    expect([file.delimiter, file.encoding]).toEqual([";", "windows-1252"]);
    expect(file.said).toBe("Read as Windows-1252 (Western) (a guess), columns parted by semicolons (a guess).");
    expect(texts(file)).toEqual([
      ["Nr", "Artikel", "Preis", "ab", "Anteil"], ["0012", "Rinderhüfte, \"gut\"; frisch", "12,50", "2026-05-03", "0,125"], ["13", "Crème fraîche", "1.234,50", "2026-11-30", "1"],
    ]);
  });

  test("France: semicolons, UTF-8, a narrow space between thousands", () => {
    const file = table("libreoffice-fr.csv");
    expect([file.delimiter, file.encoding]).toEqual([";", "utf-8"]);
    expect(texts(file)[2]?.[2]?.replace(/\s/, " ")).toBe("1 234,50");
    expect(texts(file)[1]?.[1]).toBe("Rinderhüfte, \"gut\"; frisch");
  });

  test("the United States: commas, text in quotation marks", () => {
    const file = table("libreoffice-us.csv");
    expect([file.delimiter, file.encoding]).toEqual([",", "utf-8"]);
    expect(texts(file)[2]).toEqual(["13", "Crème fraîche", "1,234.50", "2026-11-30", "1"]);
  });

  test("UTF-16 with tabs, told by its mark", () => {
    const file = table("libreoffice-utf16.csv");
    expect([file.delimiter, file.encoding]).toEqual(["\t", "utf-16le"]);
    expect(file.said).toContain("UTF-16, as the file says");
    expect(texts(file)[1]?.[1]).toBe("Rinderhüfte, \"gut\"; frisch");
  });

  test("what is asked overrules the guess", () => {
    expect(texts(table("libreoffice-de.csv", { delimiter: "|" }))[0]).toEqual(["Nr;Artikel;Preis;ab;Anteil"]);
    const wrong = readFileIn(bytesOf("libreoffice-de.csv"), "x.csv", { encoding: "utf-8" });
    expect(!wrong.ok && wrong.problems[0]?.code).toBe("not-the-encoding");
  });
});

describe("workbooks", () => {
  test("LibreOffice: text, figures, days", () => {
    const file = table("libreoffice.xlsx");
    expect(texts(file)).toEqual([
      ["Nr", "Artikel", "Preis", "ab", "Anteil"], ["0012", "Rinderhüfte, \"gut\"; frisch", "12.5", "2026-05-03", "0.125"], ["13", "Crème fraîche", "1234.5", "2026-11-30", "1"],
    ]);
    expect(file.tables[0]?.rows[1]?.map((cell) => cell.number)).toEqual([null, null, "12.5", null, "0.125"]);
  });

  test("openpyxl: 0.1 + 0.2 is 0.3, days and times, merged and hidden, booleans, a formula without a result", () => {
    const file = table("openpyxl.xlsx");
    expect(file.tables.map(({ name, hidden }) => [name, hidden])).toEqual([["Prices", false], ["Old", true]]);
    expect(texts(file)).toEqual([
      ["Valley Meats, week 47"], [], ["Code", "Item", "Pack", "Price", "From", "In stock"],
      ["0012", "Beef short loin, USDA Choice", "1/18 lb", "7.1", "2026-05-03", "TRUE"],
      ["17", "Salmon fillet", "10 lb", "0.3", "2026-05-04 14:30", "FALSE"],
      ["A-3", "Bœuf à braiser ½", "12/1 qt", "1234567.891", "2026-12-31", "TRUE"],
      ["00045", "", "", "12.5%"],
    ]);
    expect(file.tables[0]?.rows[4]?.[3]?.number).toBe("0.3");
    expect(file.tables[0]?.rows[6]?.map((cell) => cell.number)).toEqual(["45", null, null, "0.125"]);
    expect(file.said).toContain("2 sheets, 1 of them hidden. One formula holds no result");
  });

  test("XlsxWriter: days from 1904, rich text, the results of formulas, an error", () => {
    expect(texts(table("xlsxwriter-1904.xlsx"))).toEqual([["Item", "Price", "Day", "Time"], ["Beef tenderloin PSMO", "12.345", "2026-05-03", "06:45"], ["", "24.69"], ["", "#DIV/0!"], ["", "ab"]]);
  });

  test("XlsxWriter, streamed: text within the cells", () => {
    expect(texts(table("xlsxwriter-inline.xlsx"))).toEqual([["Item", "Price"], ["Eggs, large & fresh <12>", "3.5"]]);
  });
});

describe("UBL", () => {
  test("a catalogue", () => {
    const file = read("catalogue.xml");
    if (file.kind !== "ubl-catalogue") throw new Error("expected a catalogue");
    const { catalogue } = file;
    expect(catalogue).toMatchObject({ id: "KAT-47", issued: "2026-11-20", seller: "Valley Meats", receiver: "Corner House Kitchen", valid: { from: "2026-11-23", until: "2026-12-31" } });
    expect(catalogue.lines[0]).toEqual({
      id: "1", at: "line 1 of the catalogue", action: "Update", orderableUnit: "XCS", contentUnits: { amount: "10", code: "KGM", unit: "kg" }, minimumOrder: { amount: "1", code: "XCS", unit: null },
      comparison: { price: { amount: "4.35", currency: "EUR" }, quantity: { amount: "1", code: "KGM", unit: "kg" } }, valid: { from: "2026-11-23", until: null },
      prices: [{ price: { amount: "43.50", currency: "EUR" }, base: { amount: "1", code: "XCS", unit: null }, valid: { from: "2026-11-23", until: null } }],
      item: {
        name: "Beef short rib & bone", description: "Short rib, bone in", sellersId: "B-112", buyersId: "", standardId: "90614141000015", gtin: "90614141000015", lot: "", bestBefore: null,
        packQuantity: { amount: "2.5", code: "KGM", unit: "kg" }, packSize: "4", properties: [{ name: "Net weight", value: "10", quantity: { amount: "10", code: "KGM", unit: "kg" } }],
      },
    });
    // As wide as it is written; what cannot be read is named with its line.
    expect(catalogue.lines[1]?.prices.map(({ price }) => price.amount)).toEqual(["12345678901234567890.12345678901234567890"]);
    expect(catalogue.lines[1]?.item).toMatchObject({ standardId: "12345", gtin: "" });
    expect(catalogue.left).toEqual(["PriceAmount in line 2 of the catalogue is “about 3”, which is no decimal figure.", "BaseQuantity in line 2 of the catalogue has the unit code “QQQ”, which is not known here."]);
  });

  test("an invoice under prefixes of its own", () => {
    const file = read("invoice.xml");
    if (file.kind !== "ubl-invoice") throw new Error("expected an invoice");
    expect(file.invoice).toMatchObject({ kind: "invoice", number: "VM-20417", issued: "2026-11-24", currency: "USD", seller: "Valley Meats", buyer: "Corner House Kitchen", payable: { amount: "173.12", currency: "USD" }, left: [] });
    expect(file.invoice.lines[0]).toMatchObject({ quantity: { amount: "18.50", unit: "lb" }, amount: { amount: "131.35" }, price: { price: { amount: "7.10" }, base: { amount: "1", unit: "lb" } }, item: { sellersId: "180", lot: "L4711", bestBefore: "2026-12-09" } });
    expect(file.invoice.lines[1]).toMatchObject({ quantity: { amount: "1", code: "XCS", unit: null }, price: { base: null } });
  });

  test("a credit note names what it takes back", () => {
    const file = read("credit-note.xml");
    expect(file.kind === "ubl-invoice" && file.invoice).toMatchObject({ kind: "credit", number: "CN-9", refersTo: "VM-20417", seller: "Valley Meats Inc.", lines: [{ quantity: { amount: "1.625", unit: "lb" }, amount: { amount: "11.54" } }] });
  });
});

test.each([
  ["libreoffice.xls", "old Office kind"],
  ["libreoffice.ods", "OpenDocument spreadsheet"],
])("%s is told for what it is", (name, says) => {
  const file = readFileIn(bytesOf(name), name);
  expect(!file.ok && file.problems[0]?.sentence).toContain(says);
});
