/** GS1 element strings, from the General Specifications’ own rules: fixed lengths, check digits, days, the century. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readGs1 } from "@/lib/exchange";
import { gtin14, gtinCheckDigit } from "@/lib/book";
import { gs1Day } from "@/lib/exchange/in/gs1";

const TODAY = "2026-11-26";
const GTIN = "90614141000015";
const GS = "\u001d";

function read(scan: string) {
  const code = readGs1(scan, TODAY);
  if (!code.ok) throw new Error(code.problems[0]?.sentence);
  return code.value;
}
const refused = (scan: string): string | undefined => { const code = readGs1(scan, TODAY); return code.ok ? undefined : code.problems[0]?.code; };

test("the check digit of the GTINs that GS1 prints as examples", () => {
  // GS1 General Specifications, figure 7.9.1: 629104150021 is followed by 3; the UPC of the standard's title page by 2.
  expect(gtinCheckDigit("629104150021")).toBe(3);
  expect(gtin14("6291041500213")).toBe("06291041500213");
  expect(gtin14("614141000036")).toBe("00614141000036");
  expect(gtin14("614141000037")).toBeNull();
});

describe("a carton of catch weight", () => {
  const wanted = { gtin: GTIN, variableMeasure: true, netWeight: { amount: "15.80", unit: "lb" }, lot: "A1/77", packedOn: "2026-11-20", useBy: "2026-12-09", bestBefore: null, producedOn: null, serial: "0042", count: null };
  test.each([
    ["with brackets", `(01)${GTIN}(3202)001580(13)261120(17)261209(10)A1/77(21)0042`],
    ["raw, GS after what has no fixed length", `01${GTIN}3202001580132611201726120910A1/77${GS}210042`],
    ["with the scanner's prefix", `]C101${GTIN}3202001580132611201726120910A1/77${GS}210042`],
    ["GS as some scanners spell it", `01${GTIN}3202001580132611201726120910A1/77<GS>210042`],
    ["an identifier we have no use for in between", `01${GTIN}3202001580240XYZ${GS}132611201726120910A1/77${GS}210042`],
  ])("%s", (_, scan) => { expect(read(scan)).toEqual(wanted); });
});

test("kilos, counts and a pallet's contents", () => {
  expect(read(`(01)${GTIN}(3103)012345`).netWeight).toEqual({ amount: "12.345", unit: "kg" });
  expect(read(`(01)${GTIN}(3100)000012`).netWeight).toEqual({ amount: "12", unit: "kg" });
  expect(read(`(01)${GTIN}(3105)000012`).netWeight).toEqual({ amount: "0.00012", unit: "kg" });
  expect(read("(02)00614141000036(37)48")).toMatchObject({ gtin: "00614141000036", variableMeasure: false, count: "48" });
  expect(read("(10)ab(c)1(30)6")).toMatchObject({ gtin: "", lot: "ab(c)1", count: "6" });
  expect(read("6291041500213").gtin).toBe("06291041500213");
});

test("days: 00 is the last of the month, and two digits are read within 50 years", () => {
  expect(gs1Day("280200", TODAY)).toBe("2028-02-29");
  expect(gs1Day("270200", TODAY)).toBe("2027-02-28");
  expect(gs1Day("261131", TODAY)).toBeNull();
  expect(gs1Day("261301", TODAY)).toBeNull();
  expect(gs1Day("760101", TODAY)).toBe("2076-01-01");
  expect(gs1Day("770101", TODAY)).toBe("1977-01-01");
  expect(gs1Day("490101", "2099-06-01")).toBe("2149-01-01");
  expect(gs1Day("500101", "2099-06-01")).toBe("2050-01-01");
});

test.each([
  ["", "missing"], ["hello", "not-gs1"], ["(01)90614141000016", "check-digit"], ["(01)123", "check-digit"], [`01${GTIN}3202`, "not-gs1"], ["(3202)12a456", "not-gs1"],
  [`(01)${GTIN}(10)123456789012345678901`, "no-separator"], ["(17)261399", "not-a-day"], ["(10)a(10)b", "twice"], ["x".repeat(500), "too-long"], ["(30)123456789", "not-gs1"], ["6291041500214", "not-gs1"],
])("%s is refused: %s", (scan, code) => { expect(refused(scan)).toBe(code); });

test("what is written is read back, in either form; nothing throws", () => {
  const digits = (n: number) => fc.array(fc.integer({ min: 0, max: 9 }), { minLength: n, maxLength: n }).map((list) => list.join(""));
  const lot = fc.array(fc.constantFrom(..."ABCxyz0189-./+"), { minLength: 1, maxLength: 20 }).map((list) => list.join(""));
  fc.assert(fc.property(digits(13), digits(6), fc.integer({ min: 0, max: 5 }), lot, lot, (item, weight, places, one, serial) => {
    const gtin = `${item}${gtinCheckDigit(item)}`;
    const bracketed = read(`(10)${one}(01)${gtin}(320${places})${weight}(21)${serial}`);
    expect(bracketed).toEqual(read(`10${one}${GS}01${gtin}320${places}${weight}21${serial}`));
    expect([bracketed.gtin, bracketed.lot, bracketed.serial]).toEqual([gtin, one, serial]);
    expect(Number(bracketed.netWeight?.amount)).toBeCloseTo(Number(weight) / 10 ** places, 9);
  }), { numRuns: 200 });
  fc.assert(fc.property(fc.oneof(fc.string({ unit: "binary", maxLength: 60 }), fc.array(fc.constantFrom("(01)", "01", "(10)", GS, "3202", "9", "A", ")"), { maxLength: 30 }).map((list) => list.join(""))), (scan) => { readGs1(scan, TODAY); }), { numRuns: 500 });
});
