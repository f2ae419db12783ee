/**
 * A figure opened to its arithmetic, one level at a time: what it is the sum of, at what rates, divided by what, and
 * which nodes those rates are the costs of. No figure is a black box: following the refs leads from a plate to the
 * quote and the scale. The cascade costs; this only lays out how, from the same facts and the costs of the sources.
 */
import type { Book } from "@/lib/book";
import { Decimal } from "@/lib/measure";
import { openCut } from "./explain-cut";
import { openItem } from "./explain-item";
import { batchCostOf, dishSteps, recipeSteps } from "./explain-lines";
import { openSpec } from "./explain-spec";
import { type Sources, KIND_OF_BASE, costAsSaid, one, provenanceOf } from "./explain-sources";
import type { About, CostOf, Explanation, Step } from "./explain-types";
import type { NodeCost, NodeRef } from "./node";

/** Opens a node from any source of costs. null when the book has no such node. */
export function explainFrom(sources: Sources, ref: NodeRef): Explanation | null {
  const cost = sources.costOf(ref);
  const opened = cost && open(sources, ref);
  if (!cost || !opened) return null;
  const total = opened.steps.reduce((sum, step) => (step.amount ? sum.plus(step.amount) : sum), new Decimal(0));
  const steps = opened.steps.map((step): Step => ({
    ...step, share: step.amount === null || total.isZero() ? null : step.amount.div(total),
  }));
  return {
    ref,
    name: opened.name,
    on: sources.book.on,
    cost,
    costOf: opened.costOf ?? costOfNode(sources.book, cost),
    steps,
    total,
    divisor: opened.divisor,
    summed: cost.missing.length === 0 || !(cost.amount.isZero() && !total.isZero()),
    provenance: provenanceOf(sources.book, ref.kind, ref.id),
    about: opened.about,
  };
}

interface Opened {
  readonly name: string;
  readonly steps: readonly Step[];
  readonly divisor: Explanation["divisor"];
  readonly about: About;
  readonly costOf?: readonly CostOf[];
}

function open(sources: Sources, ref: NodeRef): Opened | null {
  const { shelves } = sources.book;
  switch (ref.kind) {
    case "item": {
      const item = shelves.item.get(ref.id);
      return item ? { name: item.name, ...openItem(sources, item) } : null;
    }
    case "cut": {
      const cut = shelves.cut.get(ref.id);
      return cut ? { name: cut.name, ...openCut(sources, cut) } : null;
    }
    case "spec": {
      const spec = shelves.spec.get(ref.id);
      return spec ? { name: spec.name, ...openSpec(sources, spec) } : null;
    }
    case "recipe": {
      const recipe = shelves.recipe.get(ref.id);
      const cost = recipe && sources.costOf(ref);
      return recipe && cost ? {
        name: recipe.name, steps: recipeSteps(sources, recipe), divisor: null,
        about: { kind: "recipe", yields: recipe.yields }, costOf: batchCostOf(recipe, cost.amount),
      } : null;
    }
    case "dish": {
      const dish = shelves.dish.get(ref.id);
      return dish ? { name: dish.name, steps: dishSteps(sources, dish), divisor: null, about: { kind: "dish" }, costOf: [] } : null;
    }
  }
}

function costOfNode(book: Book, cost: NodeCost): CostOf[] {
  if (cost.per === "portion") return [{ quantity: one("portion"), amount: cost.amount }];
  return cost.per === "g" || cost.per === "mL" || cost.per === "each" ? costAsSaid(book, cost.amount, KIND_OF_BASE[cost.per]) : [];
}
