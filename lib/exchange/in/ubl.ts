/**
 * UBL 2.1 (ISO/IEC 19845): a Catalogue, an Invoice or a CreditNote, as Peppol's profiles use them. Elements are found by their
 * namespace, whatever prefix the sender chose. What a line leaves out is left open; what it says and cannot be read is named.
 */
import { gtin14 } from "@/lib/book";
import { type Checked, bad, good, quoted } from "@/lib/measure";
import type { CodedQuantity, FileRead, UblCatalogue, UblCatalogueLine, UblInvoice, UblInvoiceLine, UblItem, UblPrice } from "./read-shapes";
import { refusedXml } from "./read-xml";
import { type UblElement, type UblReading, child, children, readUblTree, textAt } from "./ubl-tree";

const DOCUMENT = /^urn:oasis:names:specification:ubl:schema:xsd:(Catalogue|Invoice|CreditNote)-2$/;
const MOST_LINES = 50_000;

/** Codes: not-ubl, broken-xml, doctype, too-many-rows, empty. */
export function readUbl(text: string): Checked<FileRead> {
  try {
    const { root, reading } = readUblTree(text);
    const kind = DOCUMENT.exec(root.uri)?.[1];
    if (kind === undefined || kind !== root.local) {
      return bad("", "not-ubl", `This is XML of another kind (its first element is ${quoted(root.local)}): a UBL 2.1 Catalogue, Invoice or CreditNote is read, or the list as .xlsx or CSV.`);
    }
    const lines = children(root, kind === "Catalogue" ? "CatalogueLine" : kind === "Invoice" ? "InvoiceLine" : "CreditNoteLine");
    if (lines.length > MOST_LINES) return bad("", "too-many-rows", `The file has more than ${MOST_LINES.toLocaleString("en-US")} lines: ask the dealer for it in parts.`);
    if (lines.length === 0) return bad("", "empty", `The ${kind.toLowerCase()} has no lines.`);
    return good(kind === "Catalogue"
      ? { kind: "ubl-catalogue", catalogue: catalogueOf(root, lines, reading) }
      : { kind: "ubl-invoice", invoice: invoiceOf(root, lines, reading, kind === "Invoice" ? "invoice" : "credit") });
  } catch (error) {
    return refusedXml(error);
  }
}

function catalogueOf(root: UblElement, lines: readonly UblElement[], reading: UblReading): UblCatalogue {
  return {
    id: textAt(root, "ID"),
    issued: reading.day(root, "IssueDate", "the catalogue"),
    seller: partyName(child(child(root, "SellerSupplierParty"), "Party") ?? child(root, "ProviderParty")),
    receiver: partyName(child(child(root, "ContractorCustomerParty"), "Party") ?? child(root, "ReceiverParty")),
    valid: reading.period(child(root, "ValidityPeriod"), "the catalogue"),
    lines: lines.map((line, n) => catalogueLine(line, n, reading)),
    left: reading.left,
  };
}

function catalogueLine(line: UblElement, n: number, reading: UblReading): UblCatalogueLine {
  const at = where(line, n, "catalogue");
  const comparison = child(line, "ItemComparison");
  const price = reading.money(comparison, "PriceAmount", at);
  const quantity = reading.quantity(comparison, "Quantity", at);
  return {
    id: textAt(line, "ID"), at, action: textAt(line, "ActionCode"), orderableUnit: textAt(line, "OrderableUnit"),
    contentUnits: reading.quantity(line, "ContentUnitQuantity", at), minimumOrder: reading.quantity(line, "MinimumOrderQuantity", at),
    comparison: price === null || quantity === null ? null : { price, quantity },
    item: itemOf(child(line, "Item"), at, reading),
    prices: children(line, "RequiredItemLocationQuantity").flatMap((place) => children(place, "Price")).flatMap((one): UblPrice[] => {
      const asked = reading.money(one, "PriceAmount", at);
      return asked === null ? [] : [{ price: asked, base: reading.quantity(one, "BaseQuantity", at), valid: reading.period(child(one, "ValidityPeriod"), at) }];
    }),
    valid: reading.period(child(line, "LineValidityPeriod"), at),
  };
}

function invoiceOf(root: UblElement, lines: readonly UblElement[], reading: UblReading, kind: UblInvoice["kind"]): UblInvoice {
  const what = kind === "invoice" ? "the invoice" : "the credit note";
  return {
    kind, number: textAt(root, "ID"), issued: reading.day(root, "IssueDate", what), currency: textAt(root, "DocumentCurrencyCode"),
    seller: partyName(child(child(root, "AccountingSupplierParty"), "Party")), buyer: partyName(child(child(root, "AccountingCustomerParty"), "Party")),
    refersTo: textAt(child(child(root, "BillingReference"), "InvoiceDocumentReference"), "ID"),
    lines: lines.map((line, n): UblInvoiceLine => {
      const at = where(line, n, kind === "invoice" ? "invoice" : "credit note");
      const price = child(line, "Price");
      const asked = reading.money(price, "PriceAmount", at);
      return {
        id: textAt(line, "ID"), at, item: itemOf(child(line, "Item"), at, reading),
        quantity: reading.quantity(line, kind === "invoice" ? "InvoicedQuantity" : "CreditedQuantity", at),
        amount: reading.money(line, "LineExtensionAmount", at),
        price: asked === null ? null : { price: asked, base: reading.quantity(price, "BaseQuantity", at) },
        note: textAt(line, "Note"),
      };
    }),
    payable: reading.money(child(root, "LegalMonetaryTotal"), "PayableAmount", what),
    left: reading.left,
  };
}

function where(line: UblElement, n: number, what: string): string {
  const id = textAt(line, "ID");
  return `line ${n + 1} of the ${what}${id === "" || id === String(n + 1) ? "" : ` (${id.slice(0, 20)})`}`;
}

/** The name it trades under, else the one it is registered under. */
function partyName(party: UblElement | null): string {
  return textAt(child(party, "PartyName"), "Name") || textAt(child(party, "PartyLegalEntity"), "RegistrationName");
}

function itemOf(item: UblElement | null, at: string, reading: UblReading): UblItem {
  const standardId = textAt(child(item, "StandardItemIdentification"), "ID");
  const instance = child(item, "ItemInstance");
  return {
    name: textAt(item, "Name"), description: textAt(item, "Description"),
    sellersId: textAt(child(item, "SellersItemIdentification"), "ID"), buyersId: textAt(child(item, "BuyersItemIdentification"), "ID"),
    standardId, gtin: gtin14(standardId) ?? "",
    packQuantity: reading.quantity(item, "PackQuantity", at), packSize: reading.figure(child(item, "PackSizeNumeric"), at),
    properties: children(item, "AdditionalItemProperty").slice(0, 200).map((property) => ({ name: textAt(property, "Name"), value: textAt(property, "Value"), quantity: propertyQuantity(property, at, reading) })),
    lot: textAt(child(instance, "LotIdentification"), "LotNumberID"),
    bestBefore: reading.day(instance, "BestBeforeDate", at),
  };
}

function propertyQuantity(property: UblElement, at: string, reading: UblReading): CodedQuantity | null {
  return reading.quantity(property, "ValueQuantity", at);
}
