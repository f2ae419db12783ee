/**
 * Pooling several tests of one thing. Totals are pooled, percentages never averaged: a small piece would count as much
 * as a large one. Ŷ = ΣU/ΣW, trim per usable unit Σw_k/ΣU (ratio-of-totals estimator). Money is pooled only after every
 * test is valued at one date: factors of different weeks hold different by-product prices. So a pool is of weights,
 * and prices come beside it: those of one date, or those of the newest test.
 */
import { type Checked, type Problem, type Quantity, type Rate, type Unit, bad, baseFactor, good, kindOf, ratio } from "@/lib/measure";
import { lossesOf } from "./losses";
import { type Sheet, type SheetPart, type WeighedPart, type WeighedSheet, quantityInBase, readWeights } from "./sheet";

/** What everything is worth on one date, by part key. A key that is absent or null is not known. */
export interface Prices {
  /** Dealer's price per unit, or the net cost carried in. */
  readonly price: Rate | null;
  readonly values: ReadonlyMap<string, Rate | null>;
}

/** The tests, oldest first; those of one day, or without a day, in the order given. */
export function oldestFirst<T extends WeighedSheet>(tests: readonly T[]): readonly T[] {
  return [...tests].sort((a, b) => ((a.on ?? "") < (b.on ?? "") ? -1 : (a.on ?? "") > (b.on ?? "") ? 1 : 0));
}

/** The newest known price, and for each by-product the newest known value: one date's worth, as far as tests tell. */
export function pricesOfNewest(tests: readonly Sheet[]): Prices {
  let price: Rate | null = null;
  const values = new Map<string, Rate | null>();
  for (const test of oldestFirst(tests)) {
    price = test.price ?? price;
    for (const part of test.parts) values.set(part.key, part.value ?? values.get(part.key) ?? null);
  }
  return { price, values };
}

/**
 * One sheet holding the weights of all the tests, each valued at `at`. Billed weights, parts of one key, pieces, trimmed and
 * cooked weights are added; a part that a test does not have counts as none of it there. Market values are the newest.
 * Each test is first checked by itself. Problems: no tests; tests of different kinds or measures; a part that is main
 * in one test and not in another; and each test's own, with paths "tests.<n>.…".
 */
export function pool(tests: readonly Sheet[], at: Prices): Checked<Sheet> {
  const weights = poolWeights(tests);
  if (!weights.ok) return weights;
  return good({
    ...weights.value,
    price: at.price,
    parts: weights.value.parts.map((part): SheetPart => ({ ...part, value: at.values.get(part.key) ?? null })),
  });
}

/** As `pool`, without money: enough for yields and for the constants of a cost line. */
export function poolWeights(tests: readonly WeighedSheet[]): Checked<WeighedSheet> {
  const ordered = oldestFirst(tests);
  const first = ordered[0];
  const newest = ordered.at(-1);
  if (first === undefined || newest === undefined) return bad("tests", "no-tests", "No test stands behind this yet: adopt at least one.");
  const problems: Problem[] = [];
  tests.forEach((test, index) => {
    const read = readWeights(test);
    const checked = read.ok ? lossesOf(read.value) : read;
    if (!checked.ok) problems.push(...checked.problems.map((problem) => ({ ...problem, path: `tests.${index}.${problem.path}` })));
    if (test.kind !== first.kind) {
      problems.push({ path: `tests.${index}.kind`, code: "different-kinds", sentence: `A ${test.kind} test cannot be pooled with a ${first.kind} test: adopt tests of one kind, and chain the stages.` });
    }
    if (kindOf(test.billed.unit) !== kindOf(first.billed.unit)) {
      problems.push({ path: `tests.${index}.billed`, code: "different-measures", sentence: `One test is told in ${first.billed.unit} and another in ${test.billed.unit}: tests are pooled in one measure.` });
    }
  });
  if (problems.length > 0) return { ok: false, problems };
  if (tests.length === 1) return good(first);

  const unit = first.billed.unit;
  const parts = new Map<string, WeighedPart>();
  for (const test of ordered) {
    for (const part of test.parts) {
      const known = parts.get(part.key);
      if (known !== undefined && known.role !== part.role) {
        return bad("tests", "role-differs", `${part.name} is ${part.role} in one test and ${known.role} in another: a part must be the same thing in every pooled test.`);
      }
      parts.set(part.key, {
        ...part,
        weight: total(unit, known === undefined ? [part.weight] : [known.weight, part.weight]),
        marketValue: part.marketValue ?? known?.marketValue ?? null,
        furtherCost: part.furtherCost ?? known?.furtherCost ?? null,
        pieces: [],
      });
    }
  }
  const everyPiece = [...parts.values()].map((part): WeighedPart => {
    const each = part.role === "main" ? ordered.map((test) => piecesOf(test, part.key)) : [];
    return each.some((pieces) => pieces === null) ? part : { ...part, pieces: each.flatMap((pieces) => pieces ?? []) };
  });
  const cooking = ordered.flatMap((test) => (test.cooking === null ? [] : [test.cooking]));
  const steps = ordered.flatMap((test) => (test.scaleStep === null ? [] : [test.scaleStep]));
  return good({
    kind: first.kind,
    on: newest.on,
    pieces: ratio.toExact(ratio.sum(ordered.map((test) => ratio.fromExact(test.pieces)))),
    billed: total(unit, ordered.map((test) => test.billed)),
    parts: everyPiece,
    cooking:
      first.kind === "cooking"
        ? { trimmed: total(unit, cooking.map((stage) => stage.trimmed)), cooked: total(unit, cooking.map((stage) => stage.cooked)) }
        : null,
    // Each test is balanced by itself above; what their scales forgive adds up, as their weights do.
    scaleStep: steps.length === 0 ? null : total(unit, steps),
  });
}

/**
 * The pieces of a main part in one test: as weighed apart, or the part itself where one piece was worked. None where
 * the test does not have the part; null where several were worked and not weighed apart, so they cannot be counted.
 */
export function piecesOf(test: WeighedSheet, key: string): readonly Quantity[] | null {
  const part = test.parts.find((candidate) => candidate.key === key && candidate.role === "main");
  if (part === undefined) return [];
  if (part.pieces.length > 0) return part.pieces;
  return ratio.compare(ratio.fromExact(test.pieces), ratio.ONE) === 0 ? [part.weight] : null;
}

function total(unit: Unit, quantities: readonly Quantity[]): Quantity {
  const inBase = ratio.sum(quantities.map(quantityInBase));
  return { amount: ratio.toExact(ratio.div(inBase, ratio.fromExact(baseFactor(unit)))), unit };
}
