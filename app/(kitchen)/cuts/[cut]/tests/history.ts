/**
 * The yield history of a cut, gathered for its page: every test that could stand behind it with what it yielded, and
 * what the tests say together. The cost follows from the tests behind the cut; how yields lie is told by all that are
 * not left out, so that a decision not taken yet is not lost. Nothing is computed here: it asks lib/yield and
 * lib/cascade. Server only.
 */
import { type Cut, type MatchingTest, type PortionSpec, type Item, changedSince, costingQuote, factName, matchingTests } from "@/lib/book";
import { type TestsAtToday, priceThenAndNow, testsAtToday, valuedSheet } from "@/lib/cascade";
import { type Checked, type Ratio, printDay, quantityText } from "@/lib/measure";
import type { LiveBook } from "@/lib/store";
import {
  type AgainstEarlier, type Circumstances, type ConditionChange, type IndividualsChart, type MeanInterval, type NextInterval, type OutlierCheck, type Spread, type StaleReason,
  type TestGroup, type TestYield, againstEarlier, byDay, figuresOf, individualsChart, intervalOfNext, intervalOfPooled, outliersOf, spreadOf, stalenessOf, testYield, totalLoss,
} from "@/lib/yield";
import type { OpenKitchen } from "../../../open-kitchen";

export interface HistoryRow extends MatchingTest {
  readonly dealer: string;
  /** null where the sheet gives none. */
  readonly yield: TestYield | null;
  readonly loss: Ratio | null;
  /** It stands far from the others. */
  readonly flagged: boolean;
}

export interface CutHistory {
  /** Newest first. */
  readonly rows: readonly HistoryRow[];
  /** The tests the cost follows from, oldest first. */
  readonly behind: readonly TestYield[];
  /** All that are not left out, oldest first. */
  readonly counted: readonly TestYield[];
  readonly pooled: Checked<Spread>;
  readonly spread: Checked<Spread>;
  readonly mean: Checked<MeanInterval>;
  /** The mean by the tests behind the cut alone, where others count as well. */
  readonly meanBehind: Checked<MeanInterval> | null;
  readonly next: Checked<NextInterval>;
  readonly chart: Checked<IndividualsChart>;
  readonly outliers: Checked<OutlierCheck>;
  /** The newest test against those before it. */
  readonly newest: AgainstEarlier | null;
  readonly stale: readonly StaleReason[];
  readonly today: TestsAtToday;
}

export async function historyOf(open: OpenKitchen, cut: Cut): Promise<CutHistory> {
  const { live } = open;
  const { book, cascade } = live;
  const matching = matchingTests(book, cut);
  const read = matching.map((one) => {
    const own = testYield(one.test.id, one.test, cut.partKey);
    const figures = figuresOf(valuedSheet(cascade, one.test), cut.joint);
    return {
      ...one, flagged: false, yield: own.ok ? own.value : null, loss: figures.ok ? totalLoss(figures.value) : null,
      dealer: one.test.dealerId === null ? "" : factName(book, "dealer", one.test.dealerId),
    };
  });
  const yieldsOf = (kinds: readonly MatchingTest["standing"]["kind"][]): readonly TestYield[] =>
    byDay(read.flatMap((row) => (row.yield !== null && kinds.includes(row.standing.kind) ? [row.yield] : [])));
  const behind = yieldsOf(["behind"]);
  const counted = yieldsOf(["behind", "undecided"]);
  const outliers = outliersOf(counted);
  const flagged = new Set(outliers.ok ? outliers.value.flagged.map(({ test }) => test.id) : []);
  const chart = individualsChart(counted);
  const latest = counted.at(-1);
  const against = latest === undefined ? null : againstEarlier(latest, counted.slice(0, -1));
  return {
    rows: read.map((row) => ({ ...row, flagged: flagged.has(row.test.id) })),
    behind, counted,
    pooled: spreadOf(behind), spread: spreadOf(counted), mean: intervalOfPooled(counted), next: intervalOfNext(counted),
    meanBehind: behind.length === counted.length ? null : intervalOfPooled(behind),
    chart, outliers,
    newest: against?.ok ? against.value : null,
    stale: await staleness(open, cut, matching, chart.ok ? chart.value : null),
    today: testsAtToday(cascade, cut, matching.map((one) => one.test)),
  };
}

/** Every reason to doubt the tests behind the cut; none while there is no test. */
async function staleness(open: OpenKitchen, cut: Cut, matching: readonly MatchingTest[], chart: IndividualsChart | null): Promise<readonly StaleReason[]> {
  const { live } = open;
  const behind = matching.filter(({ standing }) => standing.kind === "behind").map(({ test }) => test);
  const newest = behind[0];
  if (newest === undefined) return [];
  return stalenessOf({
    testedOn: newest.on, today: live.today, tests: behind.length, chart,
    changes: await conditionChanges(open, cut, newest),
    price: priceThenAndNow(live.cascade, cut, newest),
  });
}

/** What the tests were made under and is otherwise now, from the record of each fact that says it. */
async function conditionChanges({ store, kitchenId, live, kitchen }: OpenKitchen, cut: Cut, newest: MatchingTest["test"]): Promise<readonly ConditionChange[]> {
  const { book, today } = live;
  const specs = [...book.shelves.spec.values()].filter((spec) => spec.cutId === cut.id);
  const [cuts, origins, ...portions] = await Promise.all([
    store.revisionsOf(kitchenId, "cut", cut.id), store.revisionsOf(kitchenId, cut.of.kind, cut.of.id), ...specs.map((spec) => store.revisionsOf(kitchenId, "spec", spec.id)),
  ]);
  const dealerOf = (item: Item): string => (item.dealerId === null ? "" : factName(book, "dealer", item.dealerId));
  const size = (spec: PortionSpec): string => `${spec.name} at ${quantityText(spec.size, kitchen)}`;
  const told = (what: ConditionChange["what"], change: ReturnType<typeof changedSince>): readonly ConditionChange[] => (change === null ? [] : [{ what, ...change }]);
  const dealer = cut.of.kind === "item" ? told("dealer", changedSince(as<Item>(origins), dealerOf, newest.on, today)) : [];
  return [
    ...(dealer.length > 0 ? dealer : otherDealer(live, cut, newest)),
    ...(cut.of.kind === "item" ? told("specification", changedSince(as<Item>(origins), (item) => item.specification, newest.on, today)) : told("cutting", changedSince(as<Cut>(origins), (one) => one.specification, newest.on, today))),
    ...told("cutting", changedSince(as<Cut>(cuts), (one) => one.specification, newest.on, today)),
    ...portions.flatMap((revisions) => told("portion", changedSince(as<PortionSpec>(revisions), size, newest.on, today))),
  ];
}

/** The newest test was made of another dealer's goods than the cost counts on. */
function otherDealer({ book }: LiveBook, cut: Cut, newest: MatchingTest["test"]): readonly ConditionChange[] {
  const quote = cut.of.kind === "item" ? costingQuote(book, cut.of.id) : null;
  if (quote === null || newest.dealerId === null || quote.dealerId === newest.dealerId) return [];
  return [{ what: "dealer", on: null, before: factName(book, "dealer", newest.dealerId), after: factName(book, "dealer", quote.dealerId) }];
}

/** The revisions of a fact, which all hold facts of its kind. */
function as<F>(revisions: Awaited<ReturnType<OpenKitchen["store"]["revisionsOf"]>>): readonly { readonly revision: number; readonly validFrom: string; readonly replacedBy: number | null; readonly fact: F | null }[] {
  return revisions.map(({ revision, validFrom, replacedBy, fact }) => ({ revision, validFrom, replacedBy, fact: fact as F | null }));
}

export type ComparedBy = "dealer" | "cutter" | "date";

/** The counted tests in groups, with what else is known of each. Tests of which it is not known stand in no group. */
export function groupsBy(history: CutHistory, by: ComparedBy, since: string, kitchen: OpenKitchen["kitchen"]): { readonly groups: readonly TestGroup[]; readonly known: ReadonlyMap<string, Circumstances>; readonly unknown: number } {
  const rows = new Map(history.rows.map((row) => [row.test.id, row]));
  const day = printDay(since, kitchen);
  const groups = new Map<string, TestYield[]>(by === "date" ? [[`before ${day}`, []], [`since ${day}`, []]] : []);
  let unknown = 0;
  for (const test of history.counted) {
    const row = rows.get(test.id);
    const name = by === "dealer" ? row?.dealer : by === "cutter" ? row?.test.cutter : (test.on ?? "") < since ? `before ${day}` : `since ${day}`;
    if (name === undefined || name === "") unknown += 1;
    else groups.set(name, [...(groups.get(name) ?? []), test]);
  }
  const known = new Map(history.rows.map(({ test, dealer }) => [test.id, { ...(dealer === "" ? {} : { dealer }), ...(test.cutter === "" ? {} : { cutter: test.cutter }) }]));
  return { groups: [...groups].map(([name, tests]) => ({ name, tests })), known, unknown };
}
