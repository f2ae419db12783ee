/**
 * The lines of an electronic catalogue (UBL 2.1, as lib/exchange reads it) as lines of a price list, so that both take the
 * same road. Its figures are exact and its units are codes, so nothing is guessed; a line that the catalogue deletes, or
 * that has no price, says so.
 */
import { type Exact, type Problem, type Unit, ratio, toDecimal } from "@/lib/measure";
import type { ListLine } from "./line";
import type { ReadLines } from "./read-lines";
import { gtin14 } from "@/lib/book";
import { pricedPer } from "./words";

interface Coded {
  readonly amount: Exact;
  readonly code: string;
  readonly unit: Unit | null;
}

/** What of a catalogue a price list needs; lib/exchange has more. */
export interface CatalogueLines {
  readonly valid: { readonly from: string | null };
  readonly lines: readonly {
    readonly at: string;
    readonly action: string;
    readonly orderableUnit: string;
    readonly contentUnits: Coded | null;
    readonly valid: { readonly from: string | null };
    readonly item: { readonly name: string; readonly sellersId: string; readonly gtin: string; readonly packQuantity: Coded | null; readonly packSize: Exact | null; readonly properties: readonly { readonly name: string; readonly quantity: Coded | null }[] };
    readonly prices: readonly { readonly price: { readonly amount: Exact; readonly currency: string }; readonly base: Coded | null; readonly valid: { readonly from: string | null } }[];
  }[];
}

export function linesOfCatalogue(catalogue: CatalogueLines): ReadLines {
  const lines = catalogue.lines.map((line, index): ListLine => {
    const price = line.prices[0];
    const problems: Problem[] = [];
    const tell = (code: string, sentence: string): void => { problems.push({ path: "price", code, sentence }); };
    const one = price === undefined ? null : priceOfOne(price.price.amount, price.base);
    if (/^delete$/i.test(line.action)) tell("taken-off", "The dealer’s catalogue takes this line off: the price on file stays until another is told.");
    else if (price === undefined || one === null) tell("no-price", "There is no price in this line: ask the dealer for it, or leave the line out.");
    else if (ratio.sign(ratio.fromExact(one)) <= 0) tell("zero", "A price is above zero: ask the dealer whether the line is sold out.");
    const unit = price?.base?.unit ?? null;
    return {
      row: index + 1, code: line.item.sellersId.slice(0, 60), gtin: gtin14(line.item.gtin) ?? "", name: line.item.name.slice(0, 200), pack: packOf(line),
      price: problems.length > 0 ? null : one, priceText: price === undefined ? "" : toDecimal(price.price.amount).toFixed(),
      per: unit ?? pricedPer(price?.base?.code ?? "") ?? pricedPer(line.orderableUnit),
      currency: price === undefined || price.price.currency === "" ? null : price.price.currency,
      from: price?.valid.from ?? line.valid.from, problems,
    };
  });
  return { lines, passedOver: 0, from: catalogue.valid.from ?? lines.find(({ from }) => from !== null)?.from ?? null };
}

/** "12.40 for 2 kg" is 6.20 a kilo. */
function priceOfOne(amount: Exact, base: Coded | null): Exact | null {
  if (base === null) return amount;
  const of = ratio.fromExact(base.amount);
  return ratio.sign(of) <= 0 ? null : ratio.toExact(ratio.div(ratio.fromExact(amount), of));
}

/** "6/102 oz", from packs to the orderable unit and what one holds; else the net weight, else what it contains. */
function packOf({ item, contentUnits }: CatalogueLines["lines"][number]): string {
  const told = (quantity: Coded | null): string => (quantity === null || quantity.unit === null || ratio.sign(ratio.fromExact(quantity.amount)) <= 0 ? "" : `${toDecimal(quantity.amount).toFixed()} ${quantity.unit}`);
  const size = told(item.packQuantity) || told(item.properties.find(({ name, quantity }) => /net ?weight|content|nettogewicht/i.test(name) && quantity !== null)?.quantity ?? null) || told(contentUnits);
  if (size === "") return "";
  return item.packSize === null || ratio.compare(ratio.fromExact(item.packSize), ratio.ONE) <= 0 ? size : `${toDecimal(item.packSize).toFixed()} x ${size}`;
}
