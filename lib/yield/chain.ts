/**
 * A chain of losses: thaw, deglaze, trim, cook, carve, each stage with its own input and output. The yield of the whole is
 * the product of the stages' yields, each on its own stage's input; a part that leaves is credited at the stage where
 * it leaves, and what is added (brine, stock) is priced there. Gains are refused where weight cannot be added.
 */
import { type Checked, type Money, type Problem, type Quantity, type Rate, type Ratio, bad, good, kindOf, ratio } from "@/lib/measure";
import { scaleTolerance } from "./balance";
import { usableValue } from "./formulas";
import { quantityInBase, readRate } from "./sheet";
import { type StageKind, type StageRanges, STAGE_RANGES, stageWarning } from "./stages";
import { sayShare, sayWeight } from "./words";

export interface Stage {
  readonly kind: StageKind;
  readonly name: string;
  readonly input: Quantity;
  readonly output: Quantity;
  /** Parts that leave here and are worth something. */
  readonly credits: readonly { readonly name: string; readonly weight: Quantity; readonly value: Rate }[];
  /** What is put in at this stage for the whole input, money: brine, marinade, liquid; null for none. */
  readonly added: Money | null;
}

export interface StageFigures {
  readonly kind: StageKind;
  readonly name: string;
  /** output/input. */
  readonly yield: Ratio;
  /** Product of the yields up to and with this stage. */
  readonly cumulative: Ratio;
  /** Money per base unit of this stage's output; null when the price is not known. */
  readonly costPerUnit: Ratio | null;
}

export interface ChainFigures {
  readonly stages: readonly StageFigures[];
  /** Π Y_stage. */
  readonly yield: Ratio;
  readonly costPerUnit: Ratio | null;
  readonly notes: readonly Problem[];
}

/** Y_total = Π Y_stage, each stage's yield on its own input. */
export function chainedYield(yields: readonly Ratio[]): Ratio {
  return yields.reduce((product, stage) => ratio.mul(product, stage), ratio.ONE);
}

/**
 * Cost per unit of a stage's output: C_i = (I·C_(i−1) − V + B)/O. I input and O output weight, C_(i−1) cost per unit carried
 * in, V value of the parts that leave, B what is added. Fails with credits-exceed-cost. Derived.
 */
export function stageCost(I: Ratio, O: Ratio, carried: Ratio, V: Ratio, B: Ratio): Checked<Ratio> {
  const value = usableValue(ratio.add(ratio.mul(I, carried), B), V);
  return value.ok ? good(ratio.div(value.value, O)) : value;
}

/**
 * The figures of a chain from a price (per unit of the first input; null when not known). Problems: no-stages; wrong-kind;
 * not-above-zero; yield-over-one at a stage that cannot add weight; parts-exceed-whole; credits-exceed-cost. Paths
 * "stages.<n>.…". A yield outside the believable range of its stage is a note.
 */
export function chain(stages: readonly Stage[], price: Rate | null, scaleStep: Quantity | null = null, ranges: StageRanges = STAGE_RANGES): Checked<ChainFigures> {
  const first = stages[0];
  if (first === undefined) return bad("stages", "no-stages", "A chain needs at least one stage.");
  const measure = kindOf(first.input.unit);
  const start = readRate(price, measure, "price", "The price");
  if (!start.ok) return start;
  const forgiven = scaleStep === null ? ratio.ZERO : quantityInBase(scaleStep);

  const figures: StageFigures[] = [];
  const notes: Problem[] = [];
  const problems: Problem[] = [];
  let cost = start.value;
  let cumulative = ratio.ONE;
  for (const [index, stage] of stages.entries()) {
    const path = `stages.${index}`;
    const found = stageProblems(stage, measure, path, forgiven, ranges);
    if (found.length > 0) {
      problems.push(...found);
      continue;
    }
    const input = quantityInBase(stage.input);
    const output = quantityInBase(stage.output);
    const stageYield = ratio.div(output, input);
    cumulative = ratio.mul(cumulative, stageYield);
    let leaves = ratio.ZERO;
    for (const [at, credit] of stage.credits.entries()) {
      const value = readRate(credit.value, measure, `${path}.credits.${at}.value`, `The value of ${credit.name}`);
      if (value.ok) leaves = ratio.add(leaves, ratio.mul(quantityInBase(credit.weight), value.value ?? ratio.ZERO));
      else problems.push(...value.problems);
    }
    if (cost !== null) {
      const next = stageCost(input, output, cost, leaves, stage.added === null ? ratio.ZERO : ratio.fromExact(stage.added.amount));
      if (next.ok) cost = next.value;
      else problems.push(...next.problems.map((problem) => ({ ...problem, path: `${path}.credits` })));
    }
    const warning = stageWarning(stage.kind, stageYield, `${path}.output`, ranges);
    if (warning !== null) notes.push({ ...warning, sentence: `${stage.name}: ${warning.sentence}` });
    figures.push({ kind: stage.kind, name: stage.name, yield: stageYield, cumulative, costPerUnit: cost });
  }
  if (problems.length > 0) return { ok: false, problems };
  return good({ stages: figures, yield: cumulative, costPerUnit: cost, notes });
}

function stageProblems(stage: Stage, measure: ReturnType<typeof kindOf>, path: string, step: Ratio, ranges: StageRanges): readonly Problem[] {
  const problems: Problem[] = [];
  const weighed: readonly [Quantity, string, string][] = [
    [stage.input, "input", "What goes in"],
    [stage.output, "output", "What comes out"],
    ...stage.credits.map((credit, at): [Quantity, string, string] => [credit.weight, `credits.${at}.weight`, credit.name]),
  ];
  for (const [quantity, field, what] of weighed) {
    if (kindOf(quantity.unit) !== measure) {
      problems.push({ path: `${path}.${field}`, code: "wrong-kind", sentence: `${stage.name}: ${what} is in ${quantity.unit}, but the chain starts with a ${measure}: every stage is told in one kind of unit.` });
    } else if (ratio.sign(quantityInBase(quantity)) <= 0) {
      problems.push({ path: `${path}.${field}`, code: "not-above-zero", sentence: `${stage.name}: ${what} must be above zero.` });
    }
  }
  if (problems.length > 0) return problems;
  const range = ranges[stage.kind];
  if (range.gain) return problems;
  const input = quantityInBase(stage.input);
  const output = quantityInBase(stage.output);
  const limit = ratio.add(input, scaleTolerance(weighed.length, step));
  const unit = stage.input.unit;
  if (ratio.compare(output, limit) > 0) {
    const reached = sayShare(ratio.div(output, input));
    problems.push({ path: `${path}.output`, code: "yield-over-one", sentence: `${stage.name}: ${range.doing.toLowerCase()} cannot add weight, but ${sayWeight(output, unit)} came out of ${sayWeight(input, unit)} (${reached}).` });
    return problems;
  }
  const parts = ratio.add(output, ratio.sum(stage.credits.map((credit) => quantityInBase(credit.weight))));
  if (ratio.compare(parts, limit) > 0) {
    problems.push({ path: `${path}.credits`, code: "parts-exceed-whole", sentence: `${stage.name}: what came out and what left add to ${sayWeight(parts, unit)}, more than the ${sayWeight(input, unit)} that went in.` });
  }
  return problems;
}
