/**
 * The sheet behind a cut: its adopted tests as one, pooled by weights (percentages are never averaged), with this
 * part's share of the joint cost and what each test lost. Loss in cutting is derived, never typed: what was billed
 * less everything that was weighed.
 */
import type { Cut, YieldTest } from "@/lib/book";
import { type Ratio, type Unit, Decimal, ratio } from "@/lib/measure";
import {
  type Loss, type WeighedPart, type WeighedSheet, jointCost, lossesOf, oldestFirst, poolWeights, quantityInBase, rateInBase, readWeights,
} from "@/lib/yield";
import { type Sources, told } from "./explain-sources";
import type { LossDetail, Step } from "./explain-types";
import { adoptedTests } from "./rows/cut";

export const NOTHING = new Decimal(0);

/** The tests behind a cut as one sheet, in base units; this part, its share of the joint cost, and the losses. */
export interface PooledSheet {
  readonly tests: readonly YieldTest[];
  readonly sheet: WeighedSheet;
  /** What weights are told in. */
  readonly unit: Unit;
  readonly billed: Ratio;
  readonly part: WeighedPart;
  readonly usable: Ratio;
  readonly mains: readonly { readonly part: WeighedPart; readonly share: Ratio }[];
  readonly share: Ratio;
  /** The losses of each test, in the order of `tests`. */
  readonly losses: readonly (readonly Loss[])[];
}

/** null while no test is adopted, or where the tests do not tell what this part yields. */
export function pooledSheet(sources: Sources, cut: Cut): PooledSheet | null {
  const adopted = adoptedTests(sources.book, cut);
  if (!adopted || adopted.length === 0) return null;
  const tests = oldestFirst(adopted);
  const pooled = poolWeights(tests);
  if (!pooled.ok) return null;
  const losses = tests.map((test) => {
    const weights = readWeights(test);
    const found = weights.ok ? lossesOf(weights.value) : weights;
    return found.ok ? found.value.losses : null;
  });
  const sheet = pooled.value;
  const mainParts = sheet.parts.filter((part) => part.role === "main");
  const shares = jointCost(cut.joint, ratio.ONE, mainParts.map((part) => ({
    key: part.key,
    name: part.name,
    weight: quantityInBase(part.weight),
    marketValue: part.marketValue && rateInBase(part.marketValue),
    furtherCost: part.furtherCost && rateInBase(part.furtherCost),
  })));
  const part = mainParts.find((main) => main.key === cut.partKey);
  if (!shares.ok || !part || losses.some((each) => each === null)) return null;
  const mains = mainParts.map((main) => ({ part: main, share: shares.value.find((each) => each.key === main.key)?.share ?? ratio.ZERO }));
  return {
    tests,
    sheet,
    unit: sheet.billed.unit,
    billed: quantityInBase(sheet.billed),
    part,
    usable: quantityInBase(part.weight),
    mains,
    share: mains.find((main) => main.part.key === cut.partKey)?.share ?? ratio.ONE,
    losses: losses.flatMap((each) => (each ? [each] : [])),
  };
}

/** Losses by difference, those of one name in all the tests together. */
export function lossSteps(pooled: PooledSheet): Step[] {
  const keys = [...new Set(pooled.losses.flat().map((loss) => loss.key))];
  return keys.map((key): Step => {
    const each = pooled.losses.map((losses) => losses.find((loss) => loss.key === key));
    const found = each.flatMap((loss) => (loss ? [loss] : []));
    const weight = ratio.sum(found.map((loss) => loss.weight));
    const forgiven = ratio.sum(found.map((loss) => loss.forgiven));
    const shares = pooled.tests.map((test, index) => ratio.toDecimal(ratio.div(each[index]?.weight ?? ratio.ZERO, quantityInBase(test.billed))));
    const detail: LossDetail = {
      of: "loss",
      loss: key,
      ofWhole: ratio.toDecimal(ratio.div(weight, pooled.billed)),
      among: shares.length < 2 ? null : { least: Decimal.min(...shares), greatest: Decimal.max(...shares) },
      forgiven: ratio.sign(forgiven) === 0 ? null : told(forgiven, pooled.unit),
    };
    return { ...plainStep(key, "loss", found[0]?.name ?? key), quantity: told(weight, pooled.unit), detail };
  });
}

/** A step that bears no price of its own yet: worth nothing until told otherwise. */
export function plainStep(key: string, kind: Step["kind"], name: string): Step {
  return {
    key, kind, name, quantity: null, converted: null, rate: null, amount: NOTHING, share: null, ref: null, behind: null, missing: [], borrowed: [], detail: null,
  };
}
