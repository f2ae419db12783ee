/**
 * From what is needed to what is ordered: whole packs of the quote that an item is costed by, counted up, never down. What is
 * bought beyond the need is told, and what it costs; whether it keeps is for the kitchen to judge. Prices are what the
 * dealer asks and bills, so freight and rebates that come on top are not in them. A catch weight is billed by what it weighs,
 * so there the packs are whole and the money an estimate.
 */
import { type Book, type Item, type Quote, costingQuote, crossKinds, exchangeRate, packContent } from "@/lib/book";
import { type Ratio, kindOf, ratio } from "@/lib/measure";
import { quantityInBase } from "@/lib/yield";
import type { ItemNeed } from "./order-needs";

/** Why an item cannot be told in packs: nobody asks a price for it, or nothing turns a pack into what it is needed in. */
export type NoPacks = "price" | "density" | "each-weight";

export interface Packs {
  readonly quote: Quote;
  /** What one pack holds, base units of the item; an estimate where it is a catch weight. */
  readonly content: Ratio;
  readonly packs: bigint;
  /** packs × content. */
  readonly bought: Ratio;
  /** What is bought beyond the need. */
  readonly over: Ratio;
  /** Money a pack as asked, in the kitchen's; null while nobody has said what the dealer's money is worth. */
  readonly price: Ratio | null;
  readonly cost: Ratio | null;
  readonly overCost: Ratio | null;
  readonly estimate: boolean;
  /** Pieces in a pack, where it is bought by the piece, since portions are counted out of pieces; null: by weight, volume or count. */
  readonly pieces: Ratio | null;
}

export interface OrderedItem {
  readonly need: ItemNeed;
  /** What is not in the house, as purchased, base units. */
  readonly toBuy: Ratio;
  readonly packs: Packs | NoPacks;
}

export function orderedItem(book: Book, need: ItemNeed): OrderedItem {
  const toBuy = ratio.sub(need.needed, need.onHand);
  const item = book.shelves.item.get(need.itemId);
  const quote = costingQuote(book, need.itemId);
  return { need, toBuy, packs: item === undefined || quote === null ? "price" : packsOf(book, item, quote, need, toBuy) };
}

function packsOf(book: Book, item: Item, quote: Quote, need: ItemNeed, toBuy: Ratio): Packs | NoPacks {
  const pack = packContent(quote.pack);
  const content = crossKinds(item, pack, need.kind);
  if (typeof content === "string") return content;
  if (ratio.sign(content) <= 0) return "price";
  const each = need.pieces === 0n || need.piece === null ? null : piecesInPack(quote, content, need.piece);
  const wanted = ratio.sign(toBuy) <= 0 ? ratio.ZERO : each === null || need.piece === null ? ratio.div(toBuy, content) : ratio.div(piecesWanted(need, need.piece, ratio.div(content, each)), each);
  const packs = ratio.ceil(wanted);
  const over = ratio.mul(ratio.sub(ratio.of(packs), wanted), content);
  const price = packPrice(book, item, quote);
  return {
    quote, content, packs, bought: ratio.mul(ratio.of(packs), content), over, price, cost: price === null ? null : ratio.mul(price, ratio.of(packs)),
    overCost: price === null ? null : ratio.mul(ratio.div(over, content), price), estimate: quote.pack.catchWeight, pieces: each,
  };
}

/**
 * How many pieces are wanted, where portions are counted out of them: those, and what else is needed by weight told in pieces of
 * the dealer's weight. What is in the house saves whole pieces first, and with what is left over of it weight.
 */
function piecesWanted(need: ItemNeed, piece: Ratio, dealers: Ratio): Ratio {
  const inHouse = ratio.floor(ratio.div(need.onHand, piece));
  const saved = inHouse < need.pieces ? inHouse : need.pieces;
  const loose = ratio.sub(need.onHand, ratio.mul(ratio.of(saved), piece));
  const byWeight = ratio.sub(ratio.sub(need.needed, need.inPieces), loose);
  return ratio.add(ratio.of(need.pieces - saved), ratio.sign(byWeight) > 0 ? ratio.div(byWeight, dealers) : ratio.ZERO);
}

/** A dealer's pieces may weigh so much more or less than those that were tested and still be the same pieces. */
const SAME_PIECE = ratio.of(1n, 5n);
const HALF = ratio.of(1n, 2n);

/**
 * How many pieces a catch-weight pack holds, by what a tested piece weighs: a case of about 60 lb holds five of 12 lb. null where
 * it is not a catch weight, or its weight is not that of whole pieces: then it is bought by weight.
 */
function piecesInPack({ pack }: Quote, content: Ratio, piece: Ratio): Ratio | null {
  if (!pack.catchWeight) return null;
  const containers = pack.levels.reduce((total, level) => ratio.mul(total, ratio.fromExact(level.count)), ratio.ONE);
  const inEach = ratio.of(ratio.floor(ratio.add(ratio.div(ratio.div(content, containers), piece), HALF)));
  if (ratio.sign(inEach) === 0) return null;
  const pieces = ratio.mul(containers, inEach);
  const off = ratio.sub(ratio.div(content, ratio.mul(pieces, piece)), ratio.ONE);
  return ratio.compare(ratio.sign(off) < 0 ? ratio.neg(off) : off, SAME_PIECE) > 0 ? null : pieces;
}

/** What a pack costs as asked, in the kitchen's money; null where what it is asked in has no known worth, or is told in a measure that the pack is not. */
function packPrice(book: Book, item: Item, quote: Quote): Ratio | null {
  const exchange = exchangeRate(book, quote);
  if (exchange === null) return null;
  const asked = ratio.mul(ratio.fromExact(quote.price.amount), exchange);
  if (quote.per === "pack") return asked;
  const content = crossKinds(item, packContent(quote.pack), kindOf(quote.per));
  return typeof content === "string" ? null : ratio.mul(asked, ratio.div(content, quantityInBase({ amount: ONE, unit: quote.per })));
}

const ONE = ratio.toExact(ratio.ONE);
