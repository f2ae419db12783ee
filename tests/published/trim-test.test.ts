/**
 * Published trim, drained-weight and drained-volume tests, the balance of refuse in food tables, and edible-portion
 * costs: yield, waste, as-purchased units per edible unit, and cost per edible unit.
 */
import { describe, expect, test } from "vitest";
import { type Ratio, ratio } from "@/lib/measure";
import { type YieldFigures, costFromYield, costPer, drainedTest, lossInCutting, portionsFrom, purchaseFactor, purchaseQuantity, rateInBase, trimTest, wholePortions } from "@/lib/yield";
import { codes, discard, figure, fixed, main, quantity, rate, sheet, won } from "../yield/sheets";
import drainedVolume from "./fixtures/drained-volume-test.json";
import drainedWeight from "./fixtures/drained-weight-test.json";
import edible from "./fixtures/edible-portion-cost.json";
import balances from "./fixtures/trim-balance.json";
import trims from "./fixtures/trim-test.json";
import { type Figures, type PublishedCase, caseNamed, given, givenFigure, judge, percent, share } from "./yield-cases";

const asCases = (fixtures: unknown): readonly PublishedCase[] => fixtures as readonly PublishedCase[];
const trimCases = asCases(trims);

function unitOf(published: PublishedCase): "g" | "kg" | "lb" | "oz" | "mL" | "fl oz" {
  return given(published, "unit") as "g";
}

/** The sheet of a trim test: as purchased, edible portion, and the price where one is given. */
function trimmed(published: PublishedCase): YieldFigures {
  const unit = unitOf(published);
  const told = (key: string): string => (unit === "lb" ? given(published, key) : `${given(published, key)} ${unit}`);
  const price = published.inputs["ap_price_per_unit"];
  return won(trimTest(sheet("trim", told("ap"), typeof price === "string" ? price : null, [main("edible portion", told("ep"))])));
}

function trimFigures(published: PublishedCase): Record<string, Ratio> {
  const figures = trimmed(published);
  const unit = unitOf(published);
  const inUnit = (weight: Ratio): Ratio => ratio.div(weight, costPer(ratio.ONE, unit));
  const waste = figures.losses[0]?.weight ?? ratio.ZERO;
  return {
    ap: inUnit(figures.billed),
    ep: inUnit(figures.usable),
    waste: inUnit(waste),
    yield_pct: percent(figures.yield),
    waste_pct: percent(ratio.sub(ratio.ONE, figures.yield)),
    factor_AP_per_EP: purchaseFactor(figures),
    ...(figures.money === null ? {} : { ep_cost_per_unit: costPer(figures.money.costPerUnit, unit) }),
  };
}

/** What single cases ask beyond the form. */
const MORE: Readonly<Record<string, (published: PublishedCase, ours: Record<string, Ratio>) => Figures>> = {
  "tr-wall-striploin": (_, ours) => ({
    ep_cost_by_rounded_yield: won(costFromYield(figure("11.95"), figure("0.885"))),
    ep_needed_85x170g: ratio.mul(figure("85"), figure("0.170")),
    ap_needed_exact_yield: won(purchaseQuantity(figure("85"), figure("0.170"), share(ours["yield_pct"] ?? ratio.ZERO))),
    ap_needed_rounded_yield: won(purchaseQuantity(figure("85"), figure("0.170"), figure("0.885"))),
  }),
  "tr-melon": (_, ours) => {
    const melon = won(wholePortions([figure("4000")], figure("200"), "g"));
    return {
      portions_200g: ratio.of(melon.portions),
      melons_for_60: ratio.of(ratio.ceil(ratio.div(figure("60"), ratio.of(melon.portions)))),
      cost_per_portion: ratio.mul(ours["ep_cost_per_unit"] ?? ratio.ZERO, figure("0.2")),
    };
  },
  "tr-gisslen-onions": (published, ours) => ({
    true_cost: ratio.mul(ours["ep_cost_per_unit"] ?? ratio.ZERO, figure("2")),
    wrong_cost: ratio.mul(figure("2"), givenFigure(published, "ap_price_per_unit")),
  }),
};

describe("trim tests as published", () => {
  for (const published of trimCases) {
    judge(published, () => {
      if (published.id === "tr-sr-eggplant") {
        const figures = won(trimTest(sheet("trim", given(published, "ap"), null, [main("peeled", `${given(published, "ep_g")} g`)])));
        return { ap_g: figures.billed, yield_pct: percent(figures.yield), refuse_pct: percent(figures.losses[0]?.ratio ?? ratio.ZERO) };
      }
      const ours = trimFigures(published);
      return { ...ours, ...MORE[published.id]?.(published, ours) };
    });
  }

  test("tr-traster-cauliflower prints 0.588 or 58.5 %: ours is 58.8 %", () => {
    expect(fixed(percent(trimmed(caseNamed(trimCases, "tr-traster-cauliflower")).yield), 1)).toBe("58.8");
  });
});

describe("drained weights as published", () => {
  for (const published of asCases(drainedWeight)) {
    judge(published, () => {
      const label = published.inputs["net_label_oz"];
      const whole = typeof label === "string" ? `${label} oz` : `${given(published, "solids_and_liquids_g")} g`;
      const figures = won(drainedTest(sheet("drained", whole, null, [main("solids", `${given(published, "drained_solids_g")} g`)])));
      return { net_label_g: figures.billed, drained_yield_pct: percent(figures.yield), liquid_g: figures.losses[0]?.weight ?? ratio.ZERO, factor: purchaseFactor(figures) };
    });
  }
});

describe("drained volume as published", () => {
  const tuna = caseNamed(asCases(drainedVolume), "tr-bc-tuna");
  judge(tuna, () => {
    // The source prices the can of 750 mL at 5.50.
    const price = { amount: ratio.toExact(figure("5.50/750")), per: "mL" as const };
    const figures = won(drainedTest({ ...sheet("drained", "750 mL", null, [main("flakes", "400 mL")]), price }));
    return {
      ap: figures.billed, ep: figures.usable, waste: figures.losses[0]?.weight ?? ratio.ZERO, yield_pct: percent(figures.yield),
      waste_pct: percent(ratio.sub(ratio.ONE, figures.yield)), factor_AP_per_EP: purchaseFactor(figures),
      ep_cost_per_can_equivalent: ratio.mul(figures.money?.costPerUnit ?? ratio.ZERO, figure("750")),
    };
  });

  test("tr-bc-tuna prints 750 − 300 = 400 mL: ours leaves 50 mL unaccounted for", () => {
    const figures = won(drainedTest(sheet("drained", "750 mL", null, [main("flakes", "400 mL"), discard("brine", "300 mL")])));
    expect(figures.losses.map((loss) => ratio.toExact(loss.weight))).toEqual(["50"]);
    expect(ratio.toExact(lossInCutting(figure("750"), figure("400"), [figure("350")]))).toBe("0");
  });
});

interface Refuse {
  readonly name: string;
  readonly pct: string;
}

/** A food table's parts as a sheet of 100 g, the edible part being what is left. */
function refuseSheet(published: PublishedCase, edibleGrams: string): ReturnType<typeof sheet> {
  const parts = (published.inputs["parts_pct"] as readonly Refuse[]).map((part) => discard(part.name, `${part.pct} g`));
  return sheet("trim", "100 g", null, [main("edible", `${edibleGrams} g`), ...parts]);
}

describe("balances of refuse as published", () => {
  for (const published of asCases(balances)) {
    judge(
      published,
      () => {
        const sum = ratio.sum((published.inputs["parts_pct"] as readonly Refuse[]).map((part) => figure(part.pct)));
        const left = ratio.sub(figure("100"), sum);
        const figures = won(trimTest(refuseSheet(published, ratio.toExact(left))));
        const refuse = ratio.sum(figures.parts.filter((part) => part.role === "discard").map((part) => part.ratio));
        expect(figures.losses.map((loss) => loss.weight)).toEqual([ratio.ZERO]);
        const ours = { parts_sum_pct: percent(refuse), refuse_pct: percent(refuse), edible_pct: percent(figures.yield) };
        return published.id === "bal-sr-pineapple" ? { parts_sum_pct: ours.parts_sum_pct } : ours;
      },
      { refuse_pct: "printed as 49, one less than its parts", edible_pct: "follows from the printed 49" },
    );
  }

  test("bal-sr-pineapple prints parts of 50 and refuse of 49: with 51 edible ours refuses the sheet", () => {
    expect(codes(trimTest(refuseSheet(caseNamed(asCases(balances), "bal-sr-pineapple"), "51")))).toEqual(["parts-exceed-whole"]);
  });

  test("bal-sr-drumstick counts one bone twice under two names: entered once, 67 is edible; twice in one row is refused", () => {
    const bone = discard("bone", "33 g");
    expect(codes(trimTest(sheet("trim", "100 g", null, [main("edible", "34 g"), bone, bone])))).toEqual(["part-twice"]);
    expect(ratio.toExact(won(trimTest(sheet("trim", "100 g", null, [main("edible", "67 g"), bone]))).yield)).toBe("0.67");
  });
});

describe("edible-portion costs as published", () => {
  const cases = asCases(edible);
  const perBase = (price: string, per: string): Ratio => ratio.div(figure(price), ratio.mul(costPer(ratio.ONE, quantity(per).unit), ratio.fromExact(quantity(per).amount)));
  const byYield = (published: PublishedCase): Record<string, Ratio> => {
    const cost = won(costFromYield(rateInBase(rate(given(published, "ap_price_per_lb"))), share(givenFigure(published, "yield_pct"))));
    return { ep_cost_per_lb: costPer(cost, "lb"), ep_cost_per_oz: costPer(cost, "oz"), cost: ratio.mul(costPer(cost, "oz"), givenFigure(published, "ep_oz")) };
  };
  const ours: Readonly<Record<string, (published: PublishedCase) => Figures>> = {
    "ep-cm-tomatoes": byYield,
    "ep-cm-mango": byYield,
    "ep-midterm-eggs": (published) => {
      const egg = perBase(given(published, "case_price"), "30 dozen");
      return { per_dozen: costPer(egg, "dozen"), each: egg, cost: ratio.mul(egg, givenFigure(published, "eggs")) };
    },
    "ep-midterm-lemons": (published) => ({ per_lb: costPer(perBase(given(published, "case_price"), "35 lb"), "lb"), each: perBase(given(published, "case_price"), "140 each") }),
    "ep-midterm-cream": (published) => {
      const perFluidOunce = costPer(perBase(given(published, "price"), "0.5 gal"), "fl oz");
      return { per_fl_oz: perFluidOunce, cost: ratio.mul(perFluidOunce, givenFigure(published, "fl_oz_used")) };
    },
    "ep-midterm-muffins": (published) => ({ each: perBase(given(published, "price"), "48 each") }),
    "ep-apples-case": (published) => ({ per_lb: costPer(perBase(given(published, "price"), "20 lb"), "lb") }),
  };
  for (const published of cases) judge(published, () => ours[published.id]?.(published) ?? {});

  test("an edible portion from the same figures: portions of the peeled melon", () => {
    expect(won(portionsFrom(figure("5"), figure("0.8"), figure("0.2")))).toEqual(figure("20"));
  });
});
