/**
 * What a file comes to once it is read: tables of cells as the file has them, or the papers of UBL 2.1. Nothing here is
 * understood yet as a price or an item; that is for whoever matches columns. Figures are exact text, never a JavaScript
 * number, so that an amount as wide as a file cares to write stays what it is.
 */
import type { Exact, Quantity, Unit } from "@/lib/measure";

/** A cell as the file has it. */
export interface TableCell {
  /** What it would print: "7.10", "2026-05-03", "TRUE". Trimmed of nothing; a cell of a CSV is its text. */
  readonly text: string;
  /**
   * Where the file itself says that it is a number (XLSX), rounded to the 15 significant digits that a spreadsheet
   * keeps; null for text, dates, errors and every cell of a CSV.
   */
  readonly number: Exact | null;
}

/** A sheet of a workbook, or the whole of a CSV. Rows are as long as they are written; empty rows at the end are left out. */
export interface TextTable {
  /** The sheet's name; the file's name for a CSV. */
  readonly name: string;
  readonly rows: readonly (readonly TableCell[])[];
  /** A sheet that the workbook hides. */
  readonly hidden: boolean;
}

export type Delimiter = "," | ";" | "\t" | "|";
export const DELIMITERS: readonly Delimiter[] = [",", ";", "\t", "|"];

export type Encoding = "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";
export const ENCODINGS: readonly Encoding[] = ["utf-8", "utf-16le", "utf-16be", "windows-1252"];

/** How a CSV was read, and whether the file said so itself or we guessed. */
export interface Guessed<T> {
  readonly value: T;
  /** asked: somebody chose it. told: the file says so (a byte order mark). guessed: from what stands in it. */
  readonly by: "asked" | "told" | "guessed";
}

/** An amount with the code of UN/ECE Recommendation 20 (or 21) that the file gives. */
export interface CodedQuantity {
  readonly amount: Exact;
  /** As written: "LBR", "XCS"; "" where there is none. */
  readonly code: string;
  /** The unit that the code stands for; null for a package (a case holds what it holds) and for a code not known here. */
  readonly unit: Unit | null;
}

/** An amount of money with the currency the file gives it, "" where it gives none. */
export interface CodedMoney {
  readonly amount: Exact;
  readonly currency: string;
}

/** From the first to the last day, ISO; null where the file leaves an end open. */
export interface Period {
  readonly from: string | null;
  readonly until: string | null;
}

export interface UblPrice {
  readonly price: CodedMoney;
  /** What the price is for; null: one of what is ordered. */
  readonly base: CodedQuantity | null;
  readonly valid: Period;
}

export interface UblItem {
  readonly name: string;
  readonly description: string;
  /** The dealer's own number of it, "" none. */
  readonly sellersId: string;
  /** The kitchen's own number, as the dealer has it, "" none. */
  readonly buyersId: string;
  /** As written, "" none. */
  readonly standardId: string;
  /** The standard number as a GTIN-14 where it is one and its check digit holds, else "". */
  readonly gtin: string;
  /** PackQuantity: what one pack holds of the sales unit; null where it is not told. */
  readonly packQuantity: CodedQuantity | null;
  /** PackSizeNumeric: how many such packs to one orderable unit; null where it is not told. */
  readonly packSize: Exact | null;
  /** NetWeight and the like of the item's further properties, name and value as written. */
  readonly properties: readonly { readonly name: string; readonly value: string; readonly quantity: CodedQuantity | null }[];
  readonly lot: string;
  readonly bestBefore: string | null;
}

export interface UblCatalogueLine {
  /** The line's own number in the file, "" none; `at` says where to look: "line 12 of the catalogue". */
  readonly id: string;
  readonly at: string;
  /** Add, Update or Delete as written, "" none. */
  readonly action: string;
  /** The code of what is ordered: "XCS", "KGM"; "" none. */
  readonly orderableUnit: string;
  /** How many consumer units to the orderable one, where told. */
  readonly contentUnits: CodedQuantity | null;
  readonly minimumOrder: CodedQuantity | null;
  /** "The same price told for a quantity one can compare": per kilo, for instance. */
  readonly comparison: { readonly price: CodedMoney; readonly quantity: CodedQuantity } | null;
  readonly item: UblItem;
  readonly prices: readonly UblPrice[];
  readonly valid: Period;
}

export interface UblCatalogue {
  readonly id: string;
  readonly issued: string | null;
  readonly seller: string;
  readonly receiver: string;
  readonly valid: Period;
  readonly lines: readonly UblCatalogueLine[];
  /** Lines and fields that could not be read, each in a sentence that says where. */
  readonly left: readonly string[];
}

export interface UblInvoiceLine {
  readonly id: string;
  readonly at: string;
  readonly item: UblItem;
  /** What was billed, above or below zero as written; null where it could not be read. */
  readonly quantity: CodedQuantity | null;
  /** Of the line, as printed. */
  readonly amount: CodedMoney | null;
  readonly price: { readonly price: CodedMoney; readonly base: CodedQuantity | null } | null;
  readonly note: string;
}

export interface UblInvoice {
  readonly kind: "invoice" | "credit";
  readonly number: string;
  readonly issued: string | null;
  readonly currency: string;
  readonly seller: string;
  readonly buyer: string;
  /** The invoice that a credit note takes back, "" none. */
  readonly refersTo: string;
  readonly lines: readonly UblInvoiceLine[];
  /** What is to be paid in all, as printed; null where it is not told. */
  readonly payable: CodedMoney | null;
  readonly left: readonly string[];
}

export type FileRead =
  | {
    readonly kind: "table"; readonly format: "csv" | "xlsx"; readonly tables: readonly TextTable[];
    /** Of a CSV; null for a workbook. */
    readonly delimiter: Delimiter | null;
    readonly encoding: Encoding | null;
    /** How it was read, in a sentence for people: "Read as UTF-8, columns parted by a semicolon." */
    readonly said: string;
  }
  | { readonly kind: "ubl-catalogue"; readonly catalogue: UblCatalogue }
  | { readonly kind: "ubl-invoice"; readonly invoice: UblInvoice };

export interface AskedOfFile {
  readonly delimiter?: Delimiter | undefined;
  readonly encoding?: Encoding | undefined;
}

/** What a carton's GS1 code says. */
export interface Gs1 {
  /** GTIN-14, check digit verified; "" where the code holds none. */
  readonly gtin: string;
  /** A GTIN that begins with 9: the same number for packs of differing weight. */
  readonly variableMeasure: boolean;
  /** In kg (AI 310n) or lb (AI 320n); null where it is not told. */
  readonly netWeight: Quantity | null;
  readonly lot: string;
  /** AI 11, 13, 15, 17 as ISO days. */
  readonly producedOn: string | null;
  readonly packedOn: string | null;
  readonly bestBefore: string | null;
  readonly useBy: string | null;
  readonly serial: string;
  /** AI 30 or 37: how many are inside. */
  readonly count: Exact | null;
}

/** Limits of a file that is read; a clear line says so for anything beyond. */
export const FILE_LIMITS = { bytes: 20 * 1024 * 1024, unpacked: 200 * 1024 * 1024, ratio: 200, rows: 50_000, columns: 200, cells: 2_000_000, textInCell: 32_767 } as const;
