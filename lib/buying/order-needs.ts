/**
 * What an order needs, from what is served down to what is bought: dishes through recipes, portions and cuts to items as
 * purchased. Portions are counted, cuts are turned into what they are cut from by their yield (never by a cost factor),
 * recipes go by shares of a measured batch. What is in the house already is taken off where it stands: portions cut, loin
 * trimmed, a case of cream. Where a yield, a density or a weight of one is not known no quantity is made up: what rests on it
 * is needed "at least" so much, and says what is missing.
 *
 * Pieces cannot be pooled: a portion counted out of pieces takes whole pieces, ceil(N / whole portions a piece), for each
 * portion of its own. Cuts that come off the same pieces (a short loin's strip and tenderloin, by the same tests) share them:
 * the one that needs more decides, and the rest of the other comes out beside.
 */
import { type Book, type Cut, type Line, type TestKind, type YieldTest, borrowedInUse, cutKind, cutWeight, isSameOrigin, lineInBase } from "@/lib/book";
import { type Cascade, type Missing, type NodeRef, adoptedTests, keyOf, valuesOf } from "@/lib/cascade";
import { BASE_UNIT, type Exact, type Kind, type Ratio, exact, ratio } from "@/lib/measure";
import { linesGoing } from "@/lib/menu";
import { poolWeights, readWeights, testYields, wholePortionLine } from "@/lib/yield";
import type { OrderPlan } from "./order-plan";
import { type CutQuantity, type CutYield, quantityFor } from "./order-safety";

/** Whole pieces for portions that are counted out of them. */
export interface CountedPortions {
  readonly specId: string;
  readonly name: string;
  /** N, as needed. */
  readonly portions: Ratio;
  /** Whole portions that a piece gives on average, over the tests. */
  readonly perPiece: Ratio;
  readonly pieces: bigint;
}

/** One cut that has to be made. */
export interface CutNeed {
  readonly cutId: string;
  readonly name: string;
  /** E, edible portion, base units of `kind`. */
  readonly needed: Ratio;
  readonly kind: Kind;
  readonly counted: readonly CountedPortions[];
  /** null: nothing tells how it comes off, so no quantity is known. */
  readonly bought: CutQuantity | null;
  readonly tests: number;
  /** What kind of working it stands on; null where it stands on no test. */
  readonly worked: TestKind | null;
  readonly borrowed: boolean;
  /** q/W̄ counted up: how many pieces that is; null where nobody has tested one. */
  readonly pieces: bigint | null;
  /** Another cut of the same pieces needs more of them, and decides. */
  readonly comesWith: string | null;
}

/** Something that is on the block beside what was wanted. */
export interface ByProduct {
  readonly name: string;
  /** What it came off. */
  readonly of: NodeRef;
  readonly ofName: string;
  /** By the mean of the tests, base units of `kind`. */
  readonly amount: Ratio;
  readonly kind: Kind;
  /** The item or recipe that it takes the place of; null where its worth was typed, or it is a cut that was not asked for. */
  readonly instead: NodeRef | null;
}

export interface ItemNeed {
  readonly itemId: string;
  readonly name: string;
  readonly kind: Kind;
  /** As purchased, base units, with what is on hand still in it. */
  readonly needed: Ratio;
  /** Of it, what is in the house: never more than is needed. */
  readonly onHand: Ratio;
  /** Of it, what is used as it is bought, and by what. */
  readonly asPurchased: Ratio;
  readonly users: readonly string[];
  /** The cuts made of it, and those made of these. */
  readonly cuts: readonly CutNeed[];
  /** Whole pieces that counted portions ask for, 0 where none are counted; and what of the need is in them, base units. */
  readonly pieces: bigint;
  readonly inPieces: Ratio;
  /** W̄ of the cut that decides; null where nobody has tested one. */
  readonly piece: Ratio | null;
  /** Not empty: it is at least so much. */
  readonly missing: readonly Missing[];
}

/** A by-product of the house that the order takes, and what of it comes out of this order's own cutting. */
export interface HouseNeed extends ItemNeed {
  readonly comesOut: Ratio;
}

/** What was said to be on hand and is not taken off. */
export interface Spare {
  readonly name: string;
  readonly line: Line;
  /** The order takes none of it; or it is told in a measure that nothing turns into its own. */
  readonly why: "not-taken" | "other-measure";
}

/** Portions that have to be cut, what is cut already taken off. */
export interface PortionNeed {
  readonly specId: string;
  readonly name: string;
  readonly portions: Ratio;
}

export interface OrderNeeds {
  readonly portions: readonly PortionNeed[];
  readonly items: readonly ItemNeed[];
  readonly house: readonly HouseNeed[];
  readonly byProducts: readonly ByProduct[];
  /** Everything that keeps the order from being whole, each once. */
  readonly missing: readonly Missing[];
  /** Dishes and recipes that nobody has written any lines for. */
  readonly empty: readonly string[];
  readonly spare: readonly Spare[];
}

/** What is wanted of one thing, in its own base: plates, batches, portions, g, mL, each. */
interface Demand {
  readonly ref: NodeRef;
  amount: Ratio;
  readonly users: Set<string>;
  /** Specs alone: portions that are counted. Cuts: what of the amount is for whole pieces is in it already. */
  readonly counted: CountedPortions[];
  readonly missing: Map<string, Missing>;
}

const ONE_OF_A_UNIT = exact("1");

/** The needs of a plan, by the book of this cascade. */
export function orderNeeds(cascade: Cascade, plan: OrderPlan): OrderNeeds {
  const { book } = cascade;
  const gathered = new Gathered(book);
  for (const { dishId, covers } of plan.dishes) gathered.want({ kind: "dish", id: dishId }, ratio.fromExact(covers), null, []);
  for (const line of plan.lines) gathered.wantLine(line, ratio.ONE, null, []);
  const onHand = onHandOf(book, plan.onHand);
  const used = new Set<string>();
  const cuts = new Map<string, CutNeed[]>();
  const groups = new Map<string, Group[]>();
  const decidedBy = new Map<string, string>();
  const items: ItemNeed[] = [];
  const empty = new Set<string>();
  const byProducts: ByProduct[] = [];
  const portions: PortionNeed[] = [];

  for (const ref of topDown(book, [...plan.dishes.map(({ dishId }): NodeRef => ({ kind: "dish", id: dishId })), ...plan.lines.map(({ of }): NodeRef => of)])) {
    const demand = gathered.of(ref);
    const asItIs = demand.amount;
    // What cuts off the same pieces ask for is known only now that all of them have asked.
    const own = groups.get(keyOf(ref)) ?? [];
    for (const { members } of own) {
      const most = members.reduce((one, other) => (ratio.compare(other.quantity, one.quantity) > 0 ? other : one));
      demand.amount = ratio.add(demand.amount, ratio.mul(most.quantity, most.through));
      for (const { cut } of members) if (cut !== most.cut) decidedBy.set(cut.id, most.cut.name);
      byProducts.push(...comesOut(book, members, most));
    }
    const taken = ratio.lesser(onHand.get(keyOf(ref)) ?? ratio.ZERO, demand.amount);
    if (ratio.sign(taken) > 0) used.add(keyOf(ref));
    const left = ratio.sub(demand.amount, taken);
    const missing = [...demand.missing.values()];

    switch (ref.kind) {
      case "dish": {
        const dish = book.shelves.dish.get(ref.id);
        const lines = dish === undefined ? [] : linesGoing(dish, plan.way);
        if (dish !== undefined && lines.length === 0) empty.add(dish.name);
        for (const line of lines) gathered.wantLine(line, left, dish?.name ?? null, missing);
        break;
      }
      case "recipe": {
        const recipe = book.shelves.recipe.get(ref.id);
        if (recipe !== undefined && recipe.lines.length === 0) empty.add(recipe.name);
        for (const line of recipe?.lines ?? []) gathered.wantLine(line, left, recipe?.name ?? null, missing);
        break;
      }
      case "spec":
        if (ratio.sign(left) > 0) portions.push({ specId: ref.id, name: gathered.nameOf(ref), portions: left });
        gathered.wantOfCut(ref.id, left, missing);
        break;
      case "cut": {
        const cut = book.shelves.cut.get(ref.id);
        if (cut === undefined || (ratio.sign(left) === 0 && missing.length === 0)) break;
        const made = cutNeed(book, cut, left, demand, plan.sureness);
        for (const one of made.missing) gathered.note(one);
        // Wanted of what it is cut from even where no quantity is known, so that the item is named.
        gathered.want(cut.of, ratio.ZERO, null, made.missing);
        const at = keyOf(cut.of);
        cuts.set(at, [...(cuts.get(at) ?? []), made.need]);
        if (made.member !== null) joinGroup(groups, at, made.member);
        break;
      }
      case "item": {
        const item = book.shelves.item.get(ref.id);
        if (item === undefined || (ratio.sign(demand.amount) === 0 && missing.length === 0)) break;
        const direct = cuts.get(keyOf(ref)) ?? [];
        const counted = direct.filter((need) => need.counted.length > 0 && need.pieces !== null && !decidedBy.has(need.cutId));
        const all = own.flatMap(({ members }) => members);
        items.push({
          itemId: item.id, name: item.name, kind: item.kind, needed: demand.amount, onHand: taken, asPurchased: asItIs, users: [...demand.users],
          cuts: withThoseBelow(direct, cuts).map((need): CutNeed => ({ ...need, comesWith: decidedBy.get(need.cutId) ?? null })),
          pieces: counted.reduce((sum, { pieces }) => sum + (pieces ?? 0n), 0n),
          inPieces: ratio.sum(all.filter(({ cut }) => counted.some(({ cutId }) => cutId === cut.id)).map(({ quantity, through }) => ratio.mul(quantity, through))),
          piece: all.flatMap(({ piece, through }) => (piece === null ? [] : [ratio.mul(piece, through)]))[0] ?? null,
          missing,
        });
        break;
      }
    }
  }
  const made = (need: ItemNeed): boolean => book.shelves.item.get(need.itemId)?.transfer !== null;
  return {
    portions,
    items: items.filter((need) => !made(need)),
    house: items.filter(made).map((need): HouseNeed => ({ ...need, comesOut: ratio.sum(byProducts.filter(({ instead, kind }) => instead?.kind === "item" && instead.id === need.itemId && kind === need.kind).map(({ amount }) => amount)) })),
    byProducts: together(byProducts),
    missing: gathered.missing(),
    empty: [...empty],
    spare: plan.onHand.flatMap((line): readonly Spare[] => {
      const told = lineInBase(book, line).ok;
      return told && used.has(keyOf(line.of)) ? [] : [{ name: gathered.nameOf(line.of), line, why: told ? "not-taken" : "other-measure" }];
    }),
  };
}

/** Cuts of one thing, each followed by the cuts made of it. */
function withThoseBelow(direct: readonly CutNeed[], cuts: ReadonlyMap<string, readonly CutNeed[]>): readonly CutNeed[] {
  const all: CutNeed[] = [];
  const waiting = [...direct].reverse();
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    all.push(next);
    waiting.push(...[...(cuts.get(`cut:${next.cutId}`) ?? [])].reverse());
  }
  return all;
}

class Gathered {
  readonly #demands = new Map<string, Demand>();
  readonly #missing = new Map<string, Missing>();
  readonly #book: Book;

  constructor(book: Book) {
    this.#book = book;
  }

  nameOf(ref: NodeRef): string {
    return this.#book.shelves[ref.kind].get(ref.id)?.name ?? ref.id;
  }

  missing(): readonly Missing[] {
    return [...this.#missing.values()];
  }

  of(ref: NodeRef): Demand {
    const known = this.#demands.get(keyOf(ref));
    if (known !== undefined) return known;
    const made: Demand = { ref, amount: ratio.ZERO, users: new Set(), counted: [], missing: new Map() };
    this.#demands.set(keyOf(ref), made);
    return made;
  }

  want(ref: NodeRef, amount: Ratio, user: string | null, missing: readonly Missing[]): void {
    if (!this.#book.shelves[ref.kind].has(ref.id)) { this.note({ what: "fact", of: ref, name: ref.id }); return; }
    const demand = this.of(ref);
    demand.amount = ratio.add(demand.amount, amount);
    if (user !== null) demand.users.add(user);
    for (const one of missing) demand.missing.set(missingKey(one), one);
  }

  /** `times` of a line. What cannot be turned into its source's own base is missing there. */
  wantLine(line: Line, times: Ratio, user: string | null, missing: readonly Missing[]): void {
    if (ratio.sign(times) === 0 && missing.length === 0) return;
    const found = lineInBase(this.#book, line);
    if (found.ok) { this.want(line.of, ratio.mul(times, found.amount), user, missing); return; }
    const lack = this.note({ what: found.missing, of: found.of, name: this.nameOf(found.of) });
    if (found.missing !== "fact") this.want(line.of, ratio.ZERO, user, [...missing, lack]);
  }

  /** So many portions of a spec from its cut: by weight N·s; counted, whole pieces' worth of it. */
  wantOfCut(specId: string, portions: Ratio, missing: readonly Missing[]): void {
    const spec = this.#book.shelves.spec.get(specId);
    if (spec === undefined) return;
    const cut = this.#book.shelves.cut.get(spec.cutId);
    if (spec.costing === "by-weight" || cut === undefined) {
      this.wantLine({ key: spec.id, of: { kind: "cut", id: spec.cutId }, quantity: cutWeight(spec), note: "" }, portions, spec.name, missing);
      return;
    }
    if (ratio.sign(portions) === 0) { this.want({ kind: "cut", id: spec.cutId }, ratio.ZERO, spec.name, missing); return; }
    const tests = adoptedTests(this.#book, cut);
    const line = tests === null ? null : wholePortionLine(tests, cut.partKey, cutWeight(spec));
    if (tests === null || line === null || !line.ok) {
      const lack = this.note({ what: "yield", of: { kind: "spec", id: spec.id }, name: spec.name });
      this.want({ kind: "cut", id: spec.cutId }, ratio.ZERO, spec.name, [...missing, lack]);
      return;
    }
    const worked = ratio.sum(tests.map((test) => ratio.fromExact(test.pieces)));
    const all = ratio.of(line.value.counted.portions);
    const perPiece = ratio.div(all, worked);
    const pieces = ratio.ceil(ratio.div(portions, perPiece));
    // ΣU/Σn for a portion and Σn/Σpieces for a piece: pieces times ΣU/Σpieces.
    this.want({ kind: "cut", id: spec.cutId }, ratio.mul(ratio.of(pieces), ratio.mul(line.value.usablePerPortion, perPiece)), spec.name, missing);
    this.of({ kind: "cut", id: spec.cutId }).counted.push({ specId, name: spec.name, portions, perPiece, pieces });
  }

  note(missing: Missing): Missing {
    this.#missing.set(missingKey(missing), missing);
    return missing;
  }
}

function missingKey({ what, of }: Missing): string {
  return `${what} ${keyOf(of)}`;
}

/** What is said to be on hand, in the base of what it is; what cannot be told in it is as if it were not there. */
function onHandOf(book: Book, lines: readonly Line[]): ReadonlyMap<string, Ratio> {
  const have = new Map<string, Ratio>();
  for (const line of lines) {
    const found = lineInBase(book, line);
    if (found.ok) have.set(keyOf(line.of), ratio.add(have.get(keyOf(line.of)) ?? ratio.ZERO, found.amount));
  }
  return have;
}

/** These and all they are made of, each before what it is made of. */
function topDown(book: Book, roots: readonly NodeRef[]): readonly NodeRef[] {
  const done: NodeRef[] = [];
  const opened = new Set<string>();
  const stack: { readonly ref: NodeRef; readonly below: readonly NodeRef[]; at: number }[] = [];
  const open = (ref: NodeRef): void => {
    if (opened.has(keyOf(ref)) || !book.shelves[ref.kind].has(ref.id)) return;
    opened.add(keyOf(ref));
    stack.push({ ref, below: [...madeOf(book, ref)].reverse(), at: 0 });
  };
  // What is finished last stands first: so everything is gone through from its last, to come out in its own order.
  for (const root of [...roots].reverse()) {
    open(root);
    for (let top = stack.at(-1); top !== undefined; top = stack.at(-1)) {
      const next = top.below[top.at];
      top.at += 1;
      if (next === undefined) { stack.pop(); done.push(top.ref); }
      else open(next);
    }
  }
  return done.reverse();
}

function madeOf(book: Book, ref: NodeRef): readonly NodeRef[] {
  switch (ref.kind) {
    case "dish": return (book.shelves.dish.get(ref.id)?.lines ?? []).map(({ of }) => of);
    case "recipe": return (book.shelves.recipe.get(ref.id)?.lines ?? []).map(({ of }) => of);
    case "spec": { const spec = book.shelves.spec.get(ref.id); return spec === undefined ? [] : [{ kind: "cut", id: spec.cutId }]; }
    case "cut": { const cut = book.shelves.cut.get(ref.id); return cut === undefined ? [] : [cut.of]; }
    case "item": return [];
  }
}

/** A cut with what has to be bought for it, before it is known which cuts share their pieces. */
interface Member {
  readonly cut: Cut;
  readonly tests: readonly YieldTest[];
  /** q, base units of the cut's measure. */
  readonly quantity: Ratio;
  /** What was wanted of it, by the mean yield. */
  readonly needed: Ratio;
  /** Base units of what it is cut from for each base unit of the tests' measure. */
  readonly through: Ratio;
  readonly piece: Ratio | null;
}

/** Cuts that come off the same pieces. */
interface Group {
  readonly key: string;
  readonly members: readonly Member[];
}

function joinGroup(groups: Map<string, Group[]>, at: string, member: Member): void {
  const key = member.tests.length === 0 ? `borrowed ${member.cut.id}` : [...member.cut.testIds].sort().join(" ");
  const known = groups.get(at) ?? [];
  const same = known.find((group) => group.key === key);
  const grown: Group = { key, members: [...(same?.members ?? []), member] };
  groups.set(at, same === undefined ? [...known, grown] : known.map((group) => (group === same ? grown : group)));
}

function cutNeed(book: Book, cut: Cut, needed: Ratio, demand: Demand, sureness: Exact | null): { readonly need: CutNeed; readonly member: Member | null; readonly missing: readonly Missing[] } {
  const kind = cutKind(book, cut.id) ?? "mass";
  const known = yieldOf(book, cut);
  // Base units of what it is cut from for each that its tests are told in.
  const through = lineInBase(book, { key: "", of: cut.of, quantity: { amount: ONE_OF_A_UNIT, unit: BASE_UNIT[kind] }, note: "" });
  const missing = [...demand.missing.values()];
  const base = { cutId: cut.id, name: cut.name, needed, kind, counted: demand.counted, tests: known?.tests.length ?? 0, worked: adoptedTests(book, cut)?.[0]?.kind ?? null, borrowed: borrowedInUse(cut) !== null, comesWith: null };
  if (known === null || !through.ok) {
    const of = known === null || through.ok ? { kind: "cut" as const, id: cut.id } : through.of;
    const lack: Missing = { what: known === null || through.ok ? "yield" : through.missing, of, name: book.shelves[of.kind].get(of.id)?.name ?? of.id };
    return { need: { ...base, bought: null, pieces: null }, member: null, missing: ratio.sign(needed) > 0 ? [...missing, lack] : missing };
  }
  if (ratio.sign(needed) === 0) return { need: { ...base, bought: null, pieces: null }, member: null, missing };
  const bought = quantityFor(needed, known, sureness);
  const pieces = known.piece === null ? null : ratio.ceil(ratio.div(bought.quantity, known.piece));
  return {
    need: { ...base, bought, pieces },
    member: { cut, tests: adoptedTests(book, cut) ?? [], quantity: bought.quantity, needed, through: through.amount, piece: known.piece },
    missing,
  };
}

/** How a cut comes off: by its tests pooled, else as borrowed; null where nothing tells it. */
export function yieldOf(book: Book, cut: Cut): CutYield | null {
  const borrowed = borrowedInUse(cut);
  if (borrowed !== null) return { yield: ratio.fromExact(borrowed.share), piece: null, tests: [] };
  const tests = adoptedTests(book, cut);
  if (tests === null || tests.length === 0) return null;
  const yields = testYields(tests.map((test) => ({ id: test.id, sheet: test })), cut.partKey);
  if (!yields.ok) return null;
  const billed = ratio.sum(yields.value.map((test) => test.billed));
  return {
    yield: ratio.div(ratio.sum(yields.value.map((test) => test.usable)), billed),
    piece: ratio.div(billed, ratio.sum(yields.value.map((test) => test.pieces))), tests: yields.value,
  };
}

/** What else is on the block when so much is cut: by-products, and cuts of the same pieces that nobody asked for, or not so much of. */
function comesOut(book: Book, members: readonly Member[], deciding: Member): readonly ByProduct[] {
  const pooled = deciding.tests.length === 0 ? null : poolWeights(deciding.tests);
  const read = pooled?.ok === true ? readWeights(pooled.value) : null;
  if (read?.ok !== true) return [];
  const { billed, measure, parts } = read.value;
  const values = valuesOf(deciding.tests);
  const ofName = book.shelves[deciding.cut.of.kind].get(deciding.cut.of.id)?.name ?? deciding.cut.of.id;
  return parts.flatMap(({ key, name, role, weight }): readonly ByProduct[] => {
    const whole = ratio.mul(deciding.quantity, ratio.div(weight, billed));
    const base = { name, of: deciding.cut.of, ofName, kind: measure };
    if (role === "by-product") {
      const value = values.get(key);
      return [{ ...base, amount: whole, instead: value === undefined || value.kind === "typed" ? null : { kind: value.kind, id: value.id } }];
    }
    if (role !== "main") return [];
    const wanted = ratio.sum(members.filter(({ cut }) => cut.partKey === key).map(({ needed }) => needed));
    const rest = ratio.sub(whole, wanted);
    // Of the cut that decides only what sureness put on top would be left: it is not counted on.
    return key === deciding.cut.partKey || ratio.sign(rest) <= 0 ? [] : [{ ...base, amount: rest, instead: null }];
  });
}

/** One line for each by-product of one thing. */
function together(found: readonly ByProduct[]): readonly ByProduct[] {
  const merged: ByProduct[] = [];
  for (const one of found) {
    const at = merged.findIndex((other) => other.name === one.name && isSameOrigin(other.of as Cut["of"], one.of as Cut["of"]) && other.kind === one.kind && other.instead?.id === one.instead?.id);
    const known = merged[at];
    if (known === undefined) merged.push(one);
    else merged[at] = { ...known, amount: ratio.add(known.amount, one.amount) };
  }
  return merged;
}
