/**
 * What must hold between the facts of the block: a test's sheet must balance and must not give back more than was
 * paid; a cut's tests must be of what the cut is made from and hold its part; a portion must fit into a piece.
 */
import { type Problem, type Quantity, type Ratio, kindOf, quantityText, ratio } from "@/lib/measure";
import { type Sheet, figuresOf, piecesOf, quantityInBase, yieldLine } from "@/lib/yield";
import { type Book, kitchenOf } from "../book";
import { costingQuote, quoteKindMatches, quoteRate } from "../costing-quote";
import { type Cut, type PortionSpec, borrowedInUse } from "../cut";
import { cutKind } from "../quantity-of";
import { isSameOrigin } from "../tests-of";
import type { TestPart, YieldTest } from "../yield-test";
import { factName } from "./problem";

const MEASURED = { mass: "weight", volume: "volume", count: "count" } as const;

/**
 * What is wrong with a test's sheet. Linked by-products count at today's prices only where the test itself is being
 * recorded (`isFresh`): a market that moves later is no mistake in an old sheet.
 */
export function testProblems(book: Book, test: YieldTest, isFresh: boolean): readonly Problem[] {
  const problems: Problem[] = [...followsItself(book, test)];
  const figures = figuresOf(sheetOf(book, test, isFresh));
  // Unknown values of linked by-products are missing figures, not mistakes.
  if (!figures.ok) problems.push(...figures.problems);
  const kind = kindOf(test.billed.unit);
  const origin = test.of.kind === "item" ? book.shelves.item.get(test.of.id) : undefined;
  const own = test.of.kind === "item" ? origin?.kind : cutKind(book, test.of.id);
  const crosses = origin !== undefined && (kind === "count" || own === "count" ? origin.eachWeight !== null : origin.density !== null);
  if (own !== undefined && own !== null && own !== kind && !crosses && problems.length === 0) {
    problems.push({
      path: "billed", code: "wrong-kind",
      sentence: `${factName(book, test.of.kind, test.of.id)} is told by ${MEASURED[own]}, and the test by ${MEASURED[kind]} in ${test.billed.unit}: give the billed ${MEASURED[own]}.`,
    });
  }
  return problems;
}

/** A test goes on from an earlier working of the same piece, never, by however many steps, from itself. */
function followsItself(book: Book, test: YieldTest): readonly Problem[] {
  const seen = new Set<string>();
  for (let id = test.followsTestId; id !== null && !seen.has(id); id = book.shelves.test.get(id)?.followsTestId ?? null) {
    if (id === test.id) return [{ path: "followsTestId", code: "cycle", sentence: "A test cannot go on from itself: choose the earlier test of the same piece, or none." }];
    seen.add(id);
  }
  return [];
}

/** The sheet with each linked by-product at its item's own price, where that is known and told in the same kind. */
function sheetOf(book: Book, test: YieldTest, linked: boolean): Sheet {
  return { ...test, parts: test.parts.map((part) => ({ ...part, value: rateOf(book, part, linked) })) };
}

function rateOf(book: Book, part: TestPart, linked: boolean): Sheet["price"] {
  if (part.value === null) return null;
  if (part.value.kind === "typed") return part.value.rate;
  if (part.value.kind === "recipe" || !linked) return null;
  const item = book.shelves.item.get(part.value.id);
  const quote = item === undefined ? null : costingQuote(book, item.id);
  if (item === undefined || quote === null || !quoteKindMatches(item, quote) || item.kind !== kindOf(part.weight.unit)) return null;
  const unit = part.weight.unit;
  const rate = quoteRate(book, quote);
  if (rate === null) return null;
  const perUnit = ratio.mul(rate, quantityInBase({ amount: ONE, unit }));
  return { amount: ratio.toExact(perUnit), per: unit };
}

const ONE = ratio.toExact(ratio.ONE);

export function cutProblems(book: Book, cut: Cut): readonly Problem[] {
  const tests: YieldTest[] = [];
  for (const [index, id] of cut.testIds.entries()) {
    const test = book.shelves.test.get(id);
    if (test === undefined) continue;
    tests.push(test);
    if (test.of.kind !== cut.of.kind || test.of.id !== cut.of.id) {
      return [{
        path: `testIds.${index}`, code: "other-origin",
        sentence: `That test is of ${factName(book, test.of.kind, test.of.id)}, but ${cut.name} is made from ${factName(book, cut.of.kind, cut.of.id)}: adopt a test of the same thing.`,
      }];
    }
    if (!test.parts.some((part) => part.role === "main" && part.key === cut.partKey)) {
      const mains = test.parts.filter((part) => part.role === "main").map((part) => part.name).join(", ");
      return [{
        path: "partKey", code: "part-missing",
        sentence: `The test of ${test.on} has no main part for ${cut.name}: its main parts are ${mains}. Choose one of them.`,
      }];
    }
  }
  const borrowed = borrowedProblems(book, cut);
  if (borrowed.length > 0) return borrowed;
  const leftOut = leftOutProblems(book, cut);
  if (leftOut.length > 0) return leftOut;
  if (tests.length === 0 || tests.length < cut.testIds.length) return [];
  const line = yieldLine(tests, cut.partKey, cut.joint);
  return line.ok ? [] : line.problems.map((problem) => ({ ...problem, path: problem.path.startsWith("parts") ? "testIds" : problem.path || "testIds" }));
}

/** Only what is told by weight or volume can take up water: ten onions never yield eleven. */
function borrowedProblems(book: Book, cut: Cut): readonly Problem[] {
  const borrowed = borrowedInUse(cut);
  if (borrowed === null || cutKind(book, cut.id) !== "count" || ratio.compare(ratio.fromExact(borrowed.share), ratio.ONE) <= 0) return [];
  return [{
    path: "borrowed.share", code: "yield-over-whole",
    sentence: `${factName(book, cut.of.kind, cut.of.id)} is told by the piece, and no more pieces come out than go in: give a yield of at most 100 %.`,
  }];
}

/** A left-out test is of the same thing, is not adopted at once, and is named once; one that has gone from the book is let be. */
function leftOutProblems(book: Book, cut: Cut): readonly Problem[] {
  return cut.leftOut.flatMap(({ testId }, index): readonly Problem[] => {
    const test = book.shelves.test.get(testId);
    const path = `leftOut.${index}.testId`;
    if (cut.leftOut.findIndex((other) => other.testId === testId) < index) return [{ path, code: "left-out-twice", sentence: "That test is left out already: keep one of the two reasons." }];
    if (cut.testIds.includes(testId)) return [{ path, code: "adopted-and-left-out", sentence: `${factName(book, "test", testId)} cannot stand behind ${cut.name} and be left out of it: choose one.` }];
    if (test === undefined || isSameOrigin(test.of, cut.of)) return [];
    return [{ path, code: "other-origin", sentence: `That test is of ${factName(book, test.of.kind, test.of.id)}, but ${cut.name} is made from ${factName(book, cut.of.kind, cut.of.id)}: it has nothing to leave out.` }];
  });
}

export function specProblems(book: Book, spec: PortionSpec): readonly Problem[] {
  const cut = book.shelves.cut.get(spec.cutId);
  if (cut === undefined) return [];
  const kind = kindOf(spec.size.unit);
  const own = cutKind(book, spec.cutId);
  if (own !== null && own !== kind) {
    return [{ path: "size", code: "wrong-kind", sentence: `${cut.name} is told by ${MEASURED[own]}, so a portion of it cannot be ${say(book, spec.size)}: give its ${MEASURED[own]}.` }];
  }
  const size = quantityInBase(spec.size);
  if (spec.tolerance !== null && ratio.compare(quantityInBase(spec.tolerance), size) >= 0) {
    return [{ path: "tolerance", code: "tolerance-too-wide", sentence: `A portion of ${say(book, spec.size)} cannot be ${say(book, spec.tolerance)} more or less: give a tolerance smaller than the portion.` }];
  }
  const largest = largestPiece(book, cut, spec.costing);
  if (largest !== null && ratio.compare(size, largest.weight) > 0) {
    return [{
      path: "size", code: "portion-larger-than-piece",
      sentence: `A ${say(book, spec.size)} portion cannot come from a ${say(book, largest.told)} piece of ${cut.name}, the largest in its tests: give a smaller portion.`,
    }];
  }
  return [];
}

/**
 * The largest piece that the adopted tests gave; where pieces were not weighed apart, the part over their number. Onions
 * and shrimp are worked by the dozen and portioned by the scoop, so there the whole part is what a portion is taken from.
 */
function largestPiece(book: Book, cut: Cut, costing: PortionSpec["costing"]): { readonly weight: Ratio; readonly told: Quantity } | null {
  let largest: { weight: Ratio; told: Quantity } | null = null;
  for (const id of cut.testIds) {
    const test = book.shelves.test.get(id);
    if (test === undefined) continue;
    const byThePiece = costing === "whole" || test.kind === "butcher" || test.kind === "cooking";
    const pieces = byThePiece ? piecesOf(test, cut.partKey) : null;
    for (const told of pieces ?? share(test, cut.partKey, byThePiece)) {
      const weight = quantityInBase(told);
      if (largest === null || ratio.compare(weight, largest.weight) > 0) largest = { weight, told };
    }
  }
  return largest;
}

/** The main part, or what it comes to a piece. */
function share(test: YieldTest, key: string, byThePiece: boolean): readonly Quantity[] {
  const part = test.parts.find((one) => one.key === key && one.role === "main");
  if (part === undefined) return [];
  if (!byThePiece) return [part.weight];
  const mean = ratio.div(ratio.fromExact(part.weight.amount), ratio.fromExact(test.pieces));
  return [{ amount: ratio.toExact(mean), unit: part.weight.unit }];
}

function say(book: Book, quantity: Quantity): string {
  return quantityText(quantity, kitchenOf(book));
}
