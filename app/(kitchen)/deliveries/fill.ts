/** A dealer's file, or the codes of cartons, as lines of the form. Nothing is kept: the file is read and forgotten. */
import { type Book, type FactOf, foldWords, namedSo } from "@/lib/book";
import { type BilledLine, billedInTable, fillLines, togetherByGtin } from "@/lib/buying";
import { type UblInvoice, type UblInvoiceLine, readFileIn, readGs1 } from "@/lib/exchange";
import { type Checked, type Problem, exact, good, ratio } from "@/lib/measure";
import type { Values } from "@/components/form";
import { filledValues } from "./line-values";

type Kitchen = FactOf["kitchen"];

export interface FilledForm {
  readonly values: Values;
  readonly rows: readonly Values[];
  readonly told: string;
  readonly left: readonly string[];
}

interface Told {
  readonly lines: readonly BilledLine[];
  readonly values: Values;
  readonly said: string;
  readonly left: readonly string[];
}

const MOST_LINES = 300;
const MOST_CARTONS = 200;

export function fillFrom(file: { readonly name: string; readonly bytes: Uint8Array } | null, cartons: string, dealerId: string, book: Book, kitchen: Kitchen, today: string): Checked<FilledForm> {
  const ofFile: Checked<Told> | null = file === null ? null : toldByFile(file, book, kitchen);
  const ofCartons = cartons.trim() === "" ? null : toldByCartons(cartons, today);
  const problems = [ofFile, ofCartons].flatMap((told) => (told === null || told.ok ? [] : told.problems));
  if (problems.length > 0) return { ok: false, problems };
  const told = [ofFile, ofCartons].flatMap((one) => (one?.ok === true ? [one.value] : []));
  if (told.length === 0) return { ok: false, problems: [{ path: "file", code: "missing", sentence: "Choose the dealer’s file, or scan the codes of the cartons." }] };
  const values = Object.assign({}, ...told.map((one) => one.values), dealerId === "" ? {} : { dealerId }) as Values;
  const filled = fillLines(told.flatMap(({ lines }) => lines).slice(0, MOST_LINES), book, values["dealerId"] ?? null);
  return good({ values, rows: filled.lines.map((line) => filledValues(book, line, kitchen)), told: told.map(({ said }) => said).join(" "), left: [...told.flatMap(({ left }) => left), ...filled.left].slice(0, 60) });
}

function toldByFile(file: { readonly name: string; readonly bytes: Uint8Array }, book: Book, kitchen: Kitchen): Checked<Told> {
  const atFile = (problems: readonly Problem[]): { readonly ok: false; readonly problems: readonly Problem[] } => ({ ok: false, problems: problems.map((problem) => ({ ...problem, path: "file" })) });
  const read = readFileIn(file.bytes, file.name);
  if (!read.ok) return atFile(read.problems);
  switch (read.value.kind) {
    case "ubl-catalogue": return atFile([{ path: "", code: "a-catalogue", sentence: "This is a catalogue of prices, not an invoice: read it as a price list." }]);
    case "ubl-invoice": {
      const { invoice } = read.value;
      if (invoice.currency !== "" && invoice.currency !== kitchen.currency) return atFile([{ path: "", code: "other-money", sentence: `The invoice is in ${invoice.currency} and the kitchen pays in ${kitchen.currency}: type its lines in the kitchen’s money.` }]);
      return good(toldByInvoice(invoice, book));
    }
    case "table": {
      const billed = billedInTable(read.value.tables.filter(({ hidden }) => !hidden), kitchen);
      return billed.ok ? good({ lines: billed.value.lines, values: {}, said: `${read.value.said} ${count(billed.value.lines.length)}.`, left: billed.value.left }) : atFile(billed.problems);
    }
  }
}

const count = (lines: number): string => (lines === 1 ? "One line was read" : `${lines} lines were read`);

function toldByInvoice(invoice: UblInvoice, book: Book): Told {
  const dealer = [...book.shelves.dealer.values()].find(({ name }) => foldWords(name) === foldWords(invoice.seller));
  return {
    lines: invoice.lines.map((line) => billedLine(line, book)),
    values: { kind: invoice.kind, number: invoice.number, ...(invoice.issued === null ? {} : { on: invoice.issued }), ...(dealer === undefined ? {} : { dealerId: dealer.id }), note: invoice.refersTo === "" ? "" : `Of invoice ${invoice.refersTo}` },
    said: `${invoice.kind === "credit" ? "Credit note" : "Invoice"} ${invoice.number} of ${invoice.seller || "a dealer without a name"}: ${count(invoice.lines.length).toLowerCase()}.`,
    left: [...(dealer === undefined && invoice.seller !== "" ? [`No dealer is called ${invoice.seller} in the book: choose which it is, then fill in again so that its codes are known.`] : []), ...invoice.left],
  };
}

/** A quantity by weight, volume or count is what was billed; one by the case is so many packs. */
function billedLine(line: UblInvoiceLine, book: Book): BilledLine {
  const { quantity, price } = line;
  const byPack = quantity === null || quantity.unit === null || countedOfWeighed(line, book);
  const base = price?.base ?? null;
  const per = base?.unit ?? (base === null && !byPack ? quantity.unit ?? "pack" : "pack");
  // A price for 100 g is a hundredth of it for one.
  const one = price === null ? null : ratio.toExact(ratio.div(ratio.fromExact(price.price.amount), base === null || ratio.sign(ratio.fromExact(base.amount)) <= 0 ? ratio.ONE : ratio.fromExact(base.amount)));
  return {
    at: line.at, code: line.item.sellersId, gtin: line.item.gtin, name: line.item.name, packs: byPack ? quantity?.amount ?? null : null,
    billed: byPack || quantity.unit === null ? null : { amount: quantity.amount, unit: quantity.unit },
    price: price !== null && base?.amount === "1" ? price.price.amount : one, per, amount: line.amount?.amount ?? null, lot: line.item.lot, useBy: line.item.bestBefore, note: line.note,
  };
}

/** "2 each" of what the kitchen buys by weight are two packs. */
function countedOfWeighed(line: UblInvoiceLine, book: Book): boolean {
  if (line.quantity?.unit !== "each") return false;
  const item = namedSo(book, line.item.name).find(({ kind }) => kind === "item");
  return item !== undefined && book.shelves.item.get(item.id)?.kind !== "count";
}

function toldByCartons(text: string, today: string): Checked<Told> {
  const codes = text.split(/\r?\n/).map((code) => code.trim()).filter((code) => code !== "");
  if (codes.length > MOST_CARTONS) return { ok: false, problems: [{ path: "cartons", code: "too-many", sentence: `At most ${MOST_CARTONS} cartons at once; these are ${codes.length}.` }] };
  const problems: Problem[] = [];
  const lines = codes.flatMap((code, index): BilledLine[] => {
    const read = readGs1(code, today);
    if (!read.ok) { problems.push(...read.problems.map((problem) => ({ ...problem, path: "cartons", sentence: `Carton ${index + 1}: ${problem.sentence}` }))); return []; }
    const { gtin, netWeight, lot, useBy, bestBefore } = read.value;
    return [{ at: `carton ${index + 1}`, code: "", gtin, name: "", packs: exact("1"), billed: netWeight, price: null, per: null, amount: null, lot, useBy: useBy ?? bestBefore, note: "" }];
  });
  if (problems.length > 0) return { ok: false, problems };
  return good({ lines: togetherByGtin(lines), values: {}, said: `${codes.length === 1 ? "One carton was read" : `${codes.length} cartons were read`}.`, left: [] });
}

