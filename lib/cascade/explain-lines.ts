/**
 * Recipes and dishes opened: each line with what it takes (as purchased, edible portion, portions, part of a batch),
 * how much, at what, and what that comes to. Batch cost = Σ lines; plate cost = Σ lines. Yields are not divided again
 * here: the kind of thing a line takes says whether the yield is already in its cost.
 */
import { type Allowance, type Book, type Dish, type DishLine, type Line, type LineKind, type Recipe, allowanceFactors, lineInBase } from "@/lib/book";
import { Decimal, type Quantity, type Ratio, BASE_UNIT, kindOf, quantityKind, ratio, toDecimal } from "@/lib/measure";
import { conversionFigures } from "./explain-conversion";
import { type Sources, KIND_OF_BASE, behind, knowsNothing, missingFact, one, perOne, told, unitToTell } from "./explain-sources";
import type { Basis, BatchShare, Conversion, CostOf, Step } from "./explain-types";
import { nameOf } from "./names";
import type { Missing, NodeCost, NodeRef } from "./node";

const BASIS = { item: "as-purchased", cut: "edible-portion", spec: "portion", recipe: "batch" } as const satisfies Record<LineKind, Basis>;

/** Lines in the order of the recipe. */
export function recipeSteps(sources: Sources, recipe: Recipe): Step[] {
  const lines = recipe.lines.map((line) => lineStep(sources, line, null));
  return [...lines, ...allowanceSteps(recipe.allowances, lines)];
}

/** Lines of a plate, largest first; those of the same amount in the order of the dish, unknown ones last. */
export function dishSteps(sources: Sources, dish: Dish): Step[] {
  const lines = dish.lines.filter((line) => line.channel !== "away").map((line) => lineStep(sources, line, line.role));
  return [...lines, ...allowanceSteps(dish.allowances, lines)]
    .sort((a, b) => (a.amount && b.amount ? b.amount.comparedTo(a.amount) : Number(a.amount === null) - Number(b.amount === null)));
}

/** What is reckoned on the lines, each as the money it comes to; on what is known of them, so as much a lower bound as they are. */
function allowanceSteps(allowances: readonly Allowance[], lines: readonly Step[]): Step[] {
  if (allowances.length === 0) return [];
  const { onCost, ofWhole } = allowanceFactors(allowances);
  const sum = lines.reduce((total, line) => (line.amount === null ? total : total.plus(line.amount)), new Decimal(0));
  const money = allowances.reduce((total, one) => (one.kind === "money" ? total.plus(toDecimal(one.amount.amount)) : total), new Decimal(0));
  const whole = sum.mul(ratio.toDecimal(onCost)).plus(money).mul(ratio.toDecimal(ofWhole));
  return allowances.map((allowance) => ({
    key: `allowance:${allowance.key}`, kind: "allowance", name: allowance.name, quantity: null, converted: null, rate: null,
    amount: allowance.kind === "money" ? toDecimal(allowance.amount.amount) : toDecimal(allowance.share).mul(allowance.basis === "on-cost" ? sum : whole),
    share: null, ref: null, behind: null, missing: [], borrowed: [], detail: { of: "allowance", allowance },
  }));
}

/** What one of each unit a batch was measured in costs: of 1 qt, of 1 lb, of 1 portion. */
export function batchCostOf(recipe: Recipe, batchCost: Decimal): CostOf[] {
  return recipe.yields.flatMap((batch): CostOf[] => {
    const amount = toDecimal(batch.amount);
    return amount.gt(0) ? [{ quantity: one(batch.unit), amount: batchCost.div(amount) }] : [];
  });
}

function lineStep(sources: Sources, line: Line, role: DishLine["role"] | null): Step {
  const ref: NodeRef = { kind: line.of.kind, id: line.of.id };
  const taken = takenFrom(sources, line);
  return {
    key: line.key,
    kind: "line",
    name: nameOf(sources.book, ref),
    quantity: line.quantity,
    converted: taken.converted,
    rate: taken.rate === null ? null : { amount: taken.rate, per: line.quantity.unit },
    amount: taken.amount,
    share: null,
    ref: taken.cost ? ref : null,
    behind: behind(sources.book, ref),
    missing: taken.missing,
    borrowed: taken.cost?.borrowed ?? [],
    detail: {
      of: "line",
      basis: BASIS[line.of.kind],
      role,
      note: line.note,
      batch: taken.coefficient ? batchShare(sources.book, line, taken.coefficient, taken.cost) : null,
    },
  };
}

export interface Taken {
  /** How many of the source's base units (or what share of its batch); null when it cannot be told. */
  readonly coefficient: Ratio | null;
  readonly cost: NodeCost | null;
  /** Money; null when unknown. */
  readonly amount: Decimal | null;
  /** Money per one of the line's own unit; null when unknown. */
  readonly rate: Decimal | null;
  readonly converted: Conversion | null;
  readonly missing: readonly Missing[];
}

/** What a quantity of a source comes to: the quantity in the source's own base times the source's cost. */
export function takenFrom(sources: Sources, line: Line): Taken {
  const { book } = sources;
  const ref: NodeRef = { kind: line.of.kind, id: line.of.id };
  const cost = sources.costOf(ref);
  if (!cost) return { coefficient: null, cost: null, amount: null, rate: null, converted: null, missing: [missingFact(ref)] };
  const inSource = lineInBase(book, line);
  if (!inSource.ok) {
    const lack: Missing = { what: inSource.missing, of: inSource.of, name: nameOf(book, inSource.of) };
    return { coefficient: null, cost, amount: null, rate: null, converted: null, missing: [lack, ...cost.missing] };
  }
  const coefficient = inSource.amount;
  const nothingKnown = knowsNothing(cost);
  const amount = nothingKnown ? null : ratio.toDecimal(coefficient).mul(cost.amount);
  const written = ratio.fromExact(line.quantity.amount);
  const perWritten = ratio.sign(written) === 0 ? null : ratio.toDecimal(ratio.div(coefficient, written));
  return {
    coefficient,
    cost,
    amount,
    rate: nothingKnown || perWritten === null ? null : perWritten.mul(cost.amount),
    converted: conversion(book, line, coefficient, nothingKnown ? null : cost),
    missing: cost.missing,
  };
}

/** The quantity in the measure its source is costed in, where that is not the one it was written in. */
function conversion(book: Book, line: Line, coefficient: Ratio, cost: NodeCost | null): Conversion | null {
  const per = cost?.per ?? null;
  if (line.of.kind === "spec" && quantityKind(line.quantity) !== "count") {
    // A portion's own size says how many portions a weight of it is.
    return { quantity: told(coefficient, "portion"), rate: cost && { amount: cost.amount, per: "portion" }, through: [] };
  }
  if (line.of.kind !== "item" && line.of.kind !== "cut") return null;
  if (per !== "g" && per !== "mL" && per !== "each") return null;
  const kind = KIND_OF_BASE[per];
  if (kind === quantityKind(line.quantity)) return null;
  const unit = unitToTell(book, coefficient, kind);
  return {
    quantity: told(coefficient, unit),
    rate: cost ? { amount: perOne(cost.amount, unit), per: unit } : null,
    through: conversionFigures(book, { kind: line.of.kind, id: line.of.id }, quantityKind(line.quantity), kind),
  };
}

/** Which part of a batch a line takes. */
function batchShare(book: Book, line: Line, coefficient: Ratio, cost: NodeCost | null): BatchShare | null {
  if (line.of.kind !== "recipe" || !cost) return null;
  const batch = batchYield(book, line.of.id, line.quantity);
  return batch && { share: ratio.toDecimal(coefficient), yield: batch, cost: cost.amount };
}

function batchYield(book: Book, recipeId: string, quantity: Quantity): Quantity | null {
  const yields = book.shelves.recipe.get(recipeId)?.yields ?? [];
  return yields.find((candidate) => BASE_UNIT[kindOf(candidate.unit)] === BASE_UNIT[kindOf(quantity.unit)]) ?? null;
}
