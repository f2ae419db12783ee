/**
 * What allowances do to a cost: cost = (Σ lines·(1 + Σ on-cost) + Σ money)/(1 − Σ of-whole). Shares on the cost add up
 * on the lines; money comes beside them; shares of the whole are taken of everything, so the whole is divided by what
 * they leave. The two bases differ: 5 % on 10.00 gives 10.50 on the cost and 10.53 of the whole.
 */
import { type Ratio, ratio } from "@/lib/measure";
import type { Allowance, Line } from "./recipe";

/** 1 + Σ on-cost, and 1/(1 − Σ of-whole). Below all of it, as the schema sees to: otherwise nothing would be left. */
export function allowanceFactors(allowances: readonly Allowance[]): { readonly onCost: Ratio; readonly ofWhole: Ratio } {
  let onCost = ratio.ONE;
  let left = ratio.ONE;
  for (const allowance of allowances) {
    if (allowance.kind !== "share") continue;
    const share = ratio.fromExact(allowance.share);
    if (allowance.basis === "on-cost") onCost = ratio.add(onCost, share);
    else left = ratio.sub(left, share);
  }
  return { onCost, ofWhole: ratio.div(ratio.ONE, left) };
}

/** Whether every line is edible portion, a cut or a portion of one: what is lost stands in its yield, and a share for waste would count it twice. */
export function isAllEdible({ lines }: { readonly lines: readonly Pick<Line, "of">[] }): boolean {
  return lines.length > 0 && lines.every(({ of }) => of.kind === "cut" || of.kind === "spec");
}
