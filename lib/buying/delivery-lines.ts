/**
 * Lines of a delivery as a file or a carton tells them, before anybody has looked: which item each is, by the dealer's own
 * code or GTIN, else by its exact name; anything less is left open with what it may be. A line billed in packs is told what
 * they hold by the dealer's quote. Nothing is recorded from here: the lines fill a form.
 */
import { type Book, type Quote, namedSo, packContent } from "@/lib/book";
import { type Exact, type Quantity, type Unit, exact, kindOf, ratio } from "@/lib/measure";
import { quantityInBase } from "@/lib/yield";
import { itemIndex } from "./price-list/likeliest";
import { quoteIndex } from "./price-list/match";

export interface BilledLine {
  /** "line 3 of the invoice": where to look. */
  readonly at: string;
  readonly code: string;
  readonly gtin: string;
  readonly name: string;
  readonly packs: Exact | null;
  /** What was billed in all; null: only packs are told. */
  readonly billed: Quantity | null;
  readonly price: Exact | null;
  readonly per: "pack" | Unit | null;
  readonly amount: Exact | null;
  readonly lot: string;
  readonly useBy: string | null;
  readonly note: string;
}

export interface FilledLine extends BilledLine {
  /** null: nobody can tell which it is. */
  readonly itemId: string | null;
}

export interface Filled {
  readonly lines: readonly FilledLine[];
  /** What to look at: lines whose item is not known, or whose packs are. */
  readonly left: readonly string[];
}

/** `dealerId` null: nobody knows yet who delivers, and codes say nothing; a GTIN is looked for among all dealers. */
export function fillLines(lines: readonly BilledLine[], book: Book, dealerId: string | null): Filled {
  const left: string[] = [];
  const index = dealerId === null ? null : quoteIndex(book, dealerId);
  const byGtin = new Map([...book.shelves.quote.values()].filter(({ gtin }) => gtin !== "").map((quote) => [quote.gtin, quote]));
  const filled = lines.map((line): FilledLine => {
    const quotes: readonly Quote[] = index?.of(line) ?? [];
    const [one] = quotes;
    const said = line.name === "" ? line.code || line.gtin : line.name;
    let itemId = one !== undefined && quotes.every((quote) => quote.itemId === one.itemId) ? one.itemId : null;
    if (itemId === null && line.gtin !== "") itemId = byGtin.get(line.gtin)?.itemId ?? null;
    if (itemId === null) {
      const named = namedSo(book, line.name).filter(({ kind, id }) => kind === "item" && book.shelves.item.get(id)?.transfer === null);
      itemId = named.length === 1 ? named[0]?.id ?? null : null;
    }
    if (itemId === null) {
      const perhaps = line.name === "" ? [] : itemIndex(book).likeliest(line.name, 2).map((likely) => book.shelves.item.get(likely.itemId)?.name ?? "");
      left.push(`${capital(line.at)}, ${said === "" ? "without a name" : `“${said.slice(0, 60)}”`}: no item of the book is known by that${perhaps.length === 0 ? "" : `; perhaps ${perhaps.join(" or ")}`}. Choose it below.`);
      return { ...line, itemId };
    }
    const quote = quotes.find((each) => each.itemId === itemId) ?? index?.ofItem(itemId)[0] ?? null;
    const priced = line.price === null && quote !== null && quote.currency === null ? { price: quote.price.amount, per: quote.per } : {};
    if (line.billed !== null) return { ...line, ...priced, itemId };
    if (line.packs === null) { left.push(`${capital(line.at)}: what was billed is not told. Say it below.`); return { ...line, ...priced, itemId }; }
    if (quote === null || quote.pack.catchWeight) {
      left.push(`${capital(line.at)}: ${quote === null ? "what a pack holds is not known" : "it is catch weight, and the paper tells no weight"}. Say below what was billed in all.`);
      return { ...line, ...priced, itemId };
    }
    const content = packContent(quote.pack);
    return { ...line, ...priced, itemId, billed: { amount: ratio.toExact(ratio.mul(ratio.fromExact(content.amount), ratio.fromExact(line.packs))), unit: content.unit } };
  });
  return { lines: filled, left };
}

/** Cartons of one item are one line: so many packs, their weights together, each lot named, the earliest day to use it by. */
export function togetherByGtin(cartons: readonly BilledLine[]): readonly BilledLine[] {
  const lines: BilledLine[] = [];
  for (const carton of cartons) {
    const at = lines.findIndex((line) => line.gtin === carton.gtin && carton.gtin !== "" && (line.billed === null) === (carton.billed === null) && (line.billed === null || carton.billed === null || kindOf(line.billed.unit) === kindOf(carton.billed.unit)));
    const line = lines[at];
    if (line === undefined) { lines.push(carton); continue; }
    const packs = line.packs === null || carton.packs === null ? null : ratio.toExact(ratio.add(ratio.fromExact(line.packs), ratio.fromExact(carton.packs)));
    const lots = [...new Set([...line.lot.split(", "), carton.lot])].filter((lot) => lot !== "").join(", ");
    const days = [line.useBy, carton.useBy].filter((day) => day !== null).sort();
    lines[at] = { ...line, packs, lot: lots, useBy: days[0] ?? null, billed: line.billed === null || carton.billed === null ? null : sum(line.billed, carton.billed) };
  }
  return lines;
}

function sum(one: Quantity, other: Quantity): Quantity {
  const total = ratio.add(quantityInBase(one), quantityInBase(other));
  return { amount: ratio.toExact(ratio.div(total, quantityInBase({ amount: exact("1"), unit: one.unit }))), unit: one.unit };
}

function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}
