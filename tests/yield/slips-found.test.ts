/** How often the slip that was made is among the three that are proposed, over a seeded sample of each kind. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ratio } from "@/lib/measure";
import { type KnownAtTheBlock, type Slip, balances, likeliestSlips, quantityInBase } from "@/lib/yield";
import { SLIPS, type Slipped, type TrueSheet, trueSheets } from "./one-slip";

const SAMPLE = 60;
const sample = fc.sample(fc.tuple(trueSheets, fc.nat(1_000_000)), { seed: 20261125, numRuns: 1200 });

type Knowing = (truth: TrueSheet) => KnownAtTheBlock;
const knowingTheScale: Knowing = ({ scale, tares }) => ({ scale, tares });
const knowingEarlierTests: Knowing = ({ scale, tares, usual }) => ({ scale, tares, usual });

/**
 * The slip that was made, at its row, with the true weight; but for a digit that was dropped, which could be any: there
 * the row and the kind are all that the balance can tell.
 */
function found(made: Slipped, slips: readonly Slip[]): boolean {
  return slips.some((slip) => {
    if (slip.kind !== made.slip) return false;
    if (made.path === null) return true;
    const at = slip.at.find((each) => each.path === made.path);
    if (at === undefined) return made.slip === "weighed-twice" && slip.at.some((each) => each.path !== made.path);
    if (made.truly === null || at.wouldBe === null) return made.truly === at.wouldBe;
    const off = ratio.sub(quantityInBase(at.wouldBe), quantityInBase(made.truly));
    // What the scale showed with the tub on it was rounded to its step.
    const step = made.sheet.scaleStep !== null && made.slip.startsWith("t") ? quantityInBase(made.sheet.scaleStep) : ratio.ZERO;
    return made.slip === "digit-dropped" || (ratio.compare(off, step) <= 0 && ratio.compare(ratio.neg(off), step) <= 0);
  });
}

interface Rate {
  readonly open: number;
  readonly closed: number;
  readonly found: number;
}

/** Over sheets whose balance the slip opens: a slip that leaves a usual loss cannot be told from the truth by weights. */
function rateOf(make: (truth: TrueSheet, pick: number) => Slipped | null, knowing: Knowing): Rate {
  let [open, closed, hits] = [0, 0, 0];
  for (const [truth, pick] of sample) {
    if (open === SAMPLE) break;
    const made = make(truth, pick);
    if (made === null) continue;
    const known = knowing(truth);
    if (balances(made.sheet, known)) {
      closed += 1;
      continue;
    }
    open += 1;
    if (found(made, likeliestSlips(made.sheet, known))) hits += 1;
  }
  return { open, closed, found: hits };
}

function rates(knowing: Knowing): readonly (readonly [string, Rate])[] {
  return Object.entries(SLIPS).map(([name, make]) => [name, rateOf(make, knowing)] as const);
}

function print(title: string, all: readonly (readonly [string, Rate])[]): number {
  const open = all.reduce((count, [, rate]) => count + rate.open, 0);
  const hits = all.reduce((count, [, rate]) => count + rate.found, 0);
  const rows = all.map(([name, rate]) => `  ${name}: ${rate.found} of ${rate.open} (${rate.closed} left the balance closed)`);
  console.log(`${title}: ${hits} of ${open}, ${((100 * hits) / open).toFixed(1)} %\n${rows.join("\n")}`);
  return hits / open;
}

describe("one slip on a sheet that was true", () => {
  test("is among the three proposed, knowing the scale, the tubs and earlier tests", () => {
    expect(print("with earlier tests", rates(knowingEarlierTests))).toBeGreaterThanOrEqual(0.95);
  }, 120_000);
  test("and on the first test of a cut, knowing only the scale and the tubs", () => {
    expect(print("first test", rates(knowingTheScale))).toBeGreaterThanOrEqual(0.95);
  }, 120_000);
  test("a true sheet proposes nothing, and no proposal ever changes the sheet", () => {
    for (const [truth, pick] of sample.slice(0, 400)) {
      expect(likeliestSlips(truth.sheet, knowingTheScale(truth))).toEqual([]);
      expect(likeliestSlips(truth.sheet, knowingEarlierTests(truth))).toEqual([]);
      const made = Object.values(SLIPS)[pick % Object.keys(SLIPS).length]?.(truth, pick);
      if (!made) continue;
      const before = JSON.stringify(made.sheet);
      const slips = likeliestSlips(made.sheet, knowingTheScale(truth));
      expect(JSON.stringify(made.sheet)).toBe(before);
      expect(slips.length).toBeLessThanOrEqual(3);
    }
  }, 120_000);
});
