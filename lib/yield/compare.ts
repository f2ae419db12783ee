/**
 * Comparing groups of tests: dealers, cutters, grades, before and since a day. Two groups by Welch's t test, which does not
 * ask that both spread alike; more than two pair by pair, with Holm's correction, since who compares ten pairs will find one
 * that differs by chance. The verdict is one of three: one yields more than the other and by how much; no difference that
 * these tests can tell; too few tests to tell. The last two are not the same, and neither says that there is no difference.
 *
 * Assumed: tests independent of each other, normal within a group, a test of k pieces worked together being the mean of k
 * pieces of about one size (it counts k times). And that nothing else differs between the groups: see `confounding.ts`.
 * Sources: Welch (1947); Holm (1979); NIST/SEMATECH e-Handbook 1.3.5.3. Weights by pieces derived.
 */
import { type Checked, Decimal, type Problem, type Ratio, bad, good, ratio } from "@/lib/measure";
import { deviationsOf, rootOf, varianceOf } from "./deviations";
import { TESTS_TO_START, USUAL_LEVEL } from "./house-limits";
import { levelProblem } from "./interval";
import { shareBeyond, tHolding } from "./student-t";
import type { TestYield } from "./test-yield";

export interface TestGroup {
  /** As people say it: "Harbour Meats", "since 2 June". */
  readonly name: string;
  readonly tests: readonly TestYield[];
}

export interface YieldDifference {
  /** Mean yield of `a` less that of `b`, a share of one. */
  readonly by: Ratio;
  /** The interval of that difference, at `level`: where more than two groups are compared, wider as Holm's step asks. */
  readonly low: Decimal;
  readonly high: Decimal;
  readonly level: Ratio;
  readonly t: Decimal;
  /** Welch's degrees of freedom, seldom whole. */
  readonly degrees: Decimal;
  /** The chance of a difference as large from groups that do not differ: of this pair alone, and corrected for all pairs. */
  readonly chance: Decimal;
  readonly correctedChance: Decimal;
}

export type ComparisonVerdict =
  /** `more` yields more than `less`, by between `least` and `most`. */
  | { readonly kind: "more"; readonly more: string; readonly less: string; readonly by: Decimal; readonly least: Decimal; readonly most: Decimal }
  /** The interval of the difference holds zero. */
  | { readonly kind: "cannot-tell" }
  /** A group has fewer tests than a comparison needs. */
  | { readonly kind: "too-few"; readonly needed: number; readonly groups: readonly { readonly name: string; readonly tests: number }[] }
  /** No test differs from another within either group: weighings do not repeat so well, and nothing can be judged by them. */
  | { readonly kind: "no-spread" };

export interface Comparison {
  readonly a: string;
  readonly b: string;
  /** null where the verdict is too-few or no-spread. */
  readonly difference: YieldDifference | null;
  readonly verdict: ComparisonVerdict;
}

/** A pair that can be judged, before it is known how sure its interval must be. */
interface Welch {
  readonly by: Ratio;
  readonly error: Decimal;
  readonly t: Decimal;
  readonly degrees: Decimal;
  readonly chance: Decimal;
}

/**
 * Every pair of groups, in the order of the groups. `level` holds for all pairs together: with two groups it is that of the
 * one interval; with more, Holm's: the k-th surest of m pairs is judged at 1 − α/(m − k + 1), and once a pair cannot be told
 * no less sure one is; each interval is the one its pair was judged by, so verdict and interval always agree.
 * Problems: one-group; group-twice; test-in-both, when a test stands in two groups; level-out-of-range.
 */
export function compareGroups(groups: readonly TestGroup[], level: Ratio = USUAL_LEVEL): Checked<readonly Comparison[]> {
  const unfit = levelProblem(level);
  if (unfit !== null) return unfit;
  if (groups.length < 2) return bad("groups", "one-group", "A comparison needs at least two groups of tests: choose another dealer, cutter, grade or span of days.");
  const problems = groupProblems(groups);
  if (problems.length > 0) return { ok: false, problems };

  const pairs = groups.flatMap((a, index) => groups.slice(index + 1).map((b) => ({ a, b, welch: welch(a, b) })));
  const judged = judgedTogether(pairs.flatMap(({ welch: found }) => (found === null ? [] : [found])), level);
  return good(
    pairs.map(({ a, b, welch: found }): Comparison => {
      const short = [a, b].filter((group) => group.tests.length < TESTS_TO_START);
      if (short.length > 0) {
        return { a: a.name, b: b.name, difference: null, verdict: { kind: "too-few", needed: TESTS_TO_START, groups: short.map((group) => ({ name: group.name, tests: group.tests.length })) } };
      }
      const difference = found === null ? undefined : judged.get(found);
      if (difference === undefined) return { a: a.name, b: b.name, difference: null, verdict: { kind: "no-spread" } };
      return { a: a.name, b: b.name, difference, verdict: verdictOf(a.name, b.name, difference) };
    }),
  );
}

/** Two groups by Welch's t test. Problems: as `compareGroups`. */
export function compareTwo(a: TestGroup, b: TestGroup, level: Ratio = USUAL_LEVEL): Checked<Comparison> {
  const compared = compareGroups([a, b], level);
  if (!compared.ok) return compared;
  const [only] = compared.value;
  if (only === undefined) throw new Error("expected two groups to make one pair");
  return good(only);
}

/** Holm's corrected chances, in the order given: the k-th least of m counts (m − k + 1) times, at most 1, and never less than one before it. */
export function holm(chances: readonly Decimal[]): readonly Decimal[] {
  const corrected = chances.map(() => new Decimal(1));
  let before = new Decimal(0);
  for (const [k, index] of bySureness(chances).entries()) {
    before = Decimal.min(1, Decimal.max(before, (chances[index] ?? before).mul(chances.length - k)));
    corrected[index] = before;
  }
  return corrected;
}

/**
 * With s_g² what single pieces of group g differ by and M_g its pieces, v_g = s_g²/M_g: t = (ȳ_a − ȳ_b)/√(v_a + v_b), of
 * (v_a + v_b)²/(v_a²/(n_a − 1) + v_b²/(n_b − 1)) degrees. null with too few tests, or none that differ.
 */
function welch(a: TestGroup, b: TestGroup): Welch | null {
  if (a.tests.length < TESTS_TO_START || b.tests.length < TESTS_TO_START) return null;
  const [one, other] = [a, b].map((group) => {
    const found = deviationsOf(group.tests.map((test) => ({ value: test.yield, weight: test.pieces })));
    const v = ratio.div(varianceOf(found) ?? ratio.ZERO, found.weight);
    return { mean: found.mean, v, perDegree: ratio.div(ratio.mul(v, v), ratio.of(BigInt(found.count - 1))) };
  });
  if (one === undefined || other === undefined) return null;
  const v = ratio.add(one.v, other.v);
  if (ratio.sign(v) === 0) return null;
  const by = ratio.sub(one.mean, other.mean);
  const error = rootOf(v);
  const t = ratio.toDecimal(by).div(error);
  const degrees = ratio.toDecimal(ratio.div(ratio.mul(v, v), ratio.add(one.perDegree, other.perDegree)));
  return { by, error, t, degrees, chance: shareBeyond(t, degrees) };
}

/** Holm's steps over all pairs that can be judged, and for each the interval at its own step. */
function judgedTogether(pairs: readonly Welch[], level: Ratio): ReadonlyMap<Welch, YieldDifference> {
  const chances = pairs.map((pair) => pair.chance);
  const corrected = holm(chances);
  const doubt = ratio.sub(ratio.ONE, level);
  const judged = new Map<Welch, YieldDifference>();
  let stopped: number | null = null;
  for (const [k, index] of bySureness(chances).entries()) {
    const pair = pairs[index];
    if (pair === undefined) continue;
    const counted: number = stopped ?? pairs.length - k;
    const own = ratio.sub(ratio.ONE, ratio.div(doubt, ratio.of(BigInt(counted))));
    const reach = tHolding(ratio.toDecimal(own), pair.degrees).mul(pair.error);
    const by = ratio.toDecimal(pair.by);
    const difference = { by: pair.by, low: by.minus(reach), high: by.plus(reach), level: own, t: pair.t, degrees: pair.degrees, chance: pair.chance, correctedChance: corrected[index] ?? pair.chance };
    if (stopped === null && holdsZero(difference)) stopped = counted;
    judged.set(pair, difference);
  }
  return judged;
}

function verdictOf(a: string, b: string, difference: YieldDifference): ComparisonVerdict {
  if (holdsZero(difference)) return { kind: "cannot-tell" };
  const by = ratio.toDecimal(difference.by);
  return difference.low.gt(0)
    ? { kind: "more", more: a, less: b, by, least: difference.low, most: difference.high }
    : { kind: "more", more: b, less: a, by: by.neg(), least: difference.high.neg(), most: difference.low.neg() };
}

function holdsZero({ low, high }: Pick<YieldDifference, "low" | "high">): boolean {
  return low.lte(0) && high.gte(0);
}

/** Places of the chances from the least to the greatest; equals in the order given. */
function bySureness(chances: readonly Decimal[]): readonly number[] {
  return chances.map((chance, index) => ({ chance, index })).sort((a, b) => a.chance.comparedTo(b.chance)).map(({ index }) => index);
}

function groupProblems(groups: readonly TestGroup[]): readonly Problem[] {
  const problems: Problem[] = [];
  const names = new Set<string>();
  const homes = new Map<string, string>();
  for (const [index, group] of groups.entries()) {
    if (names.has(group.name)) problems.push({ path: `groups.${index}.name`, code: "group-twice", sentence: `Two groups are called ${group.name}: give each a name of its own.` });
    names.add(group.name);
    for (const test of new Set(group.tests.map((each) => each.id))) {
      const home = homes.get(test);
      if (home !== undefined) problems.push({ path: `groups.${index}.tests`, code: "test-in-both", sentence: `A test stands both in ${home} and in ${group.name}: a test can speak for one group only.` });
      else homes.set(test, group.name);
    }
  }
  return problems;
}
