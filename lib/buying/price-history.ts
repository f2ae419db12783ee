/**
 * What each dealer has asked for an item, over time, and what that came to at the door in the kitchen's money: a step for
 * every price, and for a price in other money one for every new exchange rate. A price that was recorded ahead waits and
 * applies by itself; one that was corrected never was.
 */
import { type Kitchen, type Quote, doorRate } from "@/lib/book";
import { type Ratio, ratio } from "@/lib/measure";

/** One recorded state of a fact, as far as its history needs it. `fact` null: from its day on it is off the book. */
export interface Dated<F> {
  readonly revision: number;
  readonly validFrom: string;
  readonly replacedBy: number | null;
  readonly fact: F | null;
}

export interface PriceStep {
  readonly revision: number;
  readonly from: string;
  /** The day on which it stands no more; null: it stands. */
  readonly until: string | null;
  readonly quote: Quote;
  /** At the door, in the kitchen's money per base unit (g, mL, each); null while the exchange rate is not known. */
  readonly door: Ratio | null;
  /** What began it: a price of the dealer's, or a new exchange rate. */
  readonly by: "price" | "exchange";
  /** It has been recorded ahead of its day. */
  readonly waits: boolean;
}

/**
 * The steps of one quote, oldest first. `kitchen`: the revisions of the kitchen's own settings, for the exchange rates of
 * each day. Of several revisions of one day the last recorded counts.
 */
export function priceSteps(revisions: readonly Dated<Quote>[], kitchen: readonly Dated<Pick<Kitchen, "exchangeRates">>[], today: string): readonly PriceStep[] {
  const prices = standing(revisions);
  const settings = standing(kitchen);
  const steps: PriceStep[] = [];
  prices.forEach((price, index) => {
    const { fact: quote, revision } = price;
    if (quote === null) return;
    const end = prices[index + 1]?.validFrom ?? null;
    const starts = quote.currency === null ? [] : settings.map(({ validFrom }) => validFrom).filter((day) => day > price.validFrom && (end === null || day < end));
    for (const from of [price.validFrom, ...starts]) {
      const door = doorOn(quote, settings, from);
      const last = steps.at(-1);
      if (from !== price.validFrom && last !== undefined && same(last.door, door)) continue;
      if (last?.until === null) steps[steps.length - 1] = { ...last, until: from };
      steps.push({ revision, from, until: null, quote, door, by: from === price.validFrom ? "price" : "exchange", waits: from > today });
    }
    const last = steps.at(-1);
    if (last !== undefined && end !== null) steps[steps.length - 1] = { ...last, until: end };
  });
  return steps;
}

/** The step that stands on a day; null before the first, and while it is off the book. */
export function stepOn(steps: readonly PriceStep[], day: string): PriceStep | null {
  return steps.findLast((step) => step.from <= day && (step.until === null || day < step.until)) ?? null;
}

/** Those that count, one a day, oldest first. */
function standing<F>(revisions: readonly Dated<F>[]): readonly Dated<F>[] {
  const byDay = new Map<string, Dated<F>>();
  for (const one of revisions) {
    if (one.replacedBy !== null) continue;
    const other = byDay.get(one.validFrom);
    if (other === undefined || other.revision < one.revision) byDay.set(one.validFrom, one);
  }
  return [...byDay.values()].sort((a, b) => (a.validFrom < b.validFrom ? -1 : 1));
}

function doorOn(quote: Quote, settings: readonly Dated<Pick<Kitchen, "exchangeRates">>[], day: string): Ratio | null {
  if (quote.currency === null) return doorRate(quote);
  const rates = (settings.findLast(({ validFrom }) => validFrom <= day) ?? settings[0])?.fact?.exchangeRates ?? [];
  const told = rates.find(({ currency }) => currency === quote.currency);
  return told === undefined ? null : ratio.mul(doorRate(quote), ratio.fromExact(told.rate));
}

function same(a: Ratio | null, b: Ratio | null): boolean {
  return a === null || b === null ? a === b : ratio.compare(a, b) === 0;
}
