/**
 * A plate at the table and taken away. Packaging goes with what leaves the house, a garnish perhaps only to the table:
 * each way, the plate costs the lines that go that way, with the dish's allowances on them,
 * c = (Σ lines·(1 + Σ on-cost) + Σ money)/(1 − Σ of-whole), and is held against the one menu price and target. Worked out
 * from the exact fractions, so the table's is the cascade's plate cost to every digit that it carries.
 */
import { type Book, type Channel, type Dish, type DishLine, allowanceFactors, lineInBase } from "@/lib/book";
import { type BorrowedCut, type Cascade, type Missing, type NodeCost, type NodeRef, costExactly, costOf } from "@/lib/cascade";
import { type Decimal, type Ratio, ratio } from "@/lib/measure";
import { termsOfSale } from "./figures";
import { contributionMargin, foodCostRatio, netPriceExactly } from "./price";
import { type DishState, dishState } from "./state";

export type Way = Exclude<Channel, "any">;

/** A dish as it leaves the house one way. */
export interface ChannelFigures {
  readonly way: Way;
  /** Money a plate; a lower bound when something is missing. */
  readonly plateCost: NodeCost;
  /** Plate cost over net price, a ratio; null when unpriced. A lower bound when the plate cost is. */
  readonly foodCost: Decimal | null;
  /** Net price less plate cost, money a plate; null when unpriced. An upper bound when the plate cost is a lower one. */
  readonly contribution: Decimal | null;
  readonly state: DishState;
}

/** Whether any line of a dish goes only one way; without one it costs the same both ways. */
export function differsByChannel(dish: Dish): boolean {
  return dish.lines.some((line) => line.channel !== "any");
}

/** The lines of a dish that go with it this way, in its order. */
export function linesGoing(dish: Dish, way: Way): readonly DishLine[] {
  return dish.lines.filter((line) => line.channel === "any" || line.channel === way);
}

/** A dish's figures at the table and taken away; null when the book has no such dish. */
export function byChannel(cascade: Cascade, dishId: string): Readonly<Record<Way, ChannelFigures>> | null {
  const dish = cascade.book.shelves.dish.get(dishId);
  return dish === undefined ? null : { table: figuresGoing(cascade, dish, "table"), away: figuresGoing(cascade, dish, "away") };
}

/** One line of a plate and what it adds; for the lines that the plate at the table does not have. */
export interface LineCost {
  readonly line: DishLine;
  readonly name: string;
  /** Money; a lower bound when something is missing, null when nothing of it is known. */
  readonly amount: Decimal | null;
  readonly missing: readonly Missing[];
}

/** What goes only with a plate that is taken away, largest first, unknown ones last. */
export function onlyAway(cascade: Cascade, dish: Dish): readonly LineCost[] {
  return dish.lines.filter((line) => line.channel === "away").map((line): LineCost => {
    const cost = costOf(cascade, line.of);
    const inSource = lineInBase(cascade.book, line);
    const missing = [...lacks(cascade.book, line), ...(cost?.missing ?? [])];
    const known = cost !== null && inSource.ok && !(cost.missing.length > 0 && cost.amount.isZero());
    return { line, name: cascade.book.shelves[line.of.kind].get(line.of.id)?.name ?? line.of.id, amount: known ? ratio.toDecimal(inSource.amount).mul(cost.amount) : null, missing };
  }).sort((a, b) => (a.amount && b.amount ? b.amount.comparedTo(a.amount) : Number(a.amount === null) - Number(b.amount === null)));
}

function figuresGoing(cascade: Cascade, dish: Dish, way: Way): ChannelFigures {
  const { plateCost, exactly } = costGoing(cascade, dish, way);
  const terms = termsOfSale(cascade, dish.id);
  const exactNet = terms.gross === null ? null : netPriceExactly(terms.gross, terms.taxRate);
  const net = exactNet === null ? null : ratio.toDecimal(exactNet);
  const complete = plateCost.missing.length === 0 && linesGoing(dish, way).length > 0;
  return {
    way,
    plateCost,
    foodCost: net === null ? null : foodCostRatio(plateCost.amount, net),
    contribution: net === null ? null : contributionMargin(plateCost.amount, net),
    state: dishState({ amount: plateCost.amount, exactly: () => exactly }, complete, exactNet, terms.target, terms.near),
  };
}

function costGoing(cascade: Cascade, dish: Dish, way: Way): { readonly plateCost: NodeCost; readonly exactly: Ratio } {
  const missing = new Map<string, Missing>();
  const borrowed = new Map<string, BorrowedCut>();
  let lines = ratio.ZERO;
  for (const line of linesGoing(dish, way)) {
    const ref: NodeRef = line.of;
    const cost = costOf(cascade, ref);
    for (const one of [...lacks(cascade.book, line), ...(cost?.missing ?? [])]) missing.set(`${one.what} ${one.of.kind}:${one.of.id}`, one);
    for (const cut of cost?.borrowed ?? []) borrowed.set(cut.id, cut);
    const amount = lineInBase(cascade.book, line);
    // What cannot be told counts nothing: the whole is then a lower bound, and says what is missing.
    if (cost !== null && amount.ok) lines = ratio.add(lines, ratio.mul(amount.amount, costExactly(cascade, ref)));
  }
  const { onCost, ofWhole } = allowanceFactors(dish.allowances);
  const money = ratio.sum(dish.allowances.flatMap((one) => (one.kind === "money" ? [ratio.fromExact(one.amount.amount)] : [])));
  const exactly = ratio.mul(ratio.add(ratio.mul(lines, onCost), money), ofWhole);
  return { exactly, plateCost: { amount: ratio.toDecimal(exactly), per: "plate", missing: [...missing.values()], borrowed: [...borrowed.values()] } };
}

/** What keeps a line's own quantity from being costed. */
function lacks(book: Book, line: DishLine): readonly Missing[] {
  const amount = lineInBase(book, line);
  if (amount.ok) return [];
  return [{ what: amount.missing, of: amount.of, name: book.shelves[amount.of.kind].get(amount.of.id)?.name ?? amount.of.id }];
}
