import { describe, expect, test } from "vitest";
import { ratio } from "@/lib/measure";
import { JOINT_COST_METHODS, type JointPart, butcherTest, costPer, jointCost, jointCostByEveryMethod } from "@/lib/yield";
import { byProduct, codes, figure, fixed, main, sentences, sheet, won } from "./sheets";

const part = (key: string, weight: string, market: string | null, further: string | null = null): JointPart => ({
  key, name: key, weight: figure(weight), marketValue: market === null ? null : figure(market), furtherCost: further === null ? null : figure(further),
});
/** A short loin: strip and tenderloin, each wanted. */
const strip = part("strip", "9", "10", "1");
const tenderloin = part("tenderloin", "3", "20", "2");
const joint = figure("99");

describe("joint cost of several main parts", () => {
  test("by sales value at split-off: cost per unit is the market value scaled to the joint cost", () => {
    const shares = won(jointCost("sales-value", joint, [strip, tenderloin]));
    expect(shares.map((each) => ratio.toExact(each.share))).toEqual(["0.6", "0.4"]);
    expect(shares.map((each) => ratio.toExact(each.costPerUnit))).toEqual(["6.6", "13.2"]);
  });

  test("by net realizable value: the further cost comes off the market value first, and is not added to the cost", () => {
    const shares = won(jointCost("net-realizable", joint, [strip, tenderloin]));
    expect(shares.map((each) => ratio.toExact(each.share))).toEqual(["0.6", "0.4"]);
    const dearer = won(jointCost("net-realizable", joint, [strip, part("tenderloin", "3", "20", "11")]));
    expect(dearer.map((each) => ratio.toExact(each.share))).toEqual(["0.75", "0.25"]);
  });

  test("by weight: one cost per unit for all", () => {
    const shares = won(jointCost("weight", joint, [strip, tenderloin]));
    expect(shares.map((each) => ratio.toExact(each.costPerUnit))).toEqual(["8.25", "8.25"]);
  });

  test("every method shares exactly the whole", () => {
    const all = jointCostByEveryMethod(joint, [strip, tenderloin]);
    for (const method of JOINT_COST_METHODS) {
      expect(ratio.sum(won(all[method]).map((each) => each.value))).toEqual(joint);
    }
  });

  test("a single part takes it all and needs no market value", () => {
    for (const method of JOINT_COST_METHODS) {
      expect(won(jointCost(method, joint, [part("loin", "9", null)])).map((each) => each.value)).toEqual([joint]);
    }
  });

  test("what it lacks is told by the part's name", () => {
    const lacking = jointCost("sales-value", joint, [strip, part("tenderloin", "3", null)]);
    expect(codes(lacking)).toEqual(["market-value-missing"]);
    expect(sentences(lacking)).toContain("tenderloin needs a market value");
    expect(codes(jointCost("net-realizable", joint, [strip, part("tenderloin", "3", "20", "20")]))).toEqual(["further-cost-exceeds-value"]);
    expect(jointCost("weight", joint, [strip, part("tenderloin", "3", null)]).ok).toBe(true);
  });
});

describe("a butcher test with several main parts", () => {
  const shortLoin = sheet("butcher", "15 lb", "7.00", [
    main("strip", "9 lb", { market: "10", further: "1" }), main("tenderloin", "3 lb", { market: "20", further: "2" }), byProduct("trim", "2 lb", "3"),
  ]);

  test("shares what is left after credits, and each part has its own factor", () => {
    const figures = won(butcherTest(shortLoin, "sales-value"));
    const [first, second] = figures.parts;
    expect(fixed(costPer(first?.perUnit ?? ratio.ZERO, "lb"), 2)).toBe("6.60");
    expect(fixed(costPer(second?.perUnit ?? ratio.ZERO, "lb"), 2)).toBe("13.20");
    expect(fixed(second?.factor ?? ratio.ZERO, 4)).toBe("1.8857");
    expect(fixed(costPer(figures.money?.costPerUnit ?? ratio.ZERO, "lb"), 2)).toBe("8.25");
  });

  test("without market values the weights and totals stand and the parts' costs are missing", () => {
    const figures = won(butcherTest(sheet("butcher", "15 lb", "7.00", [main("strip", "9 lb"), main("tenderloin", "3 lb")]), "sales-value"));
    expect(figures.money).not.toBeNull();
    expect(figures.parts.map((each) => each.perUnit)).toEqual([null, null]);
    expect(figures.missing.map((problem) => problem.path)).toEqual(["parts.strip.marketValue", "parts.tenderloin.marketValue"]);
  });
});
