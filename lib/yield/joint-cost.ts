/**
 * Joint cost. When one piece yields several parts that are each wanted (strip and tenderloin of a short loin, the parts
 * of a bird), what the piece cost after its by-products were credited, J = A − V, has to be shared among them. The
 * choice of method moves cost from one dish to another and never changes the total; it is no basis for deciding
 * whether to keep or sell a part. A menu price is never a market value here: cost would follow price and price cost.
 */
import { type Checked, type Problem, type Ratio, good, ratio } from "@/lib/measure";

export type JointCostMethod = "sales-value" | "net-realizable" | "weight";
export const JOINT_COST_METHODS = ["sales-value", "net-realizable", "weight"] as const satisfies readonly JointCostMethod[];

/** A main part: its weight, and per unit of weight its market value bought ready trimmed and its further cost. */
export interface JointPart {
  readonly key: string;
  readonly name: string;
  readonly weight: Ratio;
  readonly marketValue: Ratio | null;
  readonly furtherCost: Ratio | null;
}

export interface JointShare {
  readonly key: string;
  /** Part of the joint cost, above 0 and at most 1; all shares add to exactly 1. */
  readonly share: Ratio;
  /** share · J, money. */
  readonly value: Ratio;
  /** value / weight, money per unit of weight. */
  readonly costPerUnit: Ratio;
}

/**
 * Relative sales value at split-off: share_i = w_i·m_i / Σ w·m, so cost per unit = m_i · J / Σ(w·m).
 * w weight, m market value per unit of the part bought ready trimmed. Source: cost accounting, joint products.
 */
export function salesValueWeights(parts: readonly JointPart[]): Checked<readonly Ratio[]> {
  return weighedBy(parts, (part) => part.marketValue);
}

/**
 * Net realizable value: as by sales value, with m_i less the further cutting or curing cost per unit that the part
 * still needs. The further cost itself stays outside: it is spent later, where the part is worked.
 * Source: cost accounting, joint products.
 */
export function netRealizableWeights(parts: readonly JointPart[]): Checked<readonly Ratio[]> {
  return weighedBy(parts, (part) => (part.marketValue === null ? null : ratio.sub(part.marketValue, part.furtherCost ?? ratio.ZERO)));
}

/** By weight: J / Σ w, the same cost per unit for all. For parts of near-equal quality. Source: as above. */
export function physicalWeights(parts: readonly JointPart[]): Checked<readonly Ratio[]> {
  return good(parts.map((part) => part.weight));
}

const WEIGHTS_BY_METHOD = {
  "sales-value": salesValueWeights,
  "net-realizable": netRealizableWeights,
  weight: physicalWeights,
} as const satisfies Record<JointCostMethod, (parts: readonly JointPart[]) => Checked<readonly Ratio[]>>;

/**
 * Shares the joint cost (money) among main parts by a named method; shares add to exactly 1, values to exactly the
 * joint cost. A single part takes it all, whatever the method. Problems: a market value that is missing or zero; a
 * further cost that eats the whole market value. Paths are "parts.<key>.marketValue" and "parts.<key>.furtherCost".
 */
export function jointCost(method: JointCostMethod, joint: Ratio, parts: readonly JointPart[]): Checked<readonly JointShare[]> {
  const weights = parts.length === 1 ? physicalWeights(parts) : WEIGHTS_BY_METHOD[method](parts);
  if (!weights.ok) return weights;
  const total = ratio.sum(weights.value);
  return good(
    parts.map((part, index) => {
      const share = ratio.div(weights.value[index] ?? ratio.ZERO, total);
      const value = ratio.mul(share, joint);
      return { key: part.key, share, value, costPerUnit: ratio.div(value, part.weight) };
    }),
  );
}

/** Every method side by side; a method that lacks a figure tells what it lacks. */
export function jointCostByEveryMethod(joint: Ratio, parts: readonly JointPart[]): Readonly<Record<JointCostMethod, Checked<readonly JointShare[]>>> {
  return {
    "sales-value": jointCost("sales-value", joint, parts),
    "net-realizable": jointCost("net-realizable", joint, parts),
    weight: jointCost("weight", joint, parts),
  };
}

function weighedBy(parts: readonly JointPart[], worth: (part: JointPart) => Ratio | null): Checked<readonly Ratio[]> {
  const problems: Problem[] = [];
  const weights = parts.map((part) => {
    const perUnit = worth(part);
    if (perUnit === null || part.marketValue === null || ratio.sign(part.marketValue) <= 0) {
      problems.push({
        path: `parts.${part.key}.marketValue`,
        code: "market-value-missing",
        sentence: `${part.name} needs a market value above zero, what it would cost bought ready trimmed, to share the cost by value; or share by weight.`,
      });
      return ratio.ZERO;
    }
    if (ratio.sign(perUnit) <= 0) {
      problems.push({
        path: `parts.${part.key}.furtherCost`,
        code: "further-cost-exceeds-value",
        sentence: `The further cost of ${part.name} takes up its whole market value, so nothing is left to share by: check both figures.`,
      });
      return ratio.ZERO;
    }
    return ratio.mul(part.weight, perUnit);
  });
  return problems.length > 0 ? { ok: false, problems } : good(weights);
}
