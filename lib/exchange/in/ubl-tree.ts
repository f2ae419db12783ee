/**
 * The elements of a UBL paper as a small tree: those of the common namespaces, without extensions, signatures and embedded
 * pictures. Figures are read as the text of a decimal (XML Schema), so that none is too wide.
 */
import { type Exact, isExact, quoted } from "@/lib/measure";
import { isDay } from "@/lib/book";
import type { CodedMoney, CodedQuantity, Period } from "./read-shapes";
import { XmlRefused, namedXml } from "./read-xml";
import { codedQuantity, packageOfCode, unitOfCode } from "./unece";

export interface UblElement {
  readonly uri: string;
  readonly local: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: UblElement[];
  text: string;
}

const COMMON = /^urn:oasis:names:specification:ubl:schema:xsd:Common(?:Aggregate|Basic)Components-2$/;
const MOST_ELEMENTS = 1_500_000;
const LONGEST_TEXT = 2_000;
const MOST_LEFT = 200;

/** Throws XmlRefused. */
export function readUblTree(text: string): { readonly root: UblElement; readonly reading: UblReading } {
  const open: UblElement[] = [];
  let root: UblElement | null = null;
  let skipped = 0;
  let many = 0;
  const xml = namedXml({
    open: (name, attributes) => {
      const end = name.indexOf("}");
      const element: UblElement = { uri: name.slice(1, end), local: name.slice(end + 1), attributes, children: [], text: "" };
      if (skipped > 0 || (root !== null && (!COMMON.test(element.uri) || element.local === "EmbeddedDocumentBinaryObject"))) { skipped += 1; return; }
      many += 1;
      if (many > MOST_ELEMENTS) throw new XmlRefused("too-many-rows", "The file holds more than a price list or an invoice does: ask the dealer for it in parts.");
      open.at(-1)?.children.push(element);
      root ??= element;
      open.push(element);
    },
    text: (piece) => {
      const element = open.at(-1);
      if (skipped === 0 && element !== undefined && element.text.length < LONGEST_TEXT) element.text += piece.slice(0, LONGEST_TEXT);
    },
    close: () => {
      if (skipped > 0) skipped -= 1;
      else open.pop();
    },
  });
  xml.write(text.startsWith("\ufeff") ? text.slice(1) : text.trimStart());
  xml.end();
  if (root === null) throw new XmlRefused("broken-xml", "The XML holds no element.");
  return { root, reading: new UblReading() };
}

export function child(of: UblElement | null, local: string): UblElement | null {
  return of?.children.find((element) => element.local === local) ?? null;
}

export function children(of: UblElement | null, local: string): readonly UblElement[] {
  return of?.children.filter((element) => element.local === local) ?? [];
}

/** The text of a child, one line; "" where there is none. */
export function textAt(of: UblElement | null, local: string): string {
  return (child(of, local)?.text ?? "").replace(/[\u007f-\u009f]/g, "").replace(/\s+/g, " ").trim().slice(0, 500);
}

/** Reads values, and keeps a sentence for each that is written and cannot be read. */
export class UblReading {
  readonly left: string[] = [];

  leave(sentence: string): void {
    if (this.left.length < MOST_LEFT) this.left.push(sentence);
    else if (this.left.length === MOST_LEFT) this.left.push("More could not be read; only the first are named.");
  }

  figure(element: UblElement | null, at: string): Exact | null {
    if (element === null) return null;
    const read = decimalText(element.text);
    if (read === null) this.leave(`${element.local} in ${at} is ${quoted(element.text)}, which is no decimal figure.`);
    return read;
  }

  money(of: UblElement | null, local: string, at: string): CodedMoney | null {
    const element = child(of, local);
    const amount = this.figure(element, at);
    return amount === null ? null : { amount, currency: (element?.attributes["currencyID"] ?? "").trim().toUpperCase().slice(0, 3) };
  }

  quantity(of: UblElement | null, local: string, at: string): CodedQuantity | null {
    const element = child(of, local);
    const amount = this.figure(element, at);
    if (amount === null) return null;
    const code = (element?.attributes["unitCode"] ?? "").trim().slice(0, 10);
    if (code !== "" && unitOfCode(code) === null && packageOfCode(code) === null) this.leave(`${local} in ${at} has the unit code ${quoted(code)}, which is not known here.`);
    return codedQuantity(amount, code);
  }

  day(of: UblElement | null, local: string, at: string): string | null {
    const element = child(of, local);
    if (element === null) return null;
    const day = element.text.trim().slice(0, 10);
    if (isDay(day)) return day;
    this.leave(`${local} in ${at} is ${quoted(element.text)}, which is no day.`);
    return null;
  }

  period(of: UblElement | null, at: string): Period {
    return { from: this.day(of, "StartDate", at), until: this.day(of, "EndDate", at) };
  }
}

/** xsd:decimal as exact text; null where it is none, or longer than anything a figure is. */
export function decimalText(written: string): Exact | null {
  const match = /^([+-]?)0*(\d*)(?:\.(\d*))?$/.exec(written.trim());
  if (match === null || !/\d/.test(written)) return null;
  const [whole, decimals] = [match[2] === "" ? "0" : match[2] ?? "0", match[3] ?? ""];
  const digits = decimals === "" ? whole : `${whole}.${decimals}`;
  const text = match[1] === "-" && /[1-9]/.test(digits) ? `-${digits}` : digits;
  return isExact(text) ? text : null;
}
