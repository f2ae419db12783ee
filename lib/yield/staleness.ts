/**
 * Whether a test still stands, told reason by reason: the goods, the cut or the people changed since; it is old; few tests
 * stand behind it; the dealer's price moved far; the control chart signals. A stale test is still used, since a doubted
 * figure beats none, but whoever sees the cost sees the doubt. What counts as old, few and far stands in `house-limits.ts`.
 *
 * A moved price does not make a test wrong: its weights hold at any price. It makes the *factor* of that day drift from
 * what by-products at their own price say, and that drift is told with it.
 */
import { Decimal, type Habits, type Rate, type Ratio, printDay, printNumber, printShare, rateText, ratio } from "@/lib/measure";
import { STALENESS_LIMITS, type StalenessLimits } from "./house-limits";
import { type IndividualsChart, newestSignal } from "./individuals-chart";
import { type YieldLine, costOfLine } from "./line";
import { rateInBase } from "./sheet";

/** What a test was made under. A change of any of them is a reason to test again. */
export type TestCondition = "dealer" | "specification" | "cutting" | "portion" | "cutter" | "cooking";

export interface ConditionChange {
  readonly what: TestCondition;
  /** The day from which it holds, "2026-06-02"; null when only the difference is known. */
  readonly on: string | null;
  /** As people would say them; "" for not said. */
  readonly before: string;
  readonly after: string;
}

export interface PriceThenAndNow {
  /** The dealer's price at the test, and today's. */
  readonly then: Rate;
  readonly now: Rate;
  /** What the test's factor tells too much (above 0) or too little, a share of the cost; null when not known. See `factorDrift`. */
  readonly factorDrift: Ratio | null;
}

export interface StandingTest {
  /** Day of the newest test behind the figure. */
  readonly testedOn: string;
  readonly today: string;
  /** How many tests stand behind it. */
  readonly tests: number;
  readonly changes: readonly ConditionChange[];
  /** null when either price is not known. */
  readonly price: PriceThenAndNow | null;
  /** null while there are too few tests for one. */
  readonly chart: IndividualsChart | null;
}

export type StaleReason =
  | { readonly code: "condition-changed"; readonly change: ConditionChange }
  | { readonly code: "old"; readonly days: number; readonly limit: number; readonly testedOn: string }
  | { readonly code: "dated-ahead"; readonly testedOn: string }
  | { readonly code: "few-tests"; readonly tests: number; readonly limit: number }
  | { readonly code: "price-moved"; readonly price: PriceThenAndNow; /** P′/P − 1. */ readonly move: Ratio }
  | { readonly code: "chart-signal"; readonly signal: "beyond" | "range-beyond" | "run" };

/** Every reason to doubt the test, those that changed the thing itself first; empty when there is none. */
export function stalenessOf(asked: StandingTest, limits: StalenessLimits = STALENESS_LIMITS): readonly StaleReason[] {
  const reasons: StaleReason[] = [];
  for (const change of asked.changes) {
    const since = change.on === null || (change.on > asked.testedOn && change.on <= asked.today);
    if (since && change.before !== change.after) reasons.push({ code: "condition-changed", change });
  }
  const signal = asked.chart === null ? null : newestSignal(asked.chart);
  if (signal !== null) reasons.push({ code: "chart-signal", signal });
  const days = daysBetween(asked.testedOn, asked.today);
  if (days < 0) reasons.push({ code: "dated-ahead", testedOn: asked.testedOn });
  if (days > limits.days) reasons.push({ code: "old", days, limit: limits.days, testedOn: asked.testedOn });
  if (asked.price !== null) {
    const then = rateInBase(asked.price.then);
    const move = ratio.sign(then) === 0 ? null : ratio.sub(ratio.div(rateInBase(asked.price.now), then), ratio.ONE);
    if (move !== null && ratio.compare(ratio.sign(move) < 0 ? ratio.neg(move) : move, limits.priceMove) > 0) reasons.push({ code: "price-moved", price: asked.price, move });
  }
  if (asked.tests < limits.tests) reasons.push({ code: "few-tests", tests: asked.tests, limit: limits.tests });
  return reasons;
}

/**
 * How far the factor of one day's prices drifts from by-products at their own price on another: (C·P′/P)/C′ − 1, with C = the line at
 * the prices then and C′ = the line at the prices now; below 0 the factor understates. P and v per base unit, v in the
 * line's order. null where there is no factor or no cost above zero. Algebra on C = (W/U)·P − Σ (w_k/U)·v_k.
 */
export function factorDrift(line: YieldLine, then: { readonly price: Ratio; readonly values: readonly Ratio[] }, now: { readonly price: Ratio; readonly values: readonly Ratio[] }): Ratio | null {
  const before = costOfLine(line, then.price, then.values);
  const after = costOfLine(line, now.price, now.values);
  if (ratio.sign(then.price) === 0 || ratio.sign(before) <= 0 || ratio.sign(after) <= 0) return null;
  return ratio.sub(ratio.div(ratio.mul(before, ratio.div(now.price, then.price)), after), ratio.ONE);
}

/** Whole days from one calendar day to another, "2026-11-21"; below 0 when `to` comes first. Throws on what is not a day. */
export function daysBetween(from: string, to: string): number {
  return (midnight(to) - midnight(from)) / 86_400_000;
}

function midnight(day: string): number {
  const told = /^(\d{4})-(\d{2})-(\d{2})$/.exec(day);
  if (told === null) throw new Error(`expected a day such as "2026-11-21", got "${day.slice(0, 20)}"`);
  return Date.UTC(Number(told[1]), Number(told[2]) - 1, Number(told[3]));
}

const CONDITIONS: Record<TestCondition, string> = {
  dealer: "The dealer",
  specification: "The purchase specification",
  cutting: "The cutting specification",
  portion: "The portion",
  cutter: "The cutter",
  cooking: "The way it is cooked",
};

const SIGNALS: Record<Extract<StaleReason, { code: "chart-signal" }>["signal"], string> = {
  beyond: "The newest test lies beyond the control limits: look for what changed before relying on the mean.",
  "range-beyond": "The newest test differs from the one before by more than tests do: look for what changed between them.",
  run: "The last tests all lie on one side of the mean: something has shifted, and the mean may no longer hold.",
};

/** One sentence of a reason, as the page says it beside the cost. */
export function sayStale(reason: StaleReason, habits: Habits): string {
  switch (reason.code) {
    case "condition-changed": {
      const { what, on, before, after } = reason.change;
      const from = before === "" ? "" : ` from ${before}`;
      const to = after === "" ? (before === "" ? "" : " to nothing said") : ` to ${after}`;
      return `${CONDITIONS[what]} changed${from}${to}${on === null ? " since the test" : `, from ${printDay(on, habits)}`}: the test was made before, so test again.`;
    }
    case "old":
      return `The newest test is ${reason.days} days old (${printDay(reason.testedOn, habits)}), over the house's ${reason.limit}: test again when you can.`;
    case "dated-ahead":
      return `The newest test is dated ${printDay(reason.testedOn, habits)}, which is still to come: check its date.`;
    case "few-tests":
      return reason.tests === 1 ? `Only one test stands behind this: make it ${reason.limit}, and the yield can be given a range.` : `Only ${reason.tests} tests stand behind this: ${reason.limit} are a start.`;
    case "price-moved": {
      const { then, now, factorDrift: drift } = reason.price;
      const way = ratio.sign(reason.move) > 0 ? "up" : "down";
      const moved = `The price went from ${rateText(then, habits)} to ${rateText(now, habits)}, ${way} ${share(reason.move, habits)}, since the test.`;
      if (drift === null || ratio.sign(drift) === 0) return `${moved} The weights hold at any price; the factor of that day may not.`;
      return `${moved} The factor of that day now tells ${share(drift, habits)} ${ratio.sign(drift) < 0 ? "too little" : "too much"}; with by-products at their own price the cost holds.`;
    }
    case "chart-signal":
      return SIGNALS[reason.signal];
  }
}

function share(value: Ratio, habits: Habits): string {
  const printed = ratio.toDecimal(value).abs();
  // A drift under a twentieth of a percent must not read as none.
  return printed.lt("0.0005") ? `less than ${printNumber(new Decimal("0.1"), habits)} %` : `${printShare(printed, habits)} %`;
}
