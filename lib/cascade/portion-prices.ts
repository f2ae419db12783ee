/**
 * Portions by price: what a cut, and any size of portion of it, costs at any dealer's price of the item at its root.
 * Costs are linear in prices, so the cut's cost is a line C(P) = slope·P + rest, found exactly by walking down the rows
 * below it (as in sensitivity.ts), and a portion follows from C as its spec's row does (rows/spec.ts): by weight c = C·s,
 * by whole portions c = (ΣU/Σn)·C − (Σr/Σn)·v_end. So a cell is what a costing at that price would say, to the last digit.
 *
 * `stagesOf` gives the same line unrolled, for whoever wants to recompute it elsewhere (a spreadsheet): for each cut from
 * the item up, W/U of what it is made from and each by-product with what it is credited at.
 */
import { type Book, type Cut, type PortionSpec, type Repricing, borrowedInUse, cutKind, lineInBase } from "@/lib/book";
import { type Kind, type Quantity, type Ratio, BASE_UNIT, exact, kindOf, ratio } from "@/lib/measure";
import { quantityInBase, rateInBase, wholeCost, wholePortionLine, yieldLine } from "@/lib/yield";
import type { Cascade } from "./cascade";
import { costOf } from "./cost";
import { costRows, keyOf, rowsBelow } from "./exact";
import { rootItem } from "./explain-sources";
import { fractions } from "./fractions";
import { nameOf } from "./names";
import type { Missing, NodeRef } from "./node";
import { adoptedTests, perOriginOf, repricingOf, shareCredited, testPrice, valuesOf } from "./rows/cut";

/** Money per base unit of a node from the price P of an item (money per its base unit): slope·P + rest, all other prices held. */
export interface PriceLine {
  readonly slope: Ratio;
  readonly rest: Ratio;
}

/** A node's cost as a line in one item's price. Holds for what is wholly known: where it is a lower bound, so is the line. */
export function priceLine(cascade: Cascade, ref: NodeRef, itemId: string): PriceLine {
  const item: NodeRef = { kind: "item", id: itemId };
  const rows = rowsBelow(cascade, [ref]);
  const weight = new Map<string, Ratio>([[keyOf(ref), ratio.ONE]]);
  for (const row of [...rows].reverse()) {
    const own = weight.get(keyOf(row.ref));
    if (own === undefined || ratio.sign(own) === 0) continue;
    for (const line of row.lines) {
      const key = keyOf(line.of);
      weight.set(key, ratio.add(weight.get(key) ?? ratio.ZERO, ratio.mul(own, line.coefficient)));
    }
  }
  const costs = costRows(fractions, rows);
  const slope = weight.get(keyOf(item)) ?? ratio.ZERO;
  const now = costs.get(keyOf(item)) ?? ratio.ZERO;
  return { slope, rest: ratio.sub(costs.get(keyOf(ref)) ?? ratio.ZERO, ratio.mul(slope, now)) };
}

export function atPrice({ slope, rest }: PriceLine, price: Ratio): Ratio {
  return ratio.add(ratio.mul(slope, price), rest);
}

/** A size's part in the cost of a portion: `usable` of the cut less `end` of it at `endValue`, all in base units. */
export interface PortionLine {
  readonly size: Quantity;
  /** Base units of the cut paid for in one portion. */
  readonly usable: Ratio;
  /** Base units left over for each portion; 0 by weight. */
  readonly end: Ratio;
  /** Money per base unit of an end. */
  readonly endValue: Ratio;
  /** Portions from all pieces, and these in base units; null and [] by weight. */
  readonly portions: bigint | null;
  readonly pieces: readonly Ratio[];
}

/** A size of the cut costed as the spec says; null where it cannot be: another kind of unit, or no piece holds it. */
export function portionLine(book: Book, spec: PortionSpec, size: Quantity): PortionLine | null {
  const endValue = spec.endValue === null ? ratio.ZERO : rateInBase(spec.endValue);
  if (spec.costing === "by-weight") {
    return cutKind(book, spec.cutId) !== kindOf(size.unit) ? null : { size, usable: quantityInBase(size), end: ratio.ZERO, endValue, portions: null, pieces: [] };
  }
  const cut = book.shelves.cut.get(spec.cutId);
  const tests = cut === undefined ? null : adoptedTests(book, cut);
  const line = cut === undefined || tests === null ? null : wholePortionLine(tests, cut.partKey, size);
  if (line === null || !line.ok) return null;
  return { size, usable: line.value.usablePerPortion, end: line.value.endPerPortion, endValue, portions: line.value.counted.portions, pieces: line.value.counted.pieces.map(({ piece }) => piece) };
}

/** What a portion costs at a cost C of the cut per base unit, money. */
export function portionCost({ usable, end, endValue }: PortionLine, C: Ratio): Ratio {
  return wholeCost({ usablePerPortion: usable, endPerPortion: end }, C, endValue);
}

/** One way in which a new dealer's price reaches the cut. */
export interface PriceMethod {
  readonly method: Repricing;
  readonly inForce: boolean;
  readonly line: PriceLine;
  /** The cuts from the item up, and what each costs: the last is the cut itself. */
  readonly stages: readonly Stage[];
  readonly lines: readonly PriceLine[];
}

export interface PortionPrices {
  readonly item: NodeRef;
  readonly itemName: string;
  /** The item's price now, money per its base unit. */
  readonly priceNow: Ratio;
  /** The method in force first; the other one only where it says something else at some price. */
  readonly methods: readonly PriceMethod[];
}

/**
 * Prices in even steps around one, lowest first, and that one itself among them; none at or below zero. `count` rows in
 * all where they are above zero, as many below as above.
 */
export function priceSteps(now: Ratio, step: Ratio, count: number): readonly Ratio[] {
  const prices: Ratio[] = [];
  const below = BigInt(Math.floor((count - 1) / 2));
  for (let k = -below; k < BigInt(count) - below; k += 1n) {
    const price = ratio.add(now, ratio.mul(step, ratio.of(k)));
    if (ratio.sign(price) > 0) prices.push(price);
  }
  return prices;
}

/** About a fortieth of a price, as people step prices: 1, 2, 2.5 or 5 of a decimal place, and never below `least`. */
export function sensiblePriceStep(price: Ratio, least: Ratio): Ratio {
  const wanted = ratio.div(price, ratio.of(40n));
  let place = least;
  while (ratio.compare(ratio.mul(place, ratio.of(10n)), wanted) <= 0) place = ratio.mul(place, ratio.of(10n));
  const steps = [ratio.ONE, ratio.of(2n), ratio.of(5n, 2n), ratio.of(5n)].map((one) => ratio.mul(place, one)).filter((one) => ratio.compare(one, wanted) <= 0 && ratio.div(one, least).d === 1n);
  return steps.at(-1) ?? place;
}

/** Why there is no chart: nothing is bought at its root, or costs on the way are not known. */
export type NoPrices = { readonly ok: false; readonly missing: readonly Missing[] };

/** The lines of a spec's cut in the price of the item at its root. */
export function portionPrices(cascade: Cascade, spec: PortionSpec): { readonly ok: true; readonly value: PortionPrices } | NoPrices {
  const { book } = cascade;
  const ref: NodeRef = { kind: "cut", id: spec.cutId };
  const cut = book.shelves.cut.get(spec.cutId);
  const item = rootItem(book, ref);
  const cost = costOf(cascade, ref);
  const price = item && costOf(cascade, item);
  if (cut === undefined || item === null || !cost || !price) return { ok: false, missing: [] };
  if (cost.missing.length > 0) return { ok: false, missing: cost.missing };
  // A by-product of the house has a transfer price, which no dealer moves.
  if (book.shelves.item.get(item.id)?.transfer !== null) return { ok: false, missing: [] };
  const tests = adoptedTests(book, cut);
  const inForce = tests === null || tests.length === 0 ? "by-products-at-own-price" : repricingOf(cut, valuesOf(tests));
  const own = methodOf(cascade, cut, item.id, inForce, true);
  const other = methodOf(cascade, cut, item.id, inForce === "by-factor" ? "by-products-at-own-price" : "by-factor", false);
  return {
    ok: true,
    value: { item, itemName: nameOf(book, item), priceNow: costRows(fractions, rowsBelow(cascade, [item])).get(keyOf(item)) ?? ratio.ZERO, methods: same(own.line, other.line) ? [own] : [own, other] },
  };
}

function same(one: PriceLine, other: PriceLine): boolean {
  return ratio.compare(one.slope, other.slope) === 0 && ratio.compare(one.rest, other.rest) === 0;
}

function methodOf(cascade: Cascade, cut: Cut, itemId: string, method: Repricing, inForce: boolean): PriceMethod {
  const stages = stagesOf(cascade, { ...cut, repricing: method }, itemId);
  const lines: PriceLine[] = [];
  let line: PriceLine = { slope: ratio.ONE, rest: ratio.ZERO };
  for (const stage of stages) lines.push(line = overStage(line, stage));
  return { method, inForce, stages, line, lines };
}

/** What a by-product is credited at, money per base unit of the cut's measure: held + ofPrice·P + ofOrigin·(cost of what the cut is made from). */
export interface StageCredit {
  readonly name: string;
  /** w_k/U: base units of it for each base unit of the cut. */
  readonly perUsable: Ratio;
  readonly held: Ratio;
  readonly ofPrice: Ratio;
  readonly ofOrigin: Ratio;
}

/** A cut over what it is made from: C = perOrigin·(cost of the origin) − Σ perUsable·(held + ofPrice·P + ofOrigin·(cost of the origin)). */
export interface Stage {
  readonly cutId: string;
  readonly name: string;
  readonly kind: Kind;
  /** W/U, times the main part's share of the joint cost; from a borrowed yield 1/Y. Base units of the origin for each base unit of the cut. */
  readonly perOrigin: Ratio;
  readonly borrowed: boolean;
  readonly credits: readonly StageCredit[];
}

/** The stages from the item to a cut, lowest first. The cut's own is by the method that it says. */
function stagesOf(cascade: Cascade, cut: Cut, itemId: string): readonly Stage[] {
  const { book } = cascade;
  const stages: Stage[] = [];
  let at: Cut | undefined = cut;
  // A cut made from a cut: as many steps as there are cuts at most.
  for (let steps = 0; at !== undefined && steps <= book.shelves.cut.size; steps += 1) {
    stages.push(stageOf(cascade, at, itemId));
    at = at.of.kind === "cut" ? book.shelves.cut.get(at.of.id) : undefined;
  }
  return stages.reverse();
}

const ONE_OF_A_UNIT = exact("1");

function stageOf(cascade: Cascade, cut: Cut, itemId: string): Stage {
  const { book } = cascade;
  const kind = cutKind(book, cut.id) ?? "mass";
  const base = BASE_UNIT[kind];
  /** How many of a source's own base units one of the sheet's is. */
  const through = (kind: "item" | "cut" | "recipe", id: string): Ratio => {
    const one = lineInBase(book, { key: "", of: { kind, id }, quantity: { amount: ONE_OF_A_UNIT, unit: base }, note: "" });
    return one.ok ? one.amount : ratio.ZERO;
  };
  const borrowed = borrowedInUse(cut);
  const origin = through(cut.of.kind, cut.of.id);
  const about = { cutId: cut.id, name: cut.name, kind, borrowed: borrowed !== null };
  if (borrowed !== null) return { ...about, perOrigin: ratio.mul(perOriginOf(borrowed), origin), credits: [] };
  const tests = adoptedTests(book, cut) ?? [];
  const constants = yieldLine(tests, cut.partKey, cut.joint);
  if (!constants.ok) throw new Error(`expected cut ${cut.id}, whose cost is known, to have a yield`);
  const values = valuesOf(tests);
  const then = repricingOf(cut, values) === "by-factor" ? testPrice(tests) : null;
  const credits = constants.value.credits.flatMap(({ key, name, perUsable }): StageCredit[] => {
    const value = values.get(key);
    if (value === undefined) return [];
    const credit = { name, perUsable, held: ratio.ZERO, ofPrice: ratio.ZERO, ofOrigin: ratio.ZERO };
    if (value.kind !== "typed") {
      const line = priceLine(cascade, { kind: value.kind, id: value.id }, itemId);
      const units = ratio.mul(through(value.kind, value.id), shareCredited(book, value));
      return [{ ...credit, held: ratio.mul(units, line.rest), ofPrice: ratio.mul(units, line.slope) }];
    }
    const typed = rateInBase(value.rate);
    return [then === null ? { ...credit, held: typed } : { ...credit, ofOrigin: ratio.mul(origin, ratio.div(typed, then)) }];
  });
  return { ...about, perOrigin: ratio.mul(constants.value.perOrigin, origin), credits };
}

function overStage(below: PriceLine, { perOrigin, credits }: Stage): PriceLine {
  return credits.reduce<PriceLine>((line, credit) => ({
    slope: ratio.sub(line.slope, ratio.mul(credit.perUsable, ratio.add(credit.ofPrice, ratio.mul(credit.ofOrigin, below.slope)))),
    rest: ratio.sub(line.rest, ratio.mul(credit.perUsable, ratio.add(credit.held, ratio.mul(credit.ofOrigin, below.rest)))),
  }), { slope: ratio.mul(perOrigin, below.slope), rest: ratio.mul(perOrigin, below.rest) });
}
