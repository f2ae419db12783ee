/**
 * Laws of the yield test, on random sheets: shares are exactly the whole, joint cost never changes a total, the line
 * says what the sheet says, pooling does not depend on order, and no unit is privileged.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Ratio, type Unit, baseFactor, ratio } from "@/lib/measure";
import {
  type Sheet, type SheetPart, JOINT_COST_METHODS, butcherTest, costFactor, costOfLine, factorLine, figuresOf, honestPortionCost, jointCost, pool, pooledYield, pricesOfNewest,
  quantityInBase, rateInBase, repriceAtOwnPrices, repriceByFactor, repricingGap, wholePortions, yieldLine,
} from "@/lib/yield";
import { won } from "./sheets";

const hundredths = (min: number, max: number): fc.Arbitrary<Ratio> => fc.integer({ min, max }).map((n) => ratio.of(BigInt(n), 100n));

/** A sheet that a kitchen could fill in: one or two mains, by-products worth less than the piece, discard, some loss. */
const sheets: fc.Arbitrary<Sheet> = fc
  .record({
    mains: fc.array(hundredths(50, 900), { minLength: 1, maxLength: 3 }),
    markets: fc.array(hundredths(50, 3000), { minLength: 3, maxLength: 3 }),
    trims: fc.array(fc.tuple(hundredths(1, 300), hundredths(0, 99)), { maxLength: 3 }),
    waste: fc.option(hundredths(1, 200), { nil: null }),
    loss: hundredths(0, 80),
    price: hundredths(100, 4000),
    unit: fc.constantFrom<Unit>("lb", "kg", "oz", "g"),
  })
  .map(({ mains, markets, trims, waste, loss, price, unit }) => {
    const told = (amount: Ratio): Sheet["billed"] => ({ amount: ratio.toExact(amount), unit });
    const bare = { value: null, marketValue: null, furtherCost: null, pieces: [] };
    const parts: SheetPart[] = [
      ...mains.map((weight, at): SheetPart => ({ ...bare, key: `main-${at}`, name: `main ${at}`, role: "main", weight: told(weight), marketValue: { amount: ratio.toExact(markets[at] ?? ratio.ONE), per: unit } })),
      ...trims.map(([weight, value], at): SheetPart => ({ ...bare, key: `trim-${at}`, name: `trim ${at}`, role: "by-product", weight: told(weight), value: { amount: ratio.toExact(ratio.mul(value, price)), per: unit } })),
      ...(waste === null ? [] : [{ ...bare, key: "waste", name: "waste", role: "discard" as const, weight: told(waste) }]),
    ];
    const billed = ratio.sum([...mains, ...trims.map(([weight]) => weight), waste ?? ratio.ZERO, loss]);
    return { kind: "butcher" as const, pieces: "1" as never, billed: told(billed), price: { amount: ratio.toExact(price), per: unit }, parts, cooking: null, scaleStep: null };
  });

describe("laws of the yield test", () => {
  test("the parts and the loss are exactly the whole, and the mains' costs exactly what was not credited", () => {
    fc.assert(
      fc.property(sheets, fc.constantFrom(...JOINT_COST_METHODS), (sheet, method) => {
        const figures = won(figuresOf(sheet, method));
        expect(ratio.sum([...figures.parts.map((part) => part.ratio), ...figures.losses.map((loss) => loss.ratio)])).toEqual(ratio.ONE);
        const mains = figures.parts.filter((part) => part.role === "main").map((part) => part.value ?? ratio.ZERO);
        expect(ratio.sum(mains)).toEqual(figures.money?.usableValue);
        expect(ratio.add(ratio.sum(mains), figures.money?.credits ?? ratio.ZERO)).toEqual(figures.money?.paid);
      }),
    );
  });

  test("the line says what the sheet says, for every main part and method", () => {
    fc.assert(
      fc.property(sheets, fc.constantFrom(...JOINT_COST_METHODS), (sheet, method) => {
        const figures = won(figuresOf(sheet, method));
        const price = figures.money?.price ?? ratio.ZERO;
        for (const part of figures.parts.filter((each) => each.role === "main")) {
          const line = won(yieldLine([sheet], part.key, method));
          const values = line.credits.map((credit) => figures.parts.find((each) => each.key === credit.key)?.perUnit ?? ratio.ZERO);
          expect(costOfLine(line, price, values)).toEqual(part.perUnit);
          expect(won(factorLine([sheet], part.key, method, pricesOfNewest([sheet])))).toEqual(part.factor);
        }
      }),
    );
  });

  test("the two repricing methods differ by (V/U)(1 − P′/P), and agree without by-products", () => {
    fc.assert(
      fc.property(sheets, hundredths(1, 9000), (sheet, newPerUnit) => {
        const figures = won(butcherTest(sheet, "weight"));
        const money = figures.money;
        if (money === null) throw new Error("expected money figures");
        const newP = ratio.div(newPerUnit, ratio.fromExact(baseFactor(figures.unit)));
        const byFactor = repriceByFactor(costFactor(money.costPerUnit, money.price) ?? ratio.ZERO, newP);
        const own = repriceAtOwnPrices(money.costPerUnit, figures.billed, figures.usable, money.price, newP);
        expect(repricingGap(money.credits, figures.usable, money.price, newP)).toEqual(ratio.sub(byFactor, own));
        if (ratio.sign(money.credits) === 0) expect(byFactor).toEqual(own);
      }),
    );
  });

  test("the factor is below 1/Y exactly when by-products are worth something", () => {
    fc.assert(
      fc.property(sheets, (sheet) => {
        const figures = won(butcherTest(sheet, "weight"));
        const order = ratio.compare(figures.money?.factor ?? ratio.ZERO, ratio.div(ratio.ONE, figures.yield));
        expect(order).toBe(ratio.sign(figures.money?.credits ?? ratio.ZERO) > 0 ? -1 : 0);
      }),
    );
  });

  test("pooling does not depend on order and lies between the single yields", () => {
    fc.assert(
      fc.property(fc.array(sheets, { minLength: 2, maxLength: 4 }), (tests) => {
        const forward = won(pooledYield(tests));
        expect(won(pooledYield([...tests].reverse()))).toEqual(forward);
        const single = tests.map((each) => won(pooledYield([each])));
        expect(single.some((each) => ratio.compare(each, forward) <= 0) && single.some((each) => ratio.compare(each, forward) >= 0)).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  test("pooling a test with itself changes nothing but the weights", () => {
    fc.assert(
      fc.property(sheets, (sheet) => {
        const once = won(butcherTest(sheet, "weight"));
        const twice = won(butcherTest(won(pool([sheet, sheet], pricesOfNewest([sheet]))), "weight"));
        expect(twice.yield).toEqual(once.yield);
        expect(twice.money?.costPerUnit).toEqual(once.money?.costPerUnit);
        expect(twice.billed).toEqual(ratio.add(once.billed, once.billed));
      }),
      { numRuns: 60 },
    );
  });

  test("shares of a joint cost are above 0, add to exactly 1, and follow no unit", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(hundredths(1, 5000), hundredths(1, 5000)), { minLength: 1, maxLength: 6 }), hundredths(1, 100_000), hundredths(1, 500), fc.constantFrom(...JOINT_COST_METHODS), (mains, joint, scale, method) => {
        const parts = mains.map(([weight, marketValue], at) => ({ key: String(at), name: String(at), weight, marketValue, furtherCost: null }));
        const shares = won(jointCost(method, joint, parts));
        expect(ratio.sum(shares.map((each) => each.share))).toEqual(ratio.ONE);
        expect(shares.every((each) => ratio.sign(each.share) > 0)).toBe(true);
        const inAnotherUnit = parts.map((part) => ({ ...part, weight: ratio.mul(part.weight, scale), marketValue: ratio.div(part.marketValue, scale) }));
        expect(won(jointCost(method, joint, inAnotherUnit)).map((each) => each.share)).toEqual(shares.map((each) => each.share));
      }),
    );
  });

  test("whole portions: what is cut and what is left is the piece, and the honest cost is never below the textbook's", () => {
    fc.assert(
      fc.property(fc.array(hundredths(1, 3000), { minLength: 1, maxLength: 5 }), hundredths(1, 1500), hundredths(1, 100_000), (pieces, size, cost) => {
        const counted = wholePortions(pieces, size, "oz");
        fc.pre(counted.ok);
        const { portions, ends } = won(counted);
        const usable = ratio.sum(pieces);
        expect(ratio.add(ratio.mul(ratio.of(portions), size), ends)).toEqual(usable);
        expect(won(counted).pieces.every((piece) => ratio.sign(piece.end) >= 0 && ratio.compare(piece.end, size) < 0)).toBe(true);
        const textbook = ratio.mul(ratio.div(cost, usable), size);
        expect(ratio.compare(won(honestPortionCost(cost, won(counted), ratio.ZERO)), textbook)).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  test("a sheet told in another unit gives the same figures", () => {
    fc.assert(
      fc.property(sheets, fc.constantFrom<Unit>("lb", "kg", "oz", "g"), (sheet, unit) => {
        const inUnit = (told: Sheet["billed"]): Sheet["billed"] => ({ amount: ratio.toExact(ratio.div(quantityInBase(told), ratio.fromExact(baseFactor(unit)))), unit });
        const perUnit = (told: Sheet["price"]): Sheet["price"] => (told === null ? null : { amount: ratio.toExact(ratio.mul(rateInBase(told), ratio.fromExact(baseFactor(unit)))), per: unit });
        const converted: Sheet = {
          ...sheet, billed: inUnit(sheet.billed), price: perUnit(sheet.price),
          parts: sheet.parts.map((part) => ({ ...part, weight: inUnit(part.weight), value: perUnit(part.value), marketValue: perUnit(part.marketValue) })),
        };
        const { notes: _, unit: __, ...told } = won(butcherTest(sheet));
        const { notes: ___, unit: ____, ...again } = won(butcherTest(converted));
        expect(again).toEqual(told);
      }),
      { numRuns: 60 },
    );
  });
});
