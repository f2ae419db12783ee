/**
 * What a usual week takes of everything in the house, on average: plates down through recipes, portions and cuts to what
 * is worked at the block, and what comes off there beside. Nothing is rounded to pieces or packs, since a week is one of
 * many; an order, which is made once, is (order-needs.ts). Cuts by the same tests come off the same pieces: as many are
 * worked as the one asks that needs the most. A credit is no demand: that a recipe takes the trim makes no trim.
 */
import { type Book, type Cut, type Line, type SalesWeek, borrowedInUse, cutWeight, lineInBase } from "@/lib/book";
import { type Cascade, type NodeRef, adoptedTests, keyOf } from "@/lib/cascade";
import { type Kind, type Ratio, BASE_UNIT, exact, ratio } from "@/lib/measure";
import { wholePortionLine, yieldLine } from "@/lib/yield";

/** Pieces of one origin worked by the same tests. */
export interface Worked {
  readonly of: Cut["of"];
  readonly cuts: readonly Cut[];
  /** Billed, base units of `measure` a week. */
  readonly billed: Ratio;
  readonly measure: Kind;
}

/** So much of something goes into a user in a week, in the something's own base units. */
export interface Use {
  readonly by: NodeRef;
  readonly amount: Ratio;
}

export interface Week {
  /** By `keyOf`, in each node's own base: g, mL, each, portions, batches, plates. Absent: none. */
  readonly amounts: ReadonlyMap<string, Ratio>;
  readonly worked: readonly Worked[];
  /** Of each item, by its id, what takes it straight. */
  readonly uses: ReadonlyMap<string, readonly Use[]>;
  /** By `keyOf`: more of it may be taken than is told, since some quantity of it cannot be turned into its own measure. */
  readonly atLeast: ReadonlySet<string>;
}

/** Plates sold a week by dish, exactly: what was sold in these weeks over how many they are. Empty without weeks. */
export function platesAWeek(weeks: readonly SalesWeek[]): ReadonlyMap<string, Ratio> {
  const totals = new Map<string, Ratio>();
  for (const { dishId, count } of weeks.flatMap((week) => week.sold)) totals.set(dishId, ratio.add(totals.get(dishId) ?? ratio.ZERO, ratio.fromExact(count)));
  return new Map([...totals].map(([dishId, total]) => [dishId, ratio.div(total, ratio.of(BigInt(weeks.length)))]));
}

interface Taken {
  readonly key: string;
  /** Base units of it for one of the taker's; null: cannot be told. */
  readonly amount: Ratio | null;
}

/** What these plates take, by dish. A plate is told at the table: what only goes with one that is taken away is not in it. */
export function weekOf(cascade: Cascade, plates: ReadonlyMap<string, Ratio>): Week {
  const { book } = cascade;
  const groups = groupsOf(cascade);
  const nodes = new Map<string, readonly Taken[]>();
  const order = downwards([...plates.keys()].map((id) => `dish:${id}`), (key) => {
    const found = takenBy(book, groups, key);
    nodes.set(key, found);
    return found.map((one) => one.key);
  });
  const amounts = new Map<string, Ratio>();
  const uses = new Map<string, Use[]>();
  const atLeast = new Set<string>();
  for (const [id, count] of plates) amounts.set(`dish:${id}`, count);
  for (const key of order) {
    const own = amounts.get(key) ?? ratio.ZERO;
    for (const { key: of, amount } of nodes.get(key) ?? []) {
      if (amount === null || atLeast.has(key)) atLeast.add(of);
      const takes = amount === null ? ratio.ZERO : ratio.mul(own, amount);
      const known = amounts.get(of) ?? ratio.ZERO;
      // Cuts off the same pieces share them.
      amounts.set(of, of.startsWith("group:") ? ratio.greater(known, takes) : ratio.add(known, takes));
      const by = takerOf(groups, key);
      if (!of.startsWith("item:") || by === null || ratio.sign(takes) === 0) continue;
      const list = uses.get(of.slice("item:".length)) ?? [];
      uses.set(of.slice("item:".length), list);
      list.push({ by, amount: takes });
    }
  }
  return {
    amounts: new Map([...amounts].filter(([key]) => !key.startsWith("group:"))), atLeast,
    worked: [...groups.values()].map(({ key, cuts, of, measure }) => ({ of, cuts, measure, billed: amounts.get(key) ?? ratio.ZERO })), uses,
  };
}

interface Group {
  readonly key: string;
  readonly of: Cut["of"];
  readonly measure: Kind;
  readonly cuts: Cut[];
  /** By cut: billed for one usable. */
  readonly perUsable: Map<string, Ratio>;
}

/** Cuts on tests of their own, those on the same tests of the same thing together. */
function groupsOf(cascade: Cascade): ReadonlyMap<string, Group> {
  const groups = new Map<string, Group>();
  for (const cut of cascade.book.shelves.cut.values()) {
    const tests = adoptedTests(cascade.book, cut);
    const line = tests === null || tests.length === 0 ? null : yieldLine(tests, cut.partKey, cut.joint);
    if (!line?.ok) continue;
    const key = groupKey(cut);
    const group = groups.get(key) ?? { key, of: cut.of, measure: line.value.measure, cuts: [], perUsable: new Map<string, Ratio>() };
    groups.set(key, group);
    group.cuts.push(cut);
    group.perUsable.set(cut.id, ratio.div(ratio.ONE, line.value.yield));
  }
  return groups;
}

function groupKey(cut: Cut): string {
  return `group:${cut.of.kind}:${cut.of.id}:${[...cut.testIds].sort().join(" ")}`;
}

const ONE = exact("1");

function takenBy(book: Book, groups: ReadonlyMap<string, Group>, key: string): readonly Taken[] {
  const colon = key.indexOf(":");
  const kind = key.slice(0, colon);
  const id = key.slice(colon + 1);
  const of = (line: Line): Taken => {
    const told = lineInBase(book, line);
    return { key: keyOf(line.of), amount: told.ok ? told.amount : null };
  };
  switch (kind) {
    case "dish": return (book.shelves.dish.get(id)?.lines ?? []).filter((line) => line.channel !== "away").map(of);
    case "recipe": return (book.shelves.recipe.get(id)?.lines ?? []).map(of);
    case "spec": {
      const spec = book.shelves.spec.get(id);
      if (spec === undefined) return [];
      if (spec.costing === "by-weight") return [of({ key: id, of: { kind: "cut", id: spec.cutId }, quantity: cutWeight(spec), note: "" })];
      const cut = book.shelves.cut.get(spec.cutId);
      const tests = cut === undefined ? null : adoptedTests(book, cut);
      const counted = cut === undefined || tests === null ? null : wholePortionLine(tests, cut.partKey, cutWeight(spec));
      return [{ key: `cut:${spec.cutId}`, amount: counted?.ok ? counted.value.usablePerPortion : null }];
    }
    case "cut": {
      const cut = book.shelves.cut.get(id);
      if (cut === undefined) return [];
      const group = groups.get(groupKey(cut));
      if (group?.perUsable.has(id)) return [{ key: group.key, amount: group.perUsable.get(id) ?? null }];
      const borrowed = borrowedInUse(cut);
      return [{ key: keyOf(cut.of), amount: borrowed === null ? null : ratio.div(ratio.ONE, ratio.fromExact(borrowed.share)) }];
    }
    case "group": {
      const group = groups.get(key);
      return group === undefined ? [] : [of({ key, of: group.of, quantity: { amount: ONE, unit: BASE_UNIT[group.measure] }, note: "" })];
    }
    default: return [];
  }
}

/** Whose line it is: pieces at the block are worked for their cut. */
function takerOf(groups: ReadonlyMap<string, Group>, key: string): NodeRef | null {
  const colon = key.indexOf(":");
  const kind = key.slice(0, colon);
  if (kind === "group") {
    const [cut] = groups.get(key)?.cuts ?? [];
    return cut === undefined ? null : { kind: "cut", id: cut.id };
  }
  return kind === "dish" || kind === "recipe" || kind === "spec" || kind === "cut" ? { kind, id: key.slice(colon + 1) } : null;
}

/** Every key that can be reached, each before all that it takes; with its own stack, so that no depth overflows anything. */
function downwards(starts: readonly string[], takes: (key: string) => readonly string[]): readonly string[] {
  const done: string[] = [];
  const seen = new Set<string>();
  const stack: { readonly key: string; readonly next: readonly string[]; at: number }[] = [];
  const enter = (key: string): void => {
    if (seen.has(key)) return;
    seen.add(key);
    stack.push({ key, next: takes(key), at: 0 });
  };
  for (const start of starts) {
    enter(start);
    for (let top = stack.at(-1); top !== undefined; top = stack.at(-1)) {
      const next = top.next[top.at];
      if (next === undefined) {
        done.push(top.key);
        stack.pop();
      } else {
        top.at += 1;
        enter(next);
      }
    }
  }
  return done.reverse();
}
