/**
 * How long a fuzz test goes on, and how quick an answer has to be. `npm test` runs a minute or two of everything;
 * FUZZ_RUNS=50 runs fifty times as much (`FUZZ_RUNS=50 npm test -- fuzz`). A failure prints fast-check's seed and path, with
 * which the same input is made again.
 */
import os from "node:os";
import fc from "fast-check";
import { expect } from "vitest";

const times = Math.max(1, Number(process.env.FUZZ_RUNS ?? "1") || 1);

/** How often a property is tried: `usual`, or as many times as much as FUZZ_RUNS says. */
export function runs(usual: number): { readonly numRuns: number; readonly endOnFailure: boolean } {
  return { numRuns: Math.round(usual * times), endOnFailure: false };
}

/** Time for a test that takes some seconds as usual, however many more runs it is asked for. */
export const PATIENCE = 60_000 * times;

/** Longest that anything may take over one answer, in milliseconds. */
export const LONGEST = 1_000;

/**
 * Does it, and holds it to a second. The first time over may be the machine's own doing (another process, the collector): the
 * same is asked again, and only what is slow twice fails.
 */
export function inGoodTime<T>(act: () => T, what: () => string): T {
  const first = timed(act);
  if (first.took <= LONGEST) return first.value;
  const second = timed(act);
  expect(second.took, `milliseconds for ${what()}`).toBeLessThanOrEqual(LONGEST * slowness());
  return second.value;
}

function timed<T>(act: () => T): { readonly value: T; readonly took: number } {
  const began = performance.now();
  const value = act();
  return { value, took: performance.now() - began };
}

/**
 * How much slower than an idle machine this one must be just now: the processes that want to run, for each processor there is.
 * 1 where nothing else runs, so that a second is a second there.
 */
export function slowness(): number {
  const waiting = os.loadavg()[0] ?? 0;
  return Math.max(1, waiting / os.availableParallelism());
}

/** What was handed in, short enough for a failure's message. */
export function shown(value: unknown): string {
  const text = fc.stringify(value);
  return text.length > 300 ? `${text.slice(0, 300)}… (${text.length} characters)` : text;
}
