import { describe, expect, test } from "vitest";
import { ratio } from "@/lib/measure";
import { type CookingFigures, costPer, cookingLossTest } from "@/lib/yield";
import { byProduct, codes, discard, figure, fixed, main, purge, rate, sentences, sheet, won } from "./sheets";

const shares = (figures: CookingFigures): readonly string[] =>
  [figures.trimmed, figures.lossInTrimming, figures.cooked, figures.lossInCooking, figures.bonesAndTrim, figures.carvingLoss, figures.saleable].map((each) => ratio.toExact(each.ratio));

describe("cooking-loss test", () => {
  test("from the invoice: losses of trimming, cooking and carving, ratios on the original weight", () => {
    const figures = won(cookingLossTest(sheet("cooking", "10 lb", "4.00", [main("served", "5 lb"), discard("bone", "1 lb")], { trimmed: "8 lb", cooked: "6 lb 8 oz" })));
    expect(shares(figures)).toEqual(["0.8", "0.2", "0.65", "0.15", "0.1", "0.05", "0.5"]);
    expect(ratio.toExact(figures.processYield)).toBe("0.8125");
    expect(ratio.toExact(figures.overallYield)).toBe("0.5");
    expect(fixed(costPer(figures.money?.costPerUnit ?? ratio.ZERO, "lb"), 2)).toBe("8.00");
    expect(figures.factorOnDealerPrice).toEqual(figure("2"));
    const all = [...figures.parts.map((part) => part.ratio), ...figures.losses.map((loss) => loss.ratio)];
    expect(ratio.sum(all)).toEqual(ratio.ONE);
  });

  test("after a butcher test: the net cost is carried in, ratios and factor are told on what was first bought", () => {
    // 12 lb at 6.65 left 6 lb at a net 66.80.
    const carried = { yield: figure("1/2"), dealerPrice: rate("6.65") };
    const net = { ...rate("1"), amount: ratio.toExact(figure("334/30")) };
    const figures = won(cookingLossTest({ ...sheet("cooking", "6 lb", null, [main("saleable", "4.5 lb"), discard("bones and trim", "1 lb")], { cooked: "5.5 lb" }), price: net }, carried));
    expect(shares(figures)).toEqual(["0.5", "0.5", "11/24", "1/24", "1/12", "0", "0.375"]);
    expect(ratio.toExact(figures.processYield)).toBe("11/12");
    expect(ratio.toExact(figures.overallYield)).toBe("0.375");
    expect(fixed(costPer(figures.money?.costPerUnit ?? ratio.ZERO, "lb"), 4)).toBe("14.8444");
    expect(fixed(figures.factorOnDealerPrice ?? ratio.ZERO, 4)).toBe("2.2322");
    // Over the net cost carried in the factor is another one.
    expect(figures.money?.factor).toEqual(figure("4/3"));
  });

  test("carrying in the invoice instead of the net cost is asked about", () => {
    const figures = won(cookingLossTest(sheet("cooking", "6 lb", "6.65", [main("saleable", "4.5 lb")], { cooked: "5.5 lb" }), { yield: figure("1/2"), dealerPrice: rate("6.65") }));
    expect(figures.notes.map((note) => note.code)).toContain("invoice-carried-in");
  });

  test("drippings that are used are credited; purge stands within the loss in trimming", () => {
    const figures = won(cookingLossTest(sheet("cooking", "10 lb", "4.00", [main("served", "5 lb"), byProduct("drippings", "8 oz", "1.00"), purge("4 oz")], { trimmed: "9 lb", cooked: "7 lb" })));
    expect(fixed(costPer(figures.money?.costPerUnit ?? ratio.ZERO, "lb"), 2)).toBe("7.90");
    expect(ratio.toExact(figures.lossInTrimming.ratio)).toBe("0.1");
    expect(figures.losses.map((loss) => [loss.key, ratio.toExact(loss.ratio)])).toEqual([["trimming", "0.075"], ["cooking", "0.2"], ["carving", "0.15"]]);
  });

  test("weights that cannot be", () => {
    const of = (trimmed: string, cooked: string, ...parts: Parameters<typeof sheet>[3]): ReturnType<typeof cookingLossTest> =>
      cookingLossTest(sheet("cooking", "10 lb", "4.00", parts, { trimmed, cooked }));
    const swapped = of("6 lb", "8 lb", main("served", "5 lb"));
    expect(codes(swapped)).toEqual(["cooked-exceeds-trimmed"]);
    expect(sentences(swapped)).toContain("Was it injected or basted");
    expect(codes(of("11 lb", "8 lb", main("served", "5 lb")))).toEqual(["trimmed-exceeds-billed"]);
    expect(codes(of("8 lb", "6 lb", main("served", "5.5 lb"), discard("bone", "1 lb")))).toEqual(["parts-exceed-cooked"]);
    expect(codes(of("9 lb", "6 lb", main("served", "5.5 lb"), purge("1 lb 1 oz")))).toEqual(["purge-exceeds-trimming"]);
    expect(codes(cookingLossTest({ ...sheet("cooking", "10 lb", "4.00", [main("served", "5 lb")]), cooking: null }))).toEqual(["no-cooking-weights"]);
    expect(codes(cookingLossTest(sheet("cooking", "10 lb", "4.00", [main("served", "5 lb")]), { yield: ratio.ZERO, dealerPrice: null }))).toEqual(["no-yield"]);
  });

  test("a process yield that dry heat hardly gives is asked about", () => {
    const figures = won(cookingLossTest(sheet("cooking", "10 lb", null, [main("served", "3 lb")], { cooked: "3.5 lb" })));
    expect(figures.notes.map((note) => [note.path, note.code])).toEqual([["cooking.cooked", "yield-unusual"]]);
  });

  test("half a step of the scale between two readings is forgiven", () => {
    const figures = won(cookingLossTest(sheet("cooking", "10 lb", "4.00", [main("served", "9 lb")], { trimmed: "10 lb 0.5 oz", cooked: "9 lb 8 oz", step: "1 oz" })));
    const forgiven = ratio.sum(figures.losses.map((loss) => loss.forgiven));
    const all = ratio.sum([...figures.parts.map((part) => part.ratio), ...figures.losses.map((loss) => loss.ratio)]);
    expect(all).toEqual(ratio.add(ratio.ONE, ratio.div(forgiven, figures.billed)));
    expect(figures.lossInTrimming.weight).toEqual(ratio.ZERO);
  });
});
