/**
 * Published butcher tests: every part's ratio and value, the loss in cutting, cost per usable pound and ounce, portion
 * cost and both factors, and the same at a new dealer price.
 */
import { describe, expect, test } from "vitest";
import { type Ratio, ratio } from "@/lib/measure";
import {
  type Sheet, type YieldFigures, amountPaid, butcherTest, costFactor, costPer, costPerUsableUnit, portionByWeight, portionCost, portionFactor, ratioToTotal, repriceAtOwnPrices,
  repriceByFactor, usableValue, yieldOf,
} from "@/lib/yield";
import { byProduct, discard, figure, fixed, main, purge, quantity, sheet, won } from "../yield/sheets";
import fixtures from "./fixtures/butcher-test.json";
import { type Figures, type PublishedCase, caseNamed, given, judge, percent } from "./yield-cases";

const cases = fixtures as unknown as readonly PublishedCase[];

interface PrintedPart {
  readonly name: string;
  readonly weight: string;
  readonly value_per_unit: string;
}

function partsOf(published: PublishedCase): readonly PrintedPart[] {
  return published.inputs["parts"] as readonly PrintedPart[];
}

function sheetOf(published: PublishedCase): Sheet {
  const usable = published.inputs["usable"] as PrintedPart;
  return sheet("butcher", given(published, "ap_weight"), given(published, "price_per_unit"), [
    main(usable.name, usable.weight),
    ...partsOf(published).map((part) => {
      if (part.name === "wrap and purge") return { ...purge(part.weight), name: part.name };
      return part.value_per_unit === "0" ? discard(part.name, part.weight) : byProduct(part.name, part.weight, part.value_per_unit);
    }),
  ]);
}

const perPound = (perGram: Ratio): Ratio => costPer(perGram, "lb");
const pounds = (weight: Ratio): Ratio => ratio.div(weight, costPer(ratio.ONE, "lb"));

/** Every figure of the form under the names that the cases use. */
function form(published: PublishedCase, figures: YieldFigures): Figures {
  const { money } = figures;
  if (money === null) throw new Error("expected every price to be given");
  const lost = figures.losses[0]?.weight ?? ratio.ZERO;
  const ours: Record<string, Ratio> = {
    ap_weight: pounds(figures.billed),
    total_cost: money.paid,
    price_per_unit: perPound(money.price),
    loss_in_cutting_weight: pounds(lost),
    "ratio_pct:loss in cutting": percent(ratioToTotal(lost, figures.billed)),
    usable_weight: pounds(figures.usable),
    yield_pct: percent(figures.yield),
    byproduct_value: money.credits,
    usable_value: money.usableValue,
    cost_per_usable_lb: perPound(money.costPerUnit),
    cost_per_usable_oz: costPer(money.costPerUnit, "oz"),
    cost_factor_per_unit: money.factor ?? ratio.ZERO,
  };
  for (const part of figures.parts) {
    ours[`ratio_pct:${part.name}`] = percent(part.ratio);
    if (part.role !== "main") ours[`value:${part.name}`] = part.value ?? ratio.ZERO;
  }
  const portion = published.inputs["portion_size"] as { readonly amount: string; readonly unit: string } | null;
  if (portion !== null) {
    const costed = portionByWeight(money.costPerUnit, money.price, quantity(`${portion.amount} ${portion.unit}`), "lb");
    ours["portion_cost"] = costed.cost;
    ours["cost_factor_per_portion"] = costed.factor ?? ratio.ZERO;
  }
  return ours;
}

/** The posted page shows the value of all secondary parts together, not their weights: the formulas by themselves. */
function tenderloin(): Figures {
  const W = figure("9");
  const P = figure("6.11");
  const U = figure("4.25");
  const s = figure("6/16");
  const A = amountPaid(W, P);
  const V = figure("1.87");
  const C = won(costPerUsableUnit(A, V, U));
  const c = portionCost(C, s);
  const newP = figure("6.37");
  const byPrintedFactor = repriceByFactor(figure("2.0456"), newP);
  const portionByPrintedFactor = repriceByFactor(figure("0.7671"), newP);
  const held = repriceAtOwnPrices(C, W, U, P, newP);
  return {
    total_cost: A,
    usable_value: won(usableValue(A, V)),
    yield_pct: percent(yieldOf(U, W)),
    cost_per_usable_lb: C,
    cost_per_usable_oz: ratio.div(C, figure("16")),
    portion_cost: c,
    cost_factor_per_unit: costFactor(C, P) ?? ratio.ZERO,
    cost_factor_per_portion: portionFactor(c, P) ?? ratio.ZERO,
    new_cost_per_usable_lb_by_printed_factor: byPrintedFactor,
    new_portion_cost_by_printed_factor: portionByPrintedFactor,
    new_cost_per_usable_lb_by_exact_factor: repriceByFactor(costFactor(C, P) ?? ratio.ZERO, newP),
    new_cost_per_usable_lb_byproducts_held: held,
    new_portion_cost_byproducts_held: portionCost(held, s),
    rise_usable_lb: ratio.sub(byPrintedFactor, C),
    rise_portion: ratio.sub(portionByPrintedFactor, c),
  };
}

describe("butcher tests as published", () => {
  judge(caseNamed(cases, "bt-dk-tenderloin"), tenderloin);
  judge(caseNamed(cases, "bt-dk-lamb-loin"), () => form(lamb, won(butcherTest(sheetOf(lamb)))));
  judge(caseNamed(cases, "bt-gisslen-veal-leg"), () => {
    const figures = won(butcherTest(sheetOf(veal)));
    const thrown = won(butcherTest({ ...sheetOf(veal), parts: sheetOf(veal).parts.map((part) => ({ ...part, role: part.role === "main" ? ("main" as const) : ("discard" as const) })) }));
    return {
      ...form(veal, figures),
      other_weight_total: pounds(ratio.sub(figures.billed, figures.usable)),
      cost_per_lb_if_trim_thrown_away: perPound(thrown.money?.costPerUnit ?? ratio.ZERO),
    };
  });
  judge(caseNamed(cases, "bt-kb-rib-103"), () => form(rib, won(butcherTest(sheetOf(rib)))));
  judge(
    caseNamed(cases, "bt-forum-pork-butts-2012"),
    () => {
      const figures = won(butcherTest(sheetOf(butts)));
      const processed = ratio.sum(figures.parts.filter((part) => part.role !== "purge").map((part) => part.weight));
      return {
        ...form(butts, figures),
        processed_weight: pounds(processed),
        cost_on_processed_weight: amountPaid(processed, figures.money?.price ?? ratio.ZERO),
        cost_on_billed_weight: figures.money?.paid ?? ratio.ZERO,
        ...Object.fromEntries(figures.parts.map((part) => [`pct_of_processed:${part.name}`, percent(ratioToTotal(part.weight, processed))])),
      };
    },
    { sell_value: "retail prices of the parts are not among the inputs" },
  );
  judge(caseNamed(cases, "bt-forum-pork-butts-1591"), () => {
    const figures = won(butcherTest(sheetOf(cut)));
    const boneless = ratio.sub(figures.billed, ratio.sum(figures.parts.filter((part) => part.name === "bone" || part.name === "unusable scrap").map((part) => part.weight)));
    const printed = ["bone", "unusable scrap", "end for sausage", "pork steak", "country style ribs"].map((name) => figure(cut.expected.published[`ratio_pct:${name}`] ?? "0"));
    return {
      ...form(cut, figures),
      net_boneless: pounds(boneless),
      net_boneless_pct: percent(ratioToTotal(boneless, figures.billed)),
      sum_of_printed_pct: ratio.sum(printed),
    };
  });

  test("every published case of this kind is in this file", () => {
    expect(cases.map((each) => each.id).sort()).toEqual(
      ["bt-dk-lamb-loin", "bt-dk-tenderloin", "bt-forum-pork-butts-1591", "bt-forum-pork-butts-2012", "bt-gisslen-veal-leg", "bt-kb-rib-103"],
    );
  });
});

const lamb = caseNamed(cases, "bt-dk-lamb-loin");
const veal = caseNamed(cases, "bt-gisslen-veal-leg");
const rib = caseNamed(cases, "bt-kb-rib-103");
const butts = caseNamed(cases, "bt-forum-pork-butts-2012");
const cut = caseNamed(cases, "bt-forum-pork-butts-1591");

describe("errors printed in butcher tests", () => {
  test("bt-kb-rib-103 prints 36.40 − 8.00 = 22.40: ours is 28.40, and asks about the loss that is exactly none", () => {
    const figures = won(butcherTest(sheetOf(rib)));
    expect(fixed(figures.money?.usableValue ?? ratio.ZERO, 2)).toBe("28.40");
    expect(rib.expected.published["usable_value"]).toBe("22.40");
    expect(figures.notes.map((note) => note.code)).toContain("loss-none");
  });

  test("bt-forum-pork-butts-2012 costs only the unwrapped weight: ours pays for what was billed, and shows the purge apart", () => {
    const figures = won(butcherTest(sheetOf(butts)));
    expect(fixed(figures.money?.paid ?? ratio.ZERO, 4)).toBe("22.8750");
    expect(butts.expected.published["cost_on_processed_weight"]).toBe("22.4175");
    expect(figures.parts.filter((part) => part.role === "purge").map((part) => fixed(percent(part.ratio), 2))).toEqual(["0.67"]);
    expect(figures.notes).toEqual([]);
  });

  test("bt-forum-pork-butts-1591 cuts its percentages off, so that they add to 99.97: ours are exactly the whole", () => {
    const figures = won(butcherTest(sheetOf(cut)));
    expect(ratio.sum(figures.parts.map((part) => part.ratio))).toEqual(ratio.ONE);
    expect(cut.expected.published["sum_of_printed_pct"]).toBe("99.97");
  });
});
