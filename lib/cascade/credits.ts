/**
 * What a cut is credited for: each by-product of the tests behind it, how much of it comes off for every unit of the cut
 * and of what is billed, and at what it is credited today, as its row has it.
 */
import type { Cut, PartValue } from "@/lib/book";
import { type Kind, type Ratio, ratio } from "@/lib/measure";
import { yieldLine } from "@/lib/yield";
import type { Cascade } from "./cascade";
import { adoptedTests, shareCredited, valuesOf } from "./rows/cut";
import { worthToday } from "./tests-at-today";

export interface CutCredit {
  readonly key: string;
  readonly name: string;
  /** null: nobody has said what it is worth. */
  readonly value: PartValue | null;
  /** share·w_k/U: base units of it that one usable base unit of the cut is credited with. */
  readonly perUsable: Ratio;
  /** w_k/W: base units of it that come off one that is billed. */
  readonly perBilled: Ratio;
  /** min(1, used/produced); 1 where nothing holds the credit. */
  readonly credited: Ratio;
  /** Money per base unit at which it is credited now, held to what is used; null: not known. */
  readonly worth: Ratio | null;
}

export interface CutCredits {
  /** What the weights measure. */
  readonly measure: Kind;
  /** This part's own weight over the billed weight. */
  readonly yield: Ratio;
  readonly credits: readonly CutCredit[];
}

/** null where no test stands behind the cut, or the tests do not tell this part. */
export function creditsOfCut(cascade: Cascade, cut: Cut): CutCredits | null {
  const tests = adoptedTests(cascade.book, cut);
  const line = tests === null || tests.length === 0 ? null : yieldLine(tests, cut.partKey, cut.joint);
  if (tests === null || line === null || !line.ok) return null;
  const { measure, credits, perOrigin } = line.value;
  const values = valuesOf(tests);
  const worth = worthToday(cascade, cut, tests);
  return {
    measure, yield: line.value.yield,
    credits: credits.map(({ key, name, perUsable }): CutCredit => {
      const value = values.get(key) ?? null;
      return {
        key, name, value, perUsable, perBilled: ratio.div(perUsable, perOrigin),
        credited: value === null ? ratio.ONE : shareCredited(cascade.book, value), worth: value === null ? null : worth.value(value, measure),
      };
    }),
  };
}
