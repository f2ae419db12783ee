/**
 * The seasonal shape of a price, by the ratio to the moving average: each month's mean over the mean of the year centred on
 * it, averaged over the years, brought to a mean of 1. A month at 1.08 costs 8 % more than the year around it. Taught in
 * textbooks of business statistics (D. R. Anderson, D. J. Sweeney, T. A. Williams, Statistics for Business and Economics,
 * chapter on time series). Fewer than two whole years tell no season. All exact.
 */
import { type Ratio, ratio } from "@/lib/measure";
import { type PriceStep } from "./price-history";

/** One season of the year: for months, 0 is January. */
export interface SeasonIndex {
  readonly place: number;
  /** Over the mean of the year around it; the mean of all is 1. */
  readonly index: Ratio;
  /** The ratios it is the mean of, before they were brought to a mean of 1; one for every year that has a year around it. */
  readonly ratios: readonly Ratio[];
}

/**
 * `values`: consecutive and above zero, the first at place `first` of the year, `period` of them a year (an even number).
 * null while there are fewer than two years of them: then some place has no ratio.
 */
export function seasonalIndex(values: readonly Ratio[], period: number, first = 0): readonly SeasonIndex[] | null {
  if (period < 2 || period % 2 !== 0 || values.length < 2 * period || values.some((value) => ratio.sign(value) <= 0)) return null;
  const half = period / 2;
  const ratios: Ratio[][] = Array.from({ length: period }, () => []);
  for (let at = half; at + half < values.length; at += 1) {
    // A year of an even number of seasons has no middle one: two years half a season apart are averaged.
    const inner = ratio.sum(values.slice(at - half + 1, at + half));
    const ends = ratio.div(ratio.add(values[at - half] ?? ratio.ZERO, values[at + half] ?? ratio.ZERO), ratio.of(2n));
    const centred = ratio.div(ratio.add(inner, ends), ratio.of(BigInt(period)));
    ratios[(first + at) % period]?.push(ratio.div(values[at] ?? ratio.ZERO, centred));
  }
  const means = ratios.map((of) => ratio.div(ratio.sum(of), ratio.of(BigInt(of.length))));
  const level = ratio.div(ratio.sum(means), ratio.of(BigInt(period)));
  return means.map((mean, place) => ({ place, index: ratio.div(mean, level), ratios: ratios[place] ?? [] }));
}

/** A calendar month, "2026-11", and the mean of a price over its days. */
export interface MonthMean {
  readonly month: string;
  readonly mean: Ratio;
}

export interface Season {
  /** The months it rests on, consecutive, oldest first; at most the newest ten years. */
  readonly months: readonly MonthMean[];
  /** January first; null while months are lacking. */
  readonly index: readonly SeasonIndex[] | null;
  /** How many more whole months there have to be; 0 where there are enough. */
  readonly lacking: number;
}

const YEAR = 12;
const LEAST = 2 * YEAR;
const MOST = 10 * YEAR;

/** The season of one dealer's price at the door. Only whole months up to today count, and of these the newest that follow one another. */
export function seasonOf(steps: readonly PriceStep[], today: string): Season {
  const months = monthMeans(steps, today).slice(-MOST);
  const first = Number(months[0]?.month.slice(5, 7) ?? "1") - 1;
  const index = seasonalIndex(months.map(({ mean }) => mean), YEAR, first);
  return { months, index, lacking: Math.max(0, LEAST - months.length) };
}

/**
 * The mean of a price in each whole month, weighted by the days that it stood. `steps` oldest first. A month counts when the
 * price was known on each of its days and is over; the newest unbroken run of such months is told.
 */
export function monthMeans(steps: readonly PriceStep[], today: string): readonly MonthMean[] {
  const first = steps[0]?.from;
  if (first === undefined) return [];
  const means: MonthMean[] = [];
  for (let month = first.slice(0, 7); lastDay(month) < today && means.length < 100 * YEAR; month = nextMonth(month)) {
    const mean = meanOf(steps, month);
    if (mean === null) means.length = 0;
    else means.push({ month, mean });
  }
  return means;
}

function meanOf(steps: readonly PriceStep[], month: string): Ratio | null {
  const [start, end] = [`${month}-01`, `${nextMonth(month)}-01`];
  let sum = ratio.ZERO;
  let known = 0;
  for (const step of steps) {
    const [from, until] = [step.from > start ? step.from : start, step.until !== null && step.until < end ? step.until : end];
    const days = from < until ? dayNumber(until) - dayNumber(from) : 0;
    if (days === 0 || step.door === null) continue;
    sum = ratio.add(sum, ratio.mul(step.door, ratio.of(BigInt(days))));
    known += days;
  }
  const all = dayNumber(end) - dayNumber(start);
  return known === all ? ratio.div(sum, ratio.of(BigInt(all))) : null;
}

function nextMonth(month: string): string {
  const [year = 0, of = 1] = month.split("-").map(Number);
  return of === 12 ? `${String(year + 1).padStart(4, "0")}-01` : `${String(year).padStart(4, "0")}-${String(of + 1).padStart(2, "0")}`;
}

function lastDay(month: string): string {
  return new Date(Date.parse(`${nextMonth(month)}-01T00:00:00Z`) - 86_400_000).toISOString().slice(0, 10);
}

function dayNumber(day: string): number {
  return Math.round(Date.parse(`${day}T00:00:00Z`) / 86_400_000);
}
