/**
 * Where the weight of a sheet went that no part accounts for, kind by kind. At the block it is the loss in cutting; a
 * cooking-loss test has three losses, of trimming, of cooking and of carving; what is drained off a can or boiled
 * into a starch is the difference too, and for boiling it is a gain. Stages that cannot add weight refuse a gain. The
 * shares of parts and losses together are exactly the whole, but for what the scale's step forgave.
 */
import { type Checked, type Problem, type Ratio, bad, good, ratio } from "@/lib/measure";
import { type Weighing, balance, readingsOf, scaleTolerance } from "./balance";
import { type BasePart, type BaseSheet } from "./sheet";
import { sayWeight } from "./words";

export type LossKey = "cutting" | "unweighed-trim" | "trimming" | "cooking" | "carving" | "drained-off" | "uptake";

export interface Loss {
  readonly key: LossKey;
  readonly name: string;
  /** In base units. Only "uptake" may be below zero: weight that was gained. */
  readonly weight: Ratio;
  /** By how much more than the whole the parts weighed, where the scale's step explains it; else zero. */
  readonly forgiven: Ratio;
}

export interface Losses {
  readonly losses: readonly Loss[];
  readonly notes: readonly Problem[];
}

/**
 * The losses of a sheet. Problems: parts-exceed-whole, yield-over-one (trim and drained: the usable part alone is
 * heavier than the whole), trimmed-exceeds-billed, cooked-exceeds-trimmed, parts-exceed-cooked, purge-exceeds-trimming.
 */
export function lossesOf(sheet: BaseSheet): Checked<Losses> {
  switch (sheet.kind) {
    case "butcher":
      return cutting(sheet, "cutting", "Loss in cutting");
    case "trim": {
      const weighedTrim = sheet.parts.some((part) => part.role !== "main");
      return cutting(sheet, weighedTrim ? "cutting" : "unweighed-trim", weighedTrim ? "Loss in cutting" : "Trim, not weighed");
    }
    case "drained":
      return cutting(sheet, "drained-off", "Drained off, not weighed");
    case "hydration": {
      const weight = ratio.sub(sheet.billed, ratio.sum(sheet.parts.map((part) => part.weight)));
      return good({ losses: [{ key: "uptake", name: "Water taken up", weight, forgiven: ratio.ZERO }], notes: [] });
    }
    case "cooking":
      return cookingLosses(sheet);
  }
}

/** The sum of the main parts' weights: usable weight U, or saleable weight S after cooking. */
export function usableWeight(sheet: BaseSheet): Ratio {
  return ratio.sum(sheet.parts.filter((part) => part.role === "main").map((part) => part.weight));
}

function weighings(parts: readonly BasePart[]): readonly Weighing[] {
  return parts.map((part) => ({ name: part.name, weight: part.weight, weighings: Math.max(1, part.pieces.length) }));
}

function cutting(sheet: BaseSheet, key: LossKey, name: string): Checked<Losses> {
  const usable = usableWeight(sheet);
  const tolerance = sheet.step === null ? ratio.ZERO : scaleTolerance(readingsOf(weighings(sheet.parts)), sheet.step);
  if (sheet.kind !== "butcher" && ratio.compare(usable, ratio.add(sheet.billed, tolerance)) > 0) {
    const doing = sheet.kind === "trim" ? "Trimming" : "Draining";
    return bad(
      "parts",
      "yield-over-one",
      `${doing} cannot add weight: the usable part is ${sayWeight(usable, sheet.unit)} of ${sayWeight(sheet.billed, sheet.unit)}, a yield over 100 %. Check for swapped weights, a tub not tared or a unit.`,
    );
  }
  const balanced = balance({ name: "the piece", weight: sheet.billed }, weighings(sheet.parts), sheet.step, sheet.unit);
  if (!balanced.ok) return balanced;
  const { loss, forgiven, notes } = balanced.value;
  return good({ losses: [{ key, name, weight: loss, forgiven }], notes });
}

/**
 * Loss in trimming = original − trimmed; loss in cooking = trimmed − cooked; carving loss = cooked − what was weighed at
 * the board. Purge left before the heat and stands within the loss in trimming, in its own row; every other part is
 * weighed at the carving board. Source: Dittmer & Keefe, ch. 6 (cooking-loss test).
 */
function cookingLosses(sheet: BaseSheet): Checked<Losses> {
  const weights = sheet.cooking;
  if (weights === null) throw new Error("expected a cooking sheet to carry its trimmed and cooked weights");
  const { trimmed, cooked } = weights;
  const say = (weight: Ratio): string => sayWeight(weight, sheet.unit);
  if (exceeds(trimmed, sheet.billed, sheet.step)) {
    return bad("cooking.trimmed", "trimmed-exceeds-billed", `Trimmed ${say(trimmed)} is more than the ${say(sheet.billed)} it was trimmed from: check for swapped weights or a unit.`);
  }
  if (exceeds(cooked, trimmed, sheet.step)) {
    return bad("cooking.cooked", "cooked-exceeds-trimmed", `Cooked ${say(cooked)} is more than the ${say(trimmed)} that went in to the heat. Was it injected or basted (then cost the brine as its own stage), or are the weights swapped?`);
  }
  const purge = sheet.parts.filter((part) => part.role === "purge");
  const board = sheet.parts.filter((part) => part.role !== "purge");
  const trimming = balance({ name: "what trimming took off", weight: less(sheet.billed, trimmed) }, weighings(purge), sheet.step, sheet.unit);
  if (!trimming.ok) {
    return bad("parts", "purge-exceeds-trimming", `Purge is more than the ${say(less(sheet.billed, trimmed))} between the original and the trimmed weight: purge leaves before the heat.`);
  }
  const carving = balance({ name: "the cooked piece", weight: cooked }, weighings(board), sheet.step, sheet.unit);
  if (!carving.ok) {
    return { ok: false, problems: carving.problems.map((problem) => ({ ...problem, code: "parts-exceed-cooked" })) };
  }
  // A trimmed weight above the original, or a cooked one above the trimmed, within the scale's step is forgiven likewise.
  const overTrim = over(trimmed, sheet.billed);
  const overCook = over(cooked, trimmed);
  return good({
    losses: [
      { key: "trimming", name: "Loss in trimming", weight: trimming.value.loss, forgiven: ratio.add(trimming.value.forgiven, overTrim) },
      { key: "cooking", name: "Loss in cooking", weight: less(trimmed, cooked), forgiven: overCook },
      { key: "carving", name: "Carving loss", weight: carving.value.loss, forgiven: carving.value.forgiven },
    ],
    notes: [...trimming.value.notes, ...carving.value.notes],
  });
}

/** Two readings of one scale: more than its step apart. */
function exceeds(weight: Ratio, whole: Ratio, step: Ratio | null): boolean {
  return ratio.compare(weight, step === null ? whole : ratio.add(whole, scaleTolerance(2, step))) > 0;
}

function less(whole: Ratio, part: Ratio): Ratio {
  const left = ratio.sub(whole, part);
  return ratio.sign(left) < 0 ? ratio.ZERO : left;
}

function over(part: Ratio, whole: Ratio): Ratio {
  return less(part, whole);
}
