import { describe, expect, test } from "vitest";
import { ratio } from "@/lib/measure";
import { type YieldFigures, butcherTest, costOfQuantity, costPer, drainedTest, hydrationTest, portionByWeight, purchaseFactor, trimTest } from "@/lib/yield";
import { byProduct, codes, discard, fixed, main, purge, quantity, sentences, sheet, show, won } from "./sheets";

const lamb = sheet("butcher", "12 lb", "6.65", [
  discard("fat", "3 lb"), byProduct("kidneys", "1 lb", "6.10"), byProduct("flanks", "1 lb 8 oz", "4.60"), main("usable meat", "6 lb"),
]);
const noted = (figures: YieldFigures): readonly string[] => figures.notes.map((note) => note.code);
const money = (figures: YieldFigures): NonNullable<YieldFigures["money"]> => {
  if (figures.money === null) throw new Error("expected money figures");
  return figures.money;
};

describe("butcher test", () => {
  const figures = won(butcherTest(lamb));

  test("credits by-products and costs the usable part", () => {
    expect(show(money(figures).paid)).toBe("79.8");
    expect(show(money(figures).credits)).toBe("13");
    expect(show(money(figures).usableValue)).toBe("66.8");
    expect(fixed(costPer(money(figures).costPerUnit, "lb"), 4)).toBe("11.1333");
    expect(fixed(costPer(money(figures).costPerUnit, "oz"), 4)).toBe("0.6958");
    expect(fixed(costOfQuantity(money(figures).costPerUnit, quantity("100 g")), 4)).toBe("2.4545");
    expect(fixed(costPer(money(figures).costPerUnit, "kg"), 4)).toBe("24.5448");
    expect(show(money(figures).factor ?? ratio.ZERO, 4)).toBe("1.6742");
  });

  test("derives the loss in cutting; ratios with the loss are exactly the whole", () => {
    expect(figures.losses.map((loss) => [loss.key, ratio.toExact(loss.ratio)])).toEqual([["cutting", "1/24"]]);
    const all = [...figures.parts.map((part) => part.ratio), ...figures.losses.map((loss) => loss.ratio)];
    expect(ratio.sum(all)).toEqual(ratio.ONE);
    expect(figures.parts.map((part) => ratio.toExact(part.ratio))).toEqual(["0.25", "1/12", "0.125", "0.5"]);
  });

  test("costs a portion and its factor, which holds for one unit of the price", () => {
    const { costPerUnit, price } = money(figures);
    const byPound = portionByWeight(costPerUnit, price, quantity("5 oz"), "lb");
    const byKilo = portionByWeight(costPerUnit, price, quantity("5 oz"), "kg");
    expect(fixed(byPound.cost, 4)).toBe("3.4792");
    expect(fixed(byPound.factor ?? ratio.ZERO, 4)).toBe("0.5232");
    expect(fixed(byKilo.factor ?? ratio.ZERO, 4)).toBe("0.2373");
    expect(byKilo.cost).toEqual(byPound.cost);
  });

  test("a price of zero costs zero, and the factors are undefined", () => {
    const free = won(butcherTest(sheet("butcher", "12 lb", "0", [main("meat", "6 lb")])));
    expect(money(free).costPerUnit).toEqual(ratio.ZERO);
    expect(money(free).factor).toBeNull();
    expect(free.parts[0]?.factor).toBeNull();
    expect(portionByWeight(ratio.ZERO, ratio.ZERO, quantity("5 oz"), "lb").factor).toBeNull();
  });

  test("without a price there are yields, no costs, and a word on what is missing", () => {
    const block = won(butcherTest(sheet("butcher", "12 lb", null, [main("meat", "6 lb"), byProduct("fat", "3 lb", null)])));
    expect(ratio.toExact(block.yield)).toBe("0.5");
    expect(block.money).toBeNull();
    expect(block.missing.map((problem) => [problem.path, problem.code])).toEqual([["price", "price-missing"], ["parts.1.value", "value-missing"]]);
    expect(block.parts.map((part) => part.value)).toEqual([null, null]);
  });
});

describe("what a sheet is refused for", () => {
  test("parts heavier than the whole, with the excess", () => {
    const heavy = butcherTest(sheet("butcher", "12 lb", "6.65", [main("meat", "8 lb"), discard("fat", "4 lb 9 oz")]));
    expect(codes(heavy)).toEqual(["parts-exceed-whole"]);
    expect(sentences(heavy)).toContain("Parts add to 12 lb 9 oz but the piece weighed 12 lb: 9 oz too much.");
  });

  test("parts heavier than the whole because one was entered as kilos: told by name", () => {
    const mixed = butcherTest(sheet("butcher", "12 lb", "6.65", [main("meat", "6 kg"), discard("fat", "5 lb 12 oz")]));
    expect(sentences(mixed)).toContain("If meat was read in pounds but entered as kilos, the sheet would close");
  });

  test("credits that reach the cost", () => {
    const credited = butcherTest(sheet("butcher", "12 lb", "1", [main("meat", "6 lb"), byProduct("trim", "4 lb", "3")]));
    expect(codes(credited)).toEqual(["credits-exceed-cost"]);
    expect(sentences(credited)).toContain("credited with 12.00 but only 12.00 was paid");
    expect(codes(butcherTest(sheet("butcher", "12 lb", "0", [main("meat", "6 lb"), byProduct("trim", "4 lb", "3")])))).toEqual(["credits-exceed-cost"]);
  });

  test("nothing usable, nothing billed, a negative price, a unit of another kind, a part twice", () => {
    expect(codes(butcherTest(sheet("butcher", "12 lb", "1", [main("meat", "0 lb")])))).toEqual(["no-usable-weight"]);
    expect(codes(butcherTest(sheet("butcher", "12 lb", "1", [discard("fat", "1 lb")])))).toEqual(["no-main-part"]);
    expect(codes(butcherTest({ ...lamb, billed: { amount: "0" as never, unit: "lb" } }))).toContain("not-above-zero");
    expect(codes(butcherTest({ ...lamb, price: { amount: "-1" as never, per: "lb" } }))).toEqual(["negative"]);
    expect(codes(butcherTest({ ...lamb, price: { amount: "1" as never, per: "L" } }))).toEqual(["wrong-kind"]);
    expect(codes(butcherTest(sheet("butcher", "12 lb", "1", [main("meat", "2 L")])))).toEqual(["wrong-kind"]);
    expect(codes(butcherTest(sheet("butcher", "12 lb", "1", [main("meat", "6 lb"), discard("fat", "1 lb"), discard("fat", "2 lb")])))).toEqual(["part-twice"]);
    expect(codes(butcherTest(sheet("butcher", "12 lb", "1", [main("meat", "6 lb", { pieces: ["3 lb", "3 lb 1 oz"] })])))).toEqual(["pieces-exceed-part"]);
    expect(codes(trimTest(lamb))).toEqual(["wrong-test"]);
  });
});

describe("what a sheet is asked about", () => {
  const withLoss = (loss: string, more: Parameters<typeof sheet>[4] = {}, purged = false): readonly string[] =>
    noted(won(butcherTest(sheet("butcher", "100 lb", "5", [main("meat", loss), ...(purged ? [purge("1 lb")] : [])], more))));

  test("loss over 2 % without a purge row, over 5 % always, and none at all", () => {
    expect(withLoss("98 lb")).toEqual([]);
    expect(withLoss("97.9 lb")).toEqual(["loss-without-purge"]);
    expect(withLoss("94.5 lb", {}, true)).toEqual([]);
    expect(withLoss("93.9 lb", {}, true)).toEqual(["loss-high"]);
    expect(withLoss("94.9 lb")).toEqual(["loss-high"]);
    expect(withLoss("100 lb")).toEqual(["loss-none"]);
  });

  test("an excess that the scale's step explains counts as no loss, with a note; beyond it the sheet is refused", () => {
    const forgiven = won(butcherTest(sheet("butcher", "10 lb", "5", [main("meat", "6 lb"), discard("fat", "4 lb 1.5 oz")], { step: "1 oz" })));
    expect(noted(forgiven)).toEqual(["loss-forgiven"]);
    expect(forgiven.losses[0]?.weight).toEqual(ratio.ZERO);
    expect(show(costPer(ratio.div(ratio.ONE, forgiven.losses[0]?.forgiven ?? ratio.ONE), "oz"), 6)).toBe("0.666667");
    // Three readings (the whole and two parts) of a scale in ounces: up to an ounce and a half.
    expect(codes(butcherTest(sheet("butcher", "10 lb", "5", [main("meat", "6 lb"), discard("fat", "4 lb 1.51 oz")], { step: "1 oz" })))).toEqual(["parts-exceed-whole"]);
    expect(codes(butcherTest(sheet("butcher", "10 lb", "5", [main("meat", "6 lb"), discard("fat", "4 lb 1 oz")])))).toEqual(["parts-exceed-whole"]);
  });

  test("a by-product that is not cheaper than the whole", () => {
    const figures = won(butcherTest(sheet("butcher", "20 lb", "4.60", [main("loin", "15 lb"), byProduct("bone", "4 lb 12 oz", "5.00")])));
    expect(figures.notes.map((note) => note.sentence)).toEqual(["bone at 5.00 per lb is not cheaper than the piece at 4.60: is that right?"]);
    expect(noted(won(butcherTest(sheet("butcher", "20 lb", "4.60", [main("loin", "15 lb"), byProduct("bone", "4 lb 12 oz", "4.60")]))))).toEqual(["by-product-dear"]);
    expect(noted(won(butcherTest(sheet("butcher", "20 lb", "4.60", [main("loin", "15 lb"), byProduct("bone", "4 lb 12 oz", "4.59")]))))).toEqual([]);
  });
});

describe("trim, drained and hydration tests", () => {
  test("trim: what was not weighed is trim; a yield over 1 is refused", () => {
    const figures = won(trimTest(sheet("trim", "5 kg", "5.50 / kg", [main("flesh", "3.8 kg")])));
    expect(ratio.toExact(figures.yield)).toBe("0.76");
    expect(figures.losses.map((loss) => [loss.key, ratio.toExact(loss.ratio)])).toEqual([["unweighed-trim", "0.24"]]);
    expect(figures.notes).toEqual([]);
    expect(fixed(costPer(money(figures).costPerUnit, "kg"), 4)).toBe("7.2368");
    expect(ratio.toExact(purchaseFactor(figures))).toBe("25/19");
    const over = trimTest(sheet("trim", "5 kg", "5.50", [main("flesh", "5.1 kg")]));
    expect(codes(over)).toEqual(["yield-over-one"]);
    expect(sentences(over)).toContain("Trimming cannot add weight");
  });

  test("trim counts and volumes as well as it weighs", () => {
    expect(ratio.toExact(won(trimTest(sheet("trim", "80 each", "0.50 each", [main("sound", "76 each")]))).yield)).toBe("0.95");
    expect(ratio.toExact(won(trimTest(sheet("trim", "1 gal", null, [main("reduced", "2 qt")]))).yield)).toBe("0.5");
  });

  test("drained: cost per drained unit; used liquid is a by-product; an unusual yield is asked about", () => {
    const can = won(drainedTest(sheet("drained", "102 oz", "0.08 / oz", [main("diced tomato", "66.3 oz"), byProduct("juice", "34 oz", "0.03 / oz")])));
    expect(ratio.toExact(can.yield)).toBe("0.65");
    expect(fixed(costPer(money(can).costPerUnit, "oz"), 6)).toBe("0.107692");
    expect(can.notes).toEqual([]);
    expect(noted(won(drainedTest(sheet("drained", "102 oz", null, [main("olives", "30 oz")]))))).toEqual(["yield-unusual"]);
    expect(codes(drainedTest(sheet("drained", "102 oz", null, [main("olives", "103 oz")])))).toEqual(["yield-over-one"]);
  });

  test("hydration: a yield over 1 is right, its loss is a gain", () => {
    const rice = won(hydrationTest(sheet("hydration", "1 kg", "2.91 / kg", [main("cooked rice", "2.91 kg")])));
    expect(ratio.toExact(rice.yield)).toBe("2.91");
    expect(show(costPer(money(rice).costPerUnit, "kg"))).toBe("1");
    expect(rice.losses.map((loss) => ratio.toExact(loss.ratio))).toEqual(["-1.91"]);
    expect(rice.notes).toEqual([]);
    expect(noted(won(hydrationTest(sheet("hydration", "1 kg", null, [main("cooked rice", "4.5 kg")]))))).toEqual(["yield-unusual"]);
  });
});
