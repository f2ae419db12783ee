/**
 * By-products used again in the house: where each comes from, where it goes, at which price it is passed on, and whether
 * what is credited and what is charged are the same number.
 *
 *   produced  Σ billed a week · w_k/W over the cuts whose part it is
 *   used      what recipes, dishes and cuts take of it in the same week
 *   credited  Σ usable a week · (w_k/U) · v · min(1, recorded use), as the costs of the cuts have it
 *   charged   used · v, as the costs of the recipes and dishes have it
 *
 * With what is recorded as used equal to what is used, credited = charged, and what is left over counts 0.
 */
import { type Book, type Item, type PartValue, type Transfer, type TransferUse, crossKinds } from "@/lib/book";
import { type Cascade, type CutCredits, type NodeCost, type NodeRef, type User, costExactly, costOf, creditedShare, creditsOfCut, dishesAbove, isIncomplete, priceLine, usersOf } from "@/lib/cascade";
import { type Kind, type Ratio, BASE_UNIT, exact, ratio } from "@/lib/measure";
import { affordableCost, dishFigures, lastWeeks } from "@/lib/menu";
import { type Week, type Worked, platesAWeek, weekOf } from "./by-product-week";

/** A by-product part of tests that a cut stands on. */
export interface PartRow {
  readonly key: string;
  readonly name: string;
  /** The cuts that it comes off, which share their pieces; at least one. */
  readonly cuts: readonly { readonly id: string; readonly name: string }[];
  /** The newest adopted test that says what it is worth, else the newest that has it; what would be changed to link it. */
  readonly testId: string;
  readonly value: PartValue | null;
  readonly kind: Kind;
  /** Base units a week, on average; null without recorded sales. */
  readonly perWeek: Ratio | null;
  /** It may be more: a quantity on the way is not known. */
  readonly atLeast: boolean;
  /** Money a week that the cuts are credited with; null where that is not known. */
  readonly credited: Ratio | null;
  /** Money per base unit at which it is credited; null: not known. */
  readonly worth: Ratio | null;
}

/** Something that takes the by-product. */
export interface UseRow {
  readonly by: User;
  /** Base units of the by-product a week; null without recorded sales. */
  readonly perWeek: Ratio | null;
}

/** What a use can bear: the transfer price at which a dish that it goes into costs just what its target allows. */
export interface Bearing {
  readonly dishId: string;
  readonly name: string;
  /** Money per base unit; below zero where the dish is over its target even with the by-product for nothing. */
  readonly most: Ratio;
  /** The transfer price is more than that. */
  readonly exceeded: boolean;
}

export interface HouseByProduct {
  readonly item: Item;
  readonly transfer: Transfer;
  readonly cost: NodeCost;
  readonly from: readonly PartRow[];
  readonly to: readonly UseRow[];
  /** Base units of the item a week; null without recorded sales, or where a part cannot be told in the item's measure. */
  readonly produced: Ratio | null;
  readonly used: Ratio | null;
  readonly atLeast: boolean;
  /** min(1, used/produced) as recorded, and as the usual week has it; null: not known, or nothing comes off. */
  readonly recorded: Ratio;
  readonly reckoned: Ratio | null;
  readonly balance: Balance | null;
  readonly bears: readonly Bearing[];
}

/** Money a week, credited against charged. */
export interface Balance {
  readonly credited: Ratio;
  readonly charged: Ratio;
  /** credited − charged. */
  readonly difference: Ratio;
  /** Base units that nobody uses, at 0; or that are used beyond what comes off. */
  readonly unused: Ratio;
  readonly beyond: Ratio;
  /**
   * same: one number. uncounted: all is credited since nobody has counted, and not all is used. out-of-date: the recorded use
   * is not what the week has. beyond: more is used than comes off, so some of it must come from elsewhere. outside: it goes
   * where no recipe or dish is charged, to the staff or to a renderer; whoever takes it is charged.
   */
  readonly says: "same" | "uncounted" | "out-of-date" | "beyond" | "outside";
}

export interface ByProducts {
  /** Weeks of sales behind it, and the first and last Monday; 0 without. */
  readonly weeks: number;
  readonly from: string | null;
  readonly to: string | null;
  readonly house: readonly HouseByProduct[];
  /** Parts credited at what a bought item or a recipe costs. */
  readonly elsewhere: readonly PartRow[];
  /** Parts with a typed worth, which goes nowhere in the book. */
  readonly nowhere: readonly PartRow[];
  /** Parts of which nobody has said what they are worth. */
  readonly unvalued: readonly PartRow[];
}

/** Every by-product of the tests that cuts stand on, and every item with a transfer price, by name. */
export function byProducts(cascade: Cascade): ByProducts {
  const { book } = cascade;
  const sales = lastWeeks(book.shelves.sales.values(), book.on);
  const week = weekOf(cascade, sales.length === 0 ? new Map() : platesAWeek(sales));
  const known = sales.length > 0;
  const parts = week.worked.flatMap((worked) => partsOf(cascade, worked, week, known)).sort(byName);
  const house = [...book.shelves.item.values()].flatMap((item): HouseByProduct[] => (item.transfer === null ? [] : [houseOf(cascade, item, item.transfer, parts, week, known)]))
    .sort((a, b) => (a.item.name < b.item.name ? -1 : a.item.name > b.item.name ? 1 : 0));
  const ours = new Set(house.map(({ item }) => item.id));
  return {
    weeks: sales.length, from: sales[0]?.id ?? null, to: sales.at(-1)?.id ?? null, house,
    elsewhere: parts.filter(({ value }) => value !== null && value.kind !== "typed" && !(value.kind === "item" && ours.has(value.id))),
    nowhere: parts.filter(({ value }) => value?.kind === "typed"),
    unvalued: parts.filter(({ value }) => value === null),
  };
}

function byName(a: PartRow, b: PartRow): number {
  return a.name < b.name ? -1 : a.name > b.name ? 1 : a.testId < b.testId ? -1 : 1;
}

function partsOf(cascade: Cascade, worked: Worked, week: Week, known: boolean): readonly PartRow[] {
  const { book } = cascade;
  const read = worked.cuts.flatMap((cut): { readonly id: string; readonly credits: CutCredits }[] => {
    const credits = creditsOfCut(cascade, cut);
    return credits === null ? [] : [{ id: cut.id, credits }];
  });
  const [first] = read;
  if (first === undefined) return [];
  return first.credits.credits.map((credit): PartRow => {
    const money = read.map(({ id, credits }) => {
      const own = credits.credits.find(({ key }) => key === credit.key);
      const usable = week.amounts.get(`cut:${id}`) ?? ratio.ZERO;
      return own === undefined || own.worth === null ? null : ratio.mul(ratio.mul(usable, own.perUsable), own.worth);
    });
    return {
      key: credit.key, name: credit.name, cuts: worked.cuts.map(({ id, name }) => ({ id, name })), testId: testOf(book, worked.cuts[0]?.testIds ?? [], credit.key),
      value: credit.value, kind: worked.measure, perWeek: known ? ratio.mul(worked.billed, credit.perBilled) : null,
      atLeast: worked.cuts.some(({ id }) => week.atLeast.has(`cut:${id}`)),
      credited: !known || money.some((one) => one === null) ? null : ratio.sum(money.flatMap((one) => one ?? [])), worth: credit.worth,
    };
  });
}

/** The newest test that says what a part is worth, else the newest that has it. */
function testOf(book: Book, testIds: readonly string[], key: string): string {
  const tests = testIds.flatMap((id) => book.shelves.test.get(id) ?? []).sort((a, b) => (a.on < b.on ? 1 : a.on > b.on ? -1 : a.id < b.id ? 1 : -1));
  const has = tests.filter((test) => test.parts.some((part) => part.key === key && part.role === "by-product"));
  return (has.find((test) => test.parts.some((part) => part.key === key && part.value !== null)) ?? has[0])?.id ?? "";
}

const ONE = exact("1");

function houseOf(cascade: Cascade, item: Item, transfer: Transfer, parts: readonly PartRow[], week: Week, known: boolean): HouseByProduct {
  const { book } = cascade;
  const ref: NodeRef = { kind: "item", id: item.id };
  const cost = costOf(cascade, ref);
  if (cost === null) throw new Error(`expected item ${item.id} to have a cost`);
  const from = parts.filter(({ value }) => value?.kind === "item" && value.id === item.id);
  const made = from.map((part): Ratio | null => {
    const one = crossKinds(item, { amount: ONE, unit: BASE_UNIT[part.kind] }, item.kind);
    return part.perWeek === null || typeof one === "string" ? null : ratio.mul(part.perWeek, one);
  });
  const produced = !known || made.some((one) => one === null) ? null : ratio.sum(made.flatMap((one) => one ?? []));
  const used = known ? week.amounts.get(`item:${item.id}`) ?? ratio.ZERO : null;
  const uses = week.uses.get(item.id) ?? [];
  const recorded = creditedShare(item);
  const price = isIncomplete(cascade, ref) ? null : costExactly(cascade, ref);
  const credited = from.some((part) => part.credited === null) ? null : ratio.sum(from.flatMap((part) => part.credited ?? []));
  // A cut that is credited does not use it.
  const to = usersOf(book, ref).filter((by) => !isOnlyCredited(book, by, item.id)).map((by): UseRow => ({
    by, perWeek: known ? ratio.sum(uses.filter((use) => use.by.kind === by.ref.kind && use.by.id === by.ref.id).map(({ amount }) => amount)) : null,
  }));
  const outside = to.length === 0 && transfer.destination !== "";
  return {
    item, transfer, cost, from, to, produced, used, recorded,
    atLeast: week.atLeast.has(`item:${item.id}`) || from.some((part) => part.atLeast),
    reckoned: produced === null || used === null || ratio.sign(produced) === 0 ? null : ratio.compare(used, produced) >= 0 ? ratio.ONE : ratio.div(used, produced),
    balance: produced === null || used === null || credited === null || price === null ? null : balanceOf(transfer.use, outside, produced, used, credited, ratio.mul(used, price)),
    bears: price === null ? [] : bearingsOf(cascade, ref, price),
  };
}

function isOnlyCredited(book: Book, { ref }: User, itemId: string): boolean {
  const cut = ref.kind === "cut" ? book.shelves.cut.get(ref.id) : undefined;
  // What only takes its place as a price uses none of it either.
  return ref.kind === "item" || (cut !== undefined && !(cut.of.kind === "item" && cut.of.id === itemId));
}

/** Half a cent a week: what a recorded use was rounded by makes no difference. */
const NEAR = ratio.of(1n, 200n);

function balanceOf(recorded: TransferUse | null, outside: boolean, produced: Ratio, used: Ratio, credited: Ratio, charged: Ratio): Balance {
  const difference = ratio.sub(credited, charged);
  const rest = ratio.sub(produced, used);
  const unused = ratio.sign(rest) > 0 ? rest : ratio.ZERO;
  const beyond = ratio.sign(rest) < 0 ? ratio.neg(rest) : ratio.ZERO;
  const size = ratio.sign(difference) < 0 ? ratio.neg(difference) : difference;
  const says = ratio.compare(size, NEAR) < 0 ? "same" : outside ? "outside" : ratio.sign(beyond) > 0 && ratio.sign(difference) < 0 ? "beyond" : recorded === null ? "uncounted" : "out-of-date";
  return { credited, charged, difference, unused, beyond, says };
}

/**
 * The net realizable value of the use: the most that the by-product may cost for a dish above it to stay at its target,
 * v* = (τ·p − everything else)/(units of it on the plate). A credit above that makes the main part look cheap at the cost
 * of a dish that cannot bear it. Source: cost accounting, by-products at net realizable value.
 */
function bearingsOf(cascade: Cascade, of: NodeRef, price: Ratio): readonly Bearing[] {
  return dishesAbove(cascade.book, of).flatMap(({ ref, name }): Bearing[] => {
    const figures = reaches(cascade.book, of, ref.id) ? dishFigures(cascade, ref.id) : null;
    const affordable = figures === null || isIncomplete(cascade, ref) ? null : affordableCost(figures);
    if (affordable === null) return [];
    const { slope, rest } = priceLine(cascade, ref, of.id);
    if (ratio.sign(slope) <= 0) return [];
    const most = ratio.div(ratio.sub(ratio.fromExact(exact(affordable.toFixed())), rest), slope);
    return [{ dishId: ref.id, name, most, exceeded: ratio.compare(price, most) > 0 }];
  }).sort((a, b) => ratio.compare(a.most, b.most));
}

/** Whether a dish takes it, straight or through recipes; a steak whose cut is credited with it does not. */
function reaches(book: Book, of: NodeRef, dishId: string): boolean {
  const waiting: NodeRef[] = [{ kind: "dish", id: dishId }];
  const seen = new Set<string>();
  for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
    if (at.kind === of.kind && at.id === of.id) return true;
    const key = `${at.kind}:${at.id}`;
    if (seen.has(key)) continue;
    seen.add(key);
    if (at.kind === "dish" || at.kind === "recipe") waiting.push(...(book.shelves[at.kind].get(at.id)?.lines ?? []).map((line) => line.of));
    else if (at.kind === "spec") waiting.push(...[book.shelves.spec.get(at.id)].flatMap((spec) => (spec === undefined ? [] : [{ kind: "cut" as const, id: spec.cutId }])));
    else if (at.kind === "cut") waiting.push(...[book.shelves.cut.get(at.id)].flatMap((cut) => (cut === undefined ? [] : [cut.of])));
  }
  return false;
}
