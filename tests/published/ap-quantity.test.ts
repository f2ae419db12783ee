/**
 * Published as-purchased quantities, buying-guide examples and the comparison of two grades: quantities come from the
 * yield, costs from the factor, purchases are counted up.
 */
import { describe, expect, test } from "vitest";
import { type Ratio, ratio } from "@/lib/measure";
import { asPurchased, breakEvenPriceRatio, countedUp, ediblePortion, portionCost, portionsFrom, purchaseQuantity, repriceByFactor } from "@/lib/yield";
import { figure, fixed, won } from "../yield/sheets";
import fixtures from "./fixtures/ap-quantity.json";
import suppliers from "./fixtures/supplier-comparison.json";
import { type Figures, type PublishedCase, caseNamed, givenFigure, judge, share } from "./yield-cases";

const cases = fixtures as unknown as readonly PublishedCase[];
const ounces = (pounds: Ratio): Ratio => ratio.mul(pounds, figure("16"));
const inPounds = (oz: Ratio): Ratio => ratio.div(oz, figure("16"));
const ONE = ratio.ONE;

const ediblePounds = (published: PublishedCase): Ratio => ediblePortion(givenFigure(published, "ap_lb"), share(givenFigure(published, "yield_pct")));

/** The armed forces print the factor by which edible portion is multiplied: 1/Y. */
function byPrintedFactor(published: PublishedCase): Figures {
  const Y = ratio.div(ONE, givenFigure(published, "factor_EP_to_AP"));
  const bought = won(asPurchased(givenFigure(published, "ep_lb"), Y));
  return { ap_lb: bought, ap_oz: ounces(bought), back_to_ep: ediblePortion(bought, Y) };
}

const OURS: Readonly<Record<string, (published: PublishedCase) => Figures>> = {
  "ap-dk-roast-lamb": (published) => {
    const Y = givenFigure(published, "yield_factor");
    const C = repriceByFactor(givenFigure(published, "pound_cost_factor"), givenFigure(published, "dealer_price_per_lb"));
    return {
      lb_48x4: won(purchaseQuantity(figure("48"), inPounds(figure("4")), Y)),
      lb_55x5: won(purchaseQuantity(figure("55"), inPounds(figure("5")), Y)),
      portion_cost_4oz_at_3_19: portionCost(C, inPounds(figure("4"))),
      portion_cost_5oz_at_3_19: portionCost(C, inPounds(figure("5"))),
      one_over_yield: won(asPurchased(ONE, Y)),
    };
  },
  "ap-midterm-pork-loin-250": (published) => {
    const s = inPounds(givenFigure(published, "portion_oz"));
    const Y = share(givenFigure(published, "yield_pct"));
    const needed = won(purchaseQuantity(givenFigure(published, "guests"), s, Y));
    return { ap_portions_per_lb: won(portionsFrom(ONE, ONE, s)), ep_portions_per_lb: won(portionsFrom(ONE, Y, s)), lb_needed: needed, lb_needed_rounded_up: won(countedUp(needed, ONE)) };
  },
  "ap-cm-chuck-sandwiches": (published) => ({
    ep_lb: ediblePounds(published),
    ep_oz: ounces(ediblePounds(published)),
    portions: won(portionsFrom(givenFigure(published, "ap_lb"), share(givenFigure(published, "yield_pct")), inPounds(givenFigure(published, "portion_oz")))),
  }),
  "ap-cm-tomatoes-wrong-way": (published) => {
    const needed = won(asPurchased(givenFigure(published, "ep_lb_needed"), share(givenFigure(published, "yield_pct"))));
    return { ap_lb_needed: needed, ap_lb_rounded_up: won(countedUp(needed, ONE)) };
  },
  "ap-cm-broccoli": (published) => ({ ep_lb: ediblePounds(published) }),
  "ap-cm-spaghetti-squash": (published) => ({ ep_lb: ediblePounds(published) }),
  "ap-traster-broccoli": (published) => ({ ep_lb: ediblePounds(published), ep_oz: ounces(ediblePounds(published)) }),
  "ap-wall-raw-weight": (published) => {
    const s = ratio.div(givenFigure(published, "portion_g"), figure("1000"));
    return {
      yield_required_kg: won(purchaseQuantity(givenFigure(published, "portions"), s, ONE)),
      raw_kg: won(purchaseQuantity(givenFigure(published, "portions"), s, share(givenFigure(published, "yield_pct")))),
    };
  },
  "ap-fbg-ground-beef": (published) => {
    const Y = givenFigure(published, "cooked_lb_per_lb_ap");
    const N = givenFigure(published, "servings_needed");
    const size = givenFigure(published, "serving_oz");
    // The guide buys by its printed, already rounded 8.5 lb for 100 servings of an ounce.
    const guide = ratio.div(figure("100"), givenFigure(published, "units_per_100_servings_of_1oz"));
    return {
      lb_needed: won(purchaseQuantity(N, size, guide)),
      lb_needed_by_yield: won(purchaseQuantity(N, inPounds(size), Y)),
      servings_1oz_per_lb: won(portionsFrom(ONE, Y, inPounds(ONE))),
      servings_1_5oz_per_lb: won(portionsFrom(ONE, Y, inPounds(figure("1.5")))),
    };
  },
  "ap-fbg-corn-10-cans": (published) => {
    // Quarter cups in a can, from cans for 100 of them.
    const quarterCups = ratio.div(figure("100"), givenFigure(published, "units_per_100_quarter_cup"));
    const cans = won(purchaseQuantity(givenFigure(published, "servings_needed"), ratio.div(givenFigure(published, "serving_cup"), figure("1/4")), quarterCups));
    return { cans, cans_rounded_up: won(countedUp(cans, ONE)) };
  },
  "ap-fbg-watermelon": (published) => {
    const bought = won(asPurchased(givenFigure(published, "ep_lb_needed"), givenFigure(published, "ep_lb_per_ap_lb")));
    return { ap_lb: bought, ap_lb_rounded_to_half: won(countedUp(bought, figure("1/2"))) };
  },
  "ap-afrs-cucumbers": byPrintedFactor,
  "ap-afrs-cherries": byPrintedFactor,
};

describe("as-purchased quantities as published", () => {
  for (const published of cases) judge(published, () => OURS[published.id]?.(published) ?? {});
});

describe("comparison of dealers", () => {
  for (const published of suppliers as unknown as readonly PublishedCase[]) {
    judge(published, () => {
      const of = (option: string): Ratio => share(figure((published.inputs[option] as { readonly yield_pct: string }).yield_pct));
      const evens = won(breakEvenPriceRatio(of("option_A"), of("option_B")));
      return { break_even_price_ratio_A_over_B: evens, break_even_price_A_if_B_is_5_00: ratio.mul(evens, figure("5.00")) };
    });
  }
});

describe("errors printed in as-purchased quantities", () => {
  test("ap-cm-tomatoes-wrong-way multiplies by the yield (9.5 lb): ours divides, 10.53 lb, and buys 11", () => {
    const tomatoes = caseNamed(cases, "ap-cm-tomatoes-wrong-way");
    const Y = share(givenFigure(tomatoes, "yield_pct"));
    const needed = won(asPurchased(figure("10"), Y));
    expect(fixed(needed, 2)).toBe("10.53");
    expect(fixed(ediblePortion(figure("10"), Y), 1)).toBe(tomatoes.expected.published["ap_lb_needed"]);
    // What was bought the wrong way feeds fewer than asked.
    expect(ratio.compare(ediblePortion(figure("9.5"), Y), figure("10"))).toBe(-1);
  });

  test("ap-midterm-pork-loin-250 prints 147 ounces: ours is 147 pounds, for portions told in pounds give pounds", () => {
    const inOunces = won(purchaseQuantity(figure("250"), figure("8"), figure("0.85")));
    expect(fixed(inOunces, 0)).toBe("2353");
    expect(fixed(inPounds(inOunces), 0)).toBe("147");
  });

  test("the pound factor of the roast lamb is not one over its yield: quantity from the one, cost from the other", () => {
    const lamb = caseNamed(cases, "ap-dk-roast-lamb");
    expect(ratio.compare(givenFigure(lamb, "pound_cost_factor"), won(asPurchased(ONE, givenFigure(lamb, "yield_factor"))))).toBe(-1);
  });
});
