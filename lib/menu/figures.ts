/**
 * A dish's figures: plate cost, menu and net price, food cost against target, contribution and state. They follow
 * from the cascade's plate cost and the menu price in force in the same book; nothing here is stored or rounded.
 */
import { type Dish, type FactOf, type MenuPrice, kitchenOf } from "@/lib/book";
import { type Cascade, type NodeCost, costExactly, costOf } from "@/lib/cascade";
import { type Decimal, type Exact, type Ratio, ratio, toDecimal } from "@/lib/measure";
import { contributionMargin, foodCostRatio, netPriceExactly } from "./price";
import { type DishState, dishState } from "./state";

export interface DishFigures {
  readonly id: string;
  readonly name: string;
  readonly section: string;
  /** Money a plate; a lower bound when something is missing. */
  readonly plateCost: NodeCost;
  /** As printed on the menu, money; null when the dish has no menu price. */
  readonly gross: Decimal | null;
  /** Less the tax within it, money. */
  readonly net: Decimal | null;
  /** Tax within the menu price as a share of the net price, as it applies to this dish. */
  readonly taxRate: Exact;
  /** Plate cost over net price, a ratio (0.318); a lower bound when the plate cost is. */
  readonly foodCost: Decimal | null;
  /** Share of the net price that the food may cost, a ratio: the dish's own, else the kitchen's. */
  readonly target: Decimal;
  /** True when the dish has a target of its own. */
  readonly ownTarget: boolean;
  /** How many points under its target still count as near, a ratio. */
  readonly near: Decimal;
  /** Net price less plate cost, money a plate; an upper bound when the plate cost is a lower one. */
  readonly contribution: Decimal | null;
  readonly state: DishState;
}

/**
 * The figures of one dish; null when the book has no such dish. A dish without lines has nothing to cost yet: it is
 * incomplete rather than free.
 */
export function dishFigures(cascade: Cascade, dishId: string): DishFigures | null {
  const dish = cascade.book.shelves.dish.get(dishId);
  if (!dish) return null;
  return figuresOf(cascade, dish);
}

/** A cascade is a value, and so are its figures: a menu of thousands is worked out once for all who look at it. */
const known = new WeakMap<Cascade, readonly DishFigures[]>();

/** The figures of every dish, in the order of the menu: by section as it first appears, then by name. */
export function menuFigures(cascade: Cascade): readonly DishFigures[] {
  let figures = known.get(cascade);
  if (figures === undefined) known.set(cascade, figures = inMenuOrder(cascade));
  return figures;
}

function inMenuOrder(cascade: Cascade): DishFigures[] {
  const dishes = [...cascade.book.shelves.dish.values()];
  const sections = new Map<string, number>();
  for (const dish of dishes) if (!sections.has(dish.section)) sections.set(dish.section, sections.size);
  const place = (dish: Dish): number => sections.get(dish.section) ?? 0;
  return dishes
    .sort((a, b) => place(a) - place(b) || (a.name < b.name ? -1 : a.name > b.name ? 1 : 0))
    .map((dish) => figuresOf(cascade, dish));
}

/** What a dish sells for under the kitchen's habits; the parts of a menu price that decide its figures. */
export interface TermsOfSale {
  readonly gross: Exact | null;
  readonly taxRate: Exact;
  readonly target: Exact;
  readonly near: Exact;
  readonly ownTarget: boolean;
}

/** The terms a dish is sold on in this book: its own menu price, tax and target, else its section's target, else the kitchen's. */
export function termsOfSale(cascade: Cascade, dishId: string): TermsOfSale {
  const kitchen = kitchenOf(cascade.book);
  const price: MenuPrice | undefined = cascade.book.shelves.menuPrice.get(dishId);
  const ownTarget = price?.target ?? null;
  const section = cascade.book.shelves.dish.get(dishId)?.section;
  const sectionTarget = kitchen.sectionTargets.find((one) => one.section === section)?.target;
  return {
    gross: price?.gross.amount ?? null,
    taxRate: price?.taxRate ?? kitchen.taxRate,
    target: ownTarget ?? sectionTarget ?? kitchen.target,
    near: kitchen.near,
    ownTarget: ownTarget !== null,
  };
}

interface Known {
  readonly kitchen: FactOf["kitchen"];
  readonly price: MenuPrice | undefined;
  readonly figures: DishFigures;
}

/**
 * The figures that a dish had last, and what they were worked out from besides the dish: most changes leave most of a menu
 * alone. The last two, newest first, so that trying one thing after another does not forget how the dish stands.
 */
const lastOf = new WeakMap<Dish, readonly Known[]>();

function figuresOf(cascade: Cascade, dish: Dish): DishFigures {
  const plateCost = costOf(cascade, { kind: "dish", id: dish.id });
  if (!plateCost) throw new Error(`expected the cascade to cost dish ${dish.id}, which its book holds`);
  const kitchen = kitchenOf(cascade.book);
  const price = cascade.book.shelves.menuPrice.get(dish.id);
  const last = lastOf.get(dish) ?? [];
  const found = last.find((known) => known.kitchen === kitchen && known.price === price && isSameWhole(known.figures.plateCost, plateCost));
  if (found !== undefined) {
    if (found !== last[0]) lastOf.set(dish, [found, ...last.filter((known) => known !== found)]);
    return found.figures;
  }
  const { figures, byDigits } = workedOut(cascade, dish, plateCost);
  // A state that only the exact fraction could settle is settled anew each time: two fractions may share their digits.
  if (byDigits) lastOf.set(dish, [{ kitchen, price, figures }, ...last.slice(0, 1)]);
  return figures;
}

function isSameWhole(a: NodeCost, b: NodeCost): boolean {
  return a.missing.length === 0 && b.missing.length === 0 && a.amount.eq(b.amount)
    && a.borrowed.length === b.borrowed.length && a.borrowed.every((cut, at) => cut.id === b.borrowed[at]?.id && cut.name === b.borrowed[at].name);
}

function workedOut(cascade: Cascade, dish: Dish, plateCost: NodeCost): { readonly figures: DishFigures; readonly byDigits: boolean } {
  const ref = { kind: "dish", id: dish.id } as const;
  let byDigits = true;
  const exactly = (): Ratio => {
    byDigits = false;
    return costExactly(cascade, ref);
  };
  const terms = termsOfSale(cascade, dish.id);
  const exactNet = terms.gross === null ? null : netPriceExactly(terms.gross, terms.taxRate);
  const net = exactNet === null ? null : ratio.toDecimal(exactNet);
  const complete = plateCost.missing.length === 0 && dish.lines.length > 0;
  const figures: DishFigures = {
    id: dish.id,
    name: dish.name,
    section: dish.section,
    plateCost,
    gross: terms.gross === null ? null : toDecimal(terms.gross),
    net,
    taxRate: terms.taxRate,
    foodCost: net === null ? null : foodCostRatio(plateCost.amount, net),
    target: toDecimal(terms.target),
    ownTarget: terms.ownTarget,
    near: toDecimal(terms.near),
    contribution: net === null ? null : contributionMargin(plateCost.amount, net),
    state: dishState({ amount: plateCost.amount, exactly }, complete, exactNet, terms.target, terms.near),
  };
  return { figures, byDigits };
}
