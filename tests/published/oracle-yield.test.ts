/**
 * The butcher test and the cooking-loss test recomputed from their definitions with a general-purpose fraction library,
 * on published and on random inputs. Ours must agree to 30 significant digits, and, being exact, does so as a fraction.
 */
import fc from "fast-check";
import Fraction from "fraction.js";
import { describe, expect, test } from "vitest";
import { type Ratio, type Unit, Decimal, exact, ratio } from "@/lib/measure";
import { type Sheet, type SheetPart, butcherTest, cookingLossTest, costPer, factorLine, pricesOfNewest, yieldLine } from "@/lib/yield";
import { won } from "../yield/sheets";

const DIGITS = 30;

function agrees(ours: Ratio | null | undefined, oracle: Fraction): void {
  expect(ours).toBeDefined();
  const mine = ours ?? ratio.ZERO;
  const theirs = new Decimal(oracle.n.toString()).div(oracle.d.toString()).mul(oracle.s < 0n ? -1 : 1);
  expect(ratio.toDecimal(mine).toSignificantDigits(DIGITS).toString()).toBe(theirs.toSignificantDigits(DIGITS).toString());
  expect(`${mine.n}/${mine.d}`).toBe(`${oracle.s * oracle.n}/${oracle.d}`);
}

interface Card {
  readonly billed: string;
  readonly price: string;
  readonly usable: string;
  /** Weight and value per unit. */
  readonly parts: readonly (readonly [string, string])[];
  readonly portion: string;
}

const bare = { value: null, marketValue: null, furtherCost: null, pieces: [] };

function sheetOf(kind: "butcher" | "cooking", unit: Unit, card: Card, cooking: Sheet["cooking"] = null): Sheet {
  const told = (amount: string): Sheet["billed"] => ({ amount: exact(amount), unit });
  return {
    kind, pieces: exact("1"), billed: told(card.billed), price: { amount: exact(card.price), per: unit }, cooking, scaleStep: null,
    parts: [
      { ...bare, key: "usable", name: "usable", role: "main", weight: told(card.usable) },
      ...card.parts.map(([weight, value], at): SheetPart => ({ ...bare, key: `part-${at}`, name: `part ${at}`, role: "by-product", weight: told(weight), value: { amount: exact(value), per: unit } })),
    ],
  };
}

/** C = (A − V)/U, F = C/P, f = C·s/P, L = W − U − Σw, all from the definitions. */
function butcherOracle(card: Card): { readonly C: Fraction; readonly F: Fraction; readonly L: Fraction; readonly Y: Fraction; readonly V: Fraction } {
  const W = new Fraction(card.billed);
  const P = new Fraction(card.price);
  const U = new Fraction(card.usable);
  const V = card.parts.reduce((sum, [w, v]) => sum.add(new Fraction(w).mul(v)), new Fraction(0));
  const w = card.parts.reduce((sum, [weight]) => sum.add(weight), new Fraction(0));
  const C = W.mul(P).sub(V).div(U);
  return { C, F: C.div(P), L: W.sub(U).sub(w), Y: U.div(W), V };
}

function judgeButcher(unit: Unit, card: Card): void {
  const sheet = sheetOf("butcher", unit, card);
  const figures = won(butcherTest(sheet));
  const oracle = butcherOracle(card);
  agrees(costPer(figures.money?.costPerUnit ?? ratio.ZERO, unit), oracle.C);
  agrees(figures.money?.factor, oracle.F);
  agrees(figures.money?.credits, oracle.V);
  agrees(figures.yield, oracle.Y);
  agrees(ratio.div(figures.losses[0]?.weight ?? ratio.ZERO, costPer(ratio.ONE, unit)), oracle.L);
  figures.parts.slice(1).forEach((part, at) => agrees(part.ratio, new Fraction(card.parts[at]?.[0] ?? "0").div(card.billed)));
  // The line that a whole book is costed from gives the same cost, and the same factor.
  const line = won(yieldLine([sheet], "usable", "weight"));
  agrees(line.perOrigin, new Fraction(card.billed).div(card.usable));
  line.credits.forEach((credit, at) => agrees(credit.perUsable, new Fraction(card.parts[at]?.[0] ?? "0").div(card.usable)));
  agrees(won(factorLine([sheet], "usable", "weight", pricesOfNewest([sheet]))), oracle.F);
}

function judgeCooking(unit: Unit, card: Card, trimmed: string, cooked: string, carried: string, dealerPrice: string): void {
  const told = (amount: string): Sheet["billed"] => ({ amount: exact(amount), unit });
  const sheet = sheetOf("cooking", unit, card, { trimmed: told(trimmed), cooked: told(cooked) });
  const Y = ratio.fromExact(exact(carried));
  const figures = won(cookingLossTest(sheet, { yield: Y, dealerPrice: { amount: exact(dealerPrice), per: unit } }));
  const oracle = butcherOracle(card);
  const original = new Fraction(card.billed).div(carried);
  agrees(costPer(figures.money?.costPerUnit ?? ratio.ZERO, unit), oracle.C);
  agrees(figures.factorOnDealerPrice, oracle.C.div(dealerPrice));
  agrees(figures.processYield, new Fraction(cooked).div(trimmed));
  agrees(figures.overallYield, new Fraction(card.usable).div(original));
  agrees(figures.lossInTrimming.ratio, original.sub(trimmed).div(original));
  agrees(figures.lossInCooking.ratio, new Fraction(trimmed).sub(cooked).div(original));
  const board = card.parts.reduce((sum, [w]) => sum.add(w), new Fraction(0));
  agrees(figures.carvingLoss.ratio, new Fraction(cooked).sub(board).sub(card.usable).div(original));
}

describe("the butcher test against a fraction library", () => {
  test.each<[string, Card]>([
    ["lamb loin, Dittmer & Keefe", { billed: "12", price: "6.65", usable: "6", parts: [["3", "0"], ["1", "6.10"], ["1.5", "4.60"]], portion: "0.3125" }],
    ["veal leg, Gisslen", { billed: "30", price: "5.00", usable: "18", parts: [["2.5", "0.12"], ["3.3125", "0.38"], ["2.125", "4.89"], ["3", "5.29"], ["0.875", "0"]], portion: "0.25" }],
    ["beef rib, posted exercise", { billed: "28", price: "1.30", usable: "16", parts: [["3", "0.10"], ["4", "0.30"], ["5", "1.30"]], portion: "0.5" }],
  ])("%s", (_, card) => judgeButcher("lb", card));

  test("on random sheets in any unit", () => {
    fc.assert(fc.property(cards, fc.constantFrom<Unit>("lb", "kg", "oz", "g"), ({ card }, unit) => judgeButcher(unit, card)), { numRuns: 200 });
  });
});

describe("the cooking-loss test against a fraction library", () => {
  test("lamb loin, Dittmer & Keefe, the card closed and the net cost carried in", () => {
    judgeCooking("lb", { billed: "6", price: "167/15", usable: "4.5", parts: [["1", "0"]], portion: "0.3125" }, "6", "5.5", "0.5", "6.65");
  });

  test("ham, Gisslen", () => {
    judgeCooking("lb", { billed: "12", price: "3.93", usable: "8.25", parts: [], portion: "0.375" }, "12", "8.25", "1", "3.49");
  });

  test("on random sheets in any unit", () => {
    fc.assert(
      fc.property(cards, hundredths(1, 100), fc.constantFrom<Unit>("lb", "kg", "oz", "g"), ({ card, trimmed, cooked }, carried, unit) =>
        judgeCooking(unit, card, trimmed, cooked, carried, card.price)),
      { numRuns: 200 },
    );
  });
});

/** Whole hundredths as canonical text. */
function hundredths(min: number, max: number): fc.Arbitrary<string> {
  return fc.integer({ min, max }).map((n) => ratio.toExact(ratio.of(BigInt(n), 100n)));
}

/** Weights in hundredths: what is usable, parts worth less than the piece, and what is lost at the board, in the heat and before it. */
const cards: fc.Arbitrary<{ readonly card: Card; readonly trimmed: string; readonly cooked: string }> = fc
  .record({
    usable: fc.integer({ min: 100, max: 99_999 }),
    parts: fc.array(fc.tuple(fc.integer({ min: 1, max: 9_999 }), fc.integer({ min: 0, max: 99 })), { maxLength: 4 }),
    losses: fc.tuple(fc.integer({ min: 0, max: 500 }), fc.integer({ min: 0, max: 500 }), fc.integer({ min: 0, max: 500 })),
    price: fc.integer({ min: 100, max: 99_999 }),
  })
  .map(({ usable, parts, losses: [carving, cooking, trimming], price }) => {
    const told = (n: number): string => ratio.toExact(ratio.of(BigInt(n), 100n));
    const cooked = usable + parts.reduce((sum, [weight]) => sum + weight, 0) + carving;
    const card: Card = {
      billed: told(cooked + cooking + trimming), price: told(price), usable: told(usable),
      parts: parts.map(([weight, percent]) => [told(weight), ratio.toExact(ratio.of(BigInt(percent * price), 10_000n))] as const), portion: "0.25",
    };
    return { card, trimmed: told(cooked + cooking), cooked: told(cooked) };
  });
