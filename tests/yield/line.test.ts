import { describe, expect, test } from "vitest";
import { ratio } from "@/lib/measure";
import {
  asPurchased, breakEvenPriceRatio, butcherTest, costFactor, costOfLine, costPer, countedUp, ediblePortion, factorLine, honestPortionCost, portionNotes,
  portionSizeFrom, portionsFrom, pricesOfNewest, purchaseQuantity, repriceAtOwnPrices, repriceByFactor, repricingGap, wholePortionLine, wholePortions, yieldLine, yieldNeeded,
} from "@/lib/yield";
import { byProduct, codes, figure, fixed, main, quantity, sentences, sheet, won } from "./sheets";

const loin = sheet("butcher", "18 lb", "7.10", [main("strip", "12 lb", { pieces: ["6 lb 4 oz", "5 lb 12 oz"] }), byProduct("lean trim", "3 lb", "3.20"), byProduct("fat", "2 lb", "0.15")], { on: "2026-11-02", pieces: "2" });
const short = sheet("butcher", "15 lb", "7.00", [main("strip", "9 lb", { market: "10" }), main("tenderloin", "3 lb", { market: "20" }), byProduct("trim", "2 lb", "3")]);

describe("the line of a test", () => {
  test("C = (W/U)·P − Σ (w_k/U)·v_k, with its constants exact", () => {
    const line = won(yieldLine([loin], "strip", "sales-value"));
    expect(ratio.toExact(line.perOrigin)).toBe("1.5");
    expect(line.credits.map((credit) => [credit.key, ratio.toExact(credit.perUsable)])).toEqual([["lean-trim", "0.25"], ["fat", "1/6"]]);
    expect(ratio.toExact(line.yield)).toBe("2/3");
    expect(ratio.toExact(costOfLine(line, figure("7.10"), [figure("3.20"), figure("0.15")]))).toBe("9.825");
    const figures = won(butcherTest(loin));
    expect(fixed(costPer(figures.money?.costPerUnit ?? ratio.ZERO, "lb"), 3)).toBe("9.825");
  });

  test("a main part's share of the joint cost is folded in", () => {
    const line = won(yieldLine([short], "tenderloin", "sales-value"));
    // 40 % of the joint cost over 3 lb.
    expect(ratio.toExact(line.perOrigin)).toBe("2");
    expect(line.credits.map((credit) => ratio.toExact(credit.perUsable))).toEqual(["4/15"]);
    expect(ratio.toExact(line.share)).toBe("0.4");
    expect(ratio.toExact(costOfLine(line, figure("7"), [figure("3")]))).toBe("13.2");
    // The yield is the part's own weight, for buying, whatever its share of the cost.
    expect(ratio.toExact(line.yield)).toBe("0.2");
  });

  test("the factor is the line with every value in step with the price", () => {
    const at = pricesOfNewest([loin]);
    const factor = won(factorLine([loin], "strip", "sales-value", at));
    expect(factor).toEqual(won(butcherTest(loin)).money?.factor);
    expect(factor).toEqual(costFactor(figure("9.825"), figure("7.10")));
    expect(codes(factorLine([loin], "strip", "sales-value", { ...at, price: null }))).toEqual(["price-missing"]);
    expect(codes(factorLine([loin], "strip", "sales-value", { ...at, values: new Map() }))).toEqual(["value-missing"]);
    expect(codes(factorLine([{ ...loin, parts: loin.parts.slice(0, 1) }], "strip", "weight", { price: { amount: "0" as never, per: "lb" }, values: new Map() }))).toEqual(["factor-undefined"]);
    const free = sheet("butcher", "18 lb", "0.10", loin.parts);
    expect(codes(factorLine([free], "strip", "sales-value", pricesOfNewest([free])))).toEqual(["credits-exceed-cost"]);
  });

  test("a part that no test was worked for", () => {
    expect(codes(yieldLine([loin], "fat", "weight"))).toEqual(["part-missing"]);
    expect(codes(yieldLine([], "strip", "weight"))).toEqual(["no-tests"]);
    expect(codes(yieldLine([{ ...short, parts: short.parts.map((part) => ({ ...part, marketValue: null })) }], "strip", "sales-value"))).toEqual(["market-value-missing", "market-value-missing"]);
  });
});

describe("a new dealer price", () => {
  const C = figure("9.825");
  const P = figure("7.10");

  test("by the factor and with by-products at their own price, and the gap between", () => {
    const newP = figure("8.00");
    const factor = costFactor(C, P) ?? ratio.ZERO;
    const byFactor = repriceByFactor(factor, newP);
    const own = repriceAtOwnPrices(C, figure("18"), figure("12"), P, newP);
    expect(ratio.toExact(own)).toBe("11.175");
    expect(fixed(byFactor, 4)).toBe("11.0704");
    expect(repricingGap(figure("9.90"), figure("12"), P, newP)).toEqual(ratio.sub(byFactor, own));
    expect(repricingGap(figure("0"), figure("12"), ratio.ZERO, newP)).toBeNull();
  });
});

describe("whole portions", () => {
  const tenderloin = [figure("68")];

  test("are counted down piece by piece, pieces never pooled", () => {
    const two = won(wholePortions([figure("17"), figure("23")], figure("10"), "oz"));
    expect(two.portions).toBe(3n);
    expect(two.pieces.map((piece) => [piece.portions, ratio.toExact(piece.end)])).toEqual([[1n, "7"], [2n, "3"]]);
    expect(ratio.toExact(two.ends)).toBe("10");
  });

  test("the honest cost is above the textbook's by the ends: 68 oz cut at 6, 8 and 10 oz", () => {
    const above = (size: string): string => {
      const counted = won(wholePortions(tenderloin, figure(size), "oz"));
      const honest = won(honestPortionCost(figure("53.12"), counted, ratio.ZERO));
      const textbook = ratio.mul(ratio.div(figure("53.12"), figure("68")), figure(size));
      return `${counted.portions} portions, +${fixed(ratio.mul(ratio.sub(ratio.div(honest, textbook), ratio.ONE), figure("100")), 1)} %`;
    };
    expect([above("6"), above("8"), above("10")]).toEqual(["11 portions, +3.0 %", "8 portions, +6.3 %", "6 portions, +13.3 %"]);
  });

  test("ends that are worth something are credited; never as much as the pieces", () => {
    const counted = won(wholePortions(tenderloin, figure("10"), "oz"));
    expect(ratio.toExact(won(honestPortionCost(figure("68"), counted, figure("0.25"))))).toBe("11");
    expect(codes(honestPortionCost(figure("2"), counted, figure("0.25")))).toEqual(["ends-exceed-cost"]);
  });

  test("a portion larger than every piece is refused; a piece smaller than one portion is noted", () => {
    const twenty = ratio.mul(figure("20"), figure("28.349523125"));
    const none = wholePortions([twenty], ratio.mul(figure("24"), figure("28.349523125")), "oz");
    expect(sentences(none)).toContain("A 24 oz portion cannot come from a 20 oz piece");
    expect(codes(wholePortions([], figure("6"), "oz"))).toEqual(["no-pieces"]);
    expect(codes(wholePortions([twenty], ratio.ZERO, "oz"))).toEqual(["no-size"]);
    const counted = won(wholePortions([twenty, ratio.mul(figure("8"), figure("28.349523125"))], ratio.mul(figure("9"), figure("28.349523125")), "oz"));
    expect(portionNotes(counted, "oz").map((note) => [note.path, note.code])).toEqual([["pieces.1", "piece-gives-no-portion"]]);
  });

  test("as constants over pooled tests", () => {
    const line = won(wholePortionLine([loin], "strip", quantity("12 oz")));
    // 100 oz gives 8 and leaves 4; 92 oz gives 7 and leaves 8.
    expect(line.counted.portions).toBe(15n);
    const ounce = figure("28.349523125");
    expect(ratio.toExact(ratio.div(line.usablePerPortion, ounce))).toBe("12.8");
    expect(ratio.toExact(ratio.div(line.endPerPortion, ounce))).toBe("0.8");
    const single = sheet("butcher", "18 lb", null, [main("strip", "6 lb 4 oz")]);
    expect(won(wholePortionLine([single, loin], "strip", quantity("12 oz"))).counted.portions).toBe(23n);
    expect(codes(wholePortionLine([sheet("butcher", "18 lb", null, [main("strip", "12 lb")], { pieces: "2" })], "strip", quantity("12 oz")))).toEqual(["pieces-not-weighed"]);
    expect(codes(wholePortionLine([loin], "strip", quantity("20 lb")))).toEqual(["portion-larger-than-piece"]);
    expect(codes(wholePortionLine([loin], "strip", quantity("1 cup")))).toEqual(["wrong-kind"]);
    expect(codes(wholePortionLine([loin], "fat", quantity("1 oz")))).toEqual(["part-missing"]);
  });
});

describe("how much to buy", () => {
  test("q = N·s/Y and its inverses", () => {
    const q = won(purchaseQuantity(figure("48"), figure("1/4"), figure("0.425")));
    expect(fixed(q, 3)).toBe("28.235");
    expect(won(portionsFrom(q, figure("0.425"), figure("1/4")))).toEqual(figure("48"));
    expect(won(portionSizeFrom(q, figure("0.425"), figure("48")))).toEqual(figure("1/4"));
    expect(won(yieldNeeded(figure("48"), figure("1/4"), q))).toEqual(figure("17/40"));
    expect(ediblePortion(q, figure("0.425"))).toEqual(figure("12"));
  });

  test("with the yield, never with the cost factor, as soon as trim has a value", () => {
    const figures = won(butcherTest(loin));
    const bought = won(asPurchased(figure("12"), figures.yield));
    expect(ratio.toExact(bought)).toBe("18");
    expect(ratio.compare(figures.money?.factor ?? ratio.ZERO, ratio.div(ratio.ONE, figures.yield))).toBe(-1);
  });

  test("purchases are counted up, and not where they come out even", () => {
    expect(won(countedUp(figure("3.28"), figure("1/2")))).toEqual(figure("7/2"));
    expect(won(countedUp(figure("28"), figure("1")))).toEqual(figure("28"));
  });

  test("what has no answer says so", () => {
    expect([purchaseQuantity(figure("1"), figure("1"), ratio.ZERO), portionsFrom(figure("1"), figure("1"), ratio.ZERO), portionSizeFrom(figure("1"), figure("1"), ratio.ZERO),
      yieldNeeded(figure("1"), figure("1"), ratio.ZERO), countedUp(figure("1"), ratio.ZERO), breakEvenPriceRatio(figure("1"), ratio.ZERO)].flatMap(codes))
      .toEqual(["no-yield", "no-size", "no-portions", "no-quantity", "no-step", "no-yield"]);
  });
});
