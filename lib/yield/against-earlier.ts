/**
 * What the cook at the block asks when the last part is weighed: is this usual, or was it me? One line: the usable share, where
 * it lies in the interval of the next piece drawn from the earlier tests (never from this one), and how it ranks among the
 * last ten. With fewer than five earlier tests no usual range is claimed; what they gave is told instead.
 */
import { type Checked, type Decimal, type Habits, type Ratio, good, printShare, ratio } from "@/lib/measure";
import { LAST_TESTS, TESTS_TO_PRICE, USUAL_LEVEL } from "./house-limits";
import { intervalOfNext, levelProblem } from "./interval";
import { type TestYield, byDay } from "./test-yield";

/** How a test ranks among the last tests before it. */
export interface Rank {
  readonly among: number;
  readonly lowerThan: number;
  readonly higherThan: number;
}

export type AgainstEarlier =
  | { readonly kind: "first"; readonly yield: Ratio }
  | { readonly kind: "few"; readonly yield: Ratio; readonly rank: Rank; readonly least: Ratio; readonly greatest: Ratio }
  | { readonly kind: "within" | "below" | "above"; readonly yield: Ratio; readonly rank: Rank; /** The usual range, ends included. */ readonly low: Decimal; readonly high: Decimal; readonly level: Ratio };

/**
 * A test against the earlier ones; itself among them is passed over. Within includes the ends. A test of several pieces is
 * held against what so many pieces together yield. Problem: level-out-of-range.
 */
export function againstEarlier(latest: TestYield, earlier: readonly TestYield[], level: Ratio = USUAL_LEVEL): Checked<AgainstEarlier> {
  const unfit = levelProblem(level);
  if (unfit !== null) return unfit;
  const others = byDay(earlier.filter((test) => test.id !== latest.id));
  const last = others.slice(-LAST_TESTS);
  if (last.length === 0) return good({ kind: "first", yield: latest.yield });
  const rank = {
    among: last.length,
    lowerThan: last.filter((test) => ratio.compare(latest.yield, test.yield) < 0).length,
    higherThan: last.filter((test) => ratio.compare(latest.yield, test.yield) > 0).length,
  };
  if (others.length < TESTS_TO_PRICE) {
    const [least = latest.yield, ...more] = last.map((test) => test.yield).sort(ratio.compare);
    return good({ kind: "few", yield: latest.yield, rank, least, greatest: more.at(-1) ?? least });
  }
  const usual = intervalOfNext(others, level, latest.pieces);
  if (!usual.ok) return usual;
  const { low, high } = usual.value;
  const own = ratio.toDecimal(latest.yield);
  return good({ kind: own.lt(low) ? "below" : own.gt(high) ? "above" : "within", yield: latest.yield, rank, low, high, level });
}

/** The one line: "66.1 % usable: below the usual 68.2 to 74.0 %, lower than 9 of the last 10." */
export function sayAgainstEarlier(result: AgainstEarlier, habits: Pick<Habits, "locale">): string {
  const usable = `${figure(ratio.toDecimal(result.yield), habits)} % usable`;
  switch (result.kind) {
    case "first":
      return `${usable}. The first test of this: nothing to hold it against yet.`;
    case "few": {
      const same = ratio.compare(result.least, result.greatest) === 0;
      const gave = same ? `${figure(ratio.toDecimal(result.least), habits)} %` : `${figure(ratio.toDecimal(result.least), habits)} to ${figure(ratio.toDecimal(result.greatest), habits)} %`;
      return `${usable}. ${result.rank.among === 1 ? "The only test before gave" : `The ${result.rank.among} tests before gave`} ${gave}: too few to call a range usual.`;
    }
    case "within":
    case "below":
    case "above":
      return `${usable}: ${result.kind} the usual ${figure(result.low, habits)} to ${figure(result.high, habits)} %${sayRank(result.rank)}.`;
  }
}

/** How it ranks, where it stands beyond three quarters of the last tests; in their midst there is nothing to say. */
function sayRank({ among, lowerThan, higherThan }: Rank): string {
  const [word, count] = lowerThan > higherThan ? ["lower", lowerThan] : ["higher", higherThan];
  if (count * 4 < among * 3) return "";
  return `, ${word} than ${count === among ? "all" : count} of the last ${among}`;
}

function figure(share: Decimal, habits: Pick<Habits, "locale">): string {
  return printShare(share, habits);
}
