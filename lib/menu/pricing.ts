/**
 * Five ways in which a house comes from a plate's cost to its price, each a starting point: then come the market, what
 * the guest makes of it, and the rest of the menu. All are net prices, unrounded. Sources: Ninemeier, Planning and
 * Control for Food and Beverage Operations, as quoted in course solutions (contribution, ratio, simple prime cost);
 * Goodheart-Willcox, Controlling Costs in Foodservice (2014), ch. 2 (prime cost); Dittmer & Keefe (target, factor).
 */
import type { Budget } from "@/lib/book";
import { type Decimal, type Exact, toDecimal } from "@/lib/measure";
import type { DishFigures } from "./figures";
import { type PriceAsked, grossPrice, netPriceAtRatio } from "./price";

/** Target: p = c/τ. Factor: p = c·k. Prime cost: p = (c + direct labour)/prime share. Contribution: p = c + (non-food + profit)/guests. Ratio: p = c·(1 + (non-food + profit)/food cost). */
export const PRICING_METHODS = ["target", "factor", "prime cost", "contribution", "ratio"] as const;
export type PricingMethod = (typeof PRICING_METHODS)[number];

/** What has to be told before a method says anything: the house's budget, its labour, its prime-cost share; a factor; or the whole of the plate's cost. */
export type PricingLack = "cost" | "factor" | "budget" | "labour" | "prime share";

export type PricedBy =
  | { readonly method: PricingMethod; readonly asked: PriceAsked; readonly lack: null }
  | { readonly method: PricingMethod; readonly asked: null; readonly lack: PricingLack };

/** c·k. */
export function priceByFactor(cost: Decimal, factor: Decimal): Decimal {
  return cost.mul(factor);
}

/** (c + labour)/share: food and direct labour of one plate, over what both may be of the net price. null when the share is not above zero. */
export function priceByPrimeCost(cost: Decimal, labour: Decimal, share: Decimal): Decimal | null {
  return netPriceAtRatio(cost.plus(labour), share);
}

/** c + what each guest has to leave over: non-food cost and profit of a period over its guests. */
export function priceByContribution(cost: Decimal, budget: Pick<Budget, "nonFoodCost" | "profit" | "guests">): Decimal {
  return cost.plus(toDecimal(budget.nonFoodCost.amount).plus(toDecimal(budget.profit.amount)).div(toDecimal(budget.guests)));
}

/** (non-food cost + profit)/food cost of a period: what a unit of food cost has to carry beside itself. */
export function houseRatio(budget: Pick<Budget, "nonFoodCost" | "profit" | "foodCost">): Decimal {
  return toDecimal(budget.nonFoodCost.amount).plus(toDecimal(budget.profit.amount)).div(toDecimal(budget.foodCost.amount));
}

/** c·(1 + ratio). */
export function priceByRatio(cost: Decimal, budget: Pick<Budget, "nonFoodCost" | "profit" | "foodCost">): Decimal {
  return cost.mul(houseRatio(budget).plus(1));
}

/** Direct labour of one guest as the simple prime-cost method takes it: the period's labour over its guests. null where the labour is not told. */
export function labourAGuest(budget: Pick<Budget, "labour" | "guests">): Decimal | null {
  return budget.labour === null ? null : toDecimal(budget.labour.amount).div(toDecimal(budget.guests));
}

export interface PricingTerms {
  readonly budget: Budget | null;
  /** Direct labour of this plate, money; null: the budget's labour a guest. */
  readonly labour: Decimal | null;
  /** The house's factor; null: none is used. */
  readonly factor: Decimal | null;
}

/** What each method asks for a dish as it stands. Nothing is asked while the cost is not wholly known. */
export function pricedByEach(figures: DishFigures, { budget, labour, factor }: PricingTerms): readonly PricedBy[] {
  const { plateCost: { amount: cost, missing }, target, taxRate } = figures;
  const known = missing.length === 0 && figures.state !== "incomplete" && cost.gt(0);
  const byLabour = labour ?? (budget && labourAGuest(budget));
  const prices: Readonly<Record<PricingMethod, Decimal | PricingLack | null>> = {
    target: netPriceAtRatio(cost, target),
    factor: factor === null ? "factor" : priceByFactor(cost, factor),
    "prime cost": budget === null ? "budget" : budget.primeCostShare === null ? "prime share" : byLabour === null ? "labour" : priceByPrimeCost(cost, byLabour, toDecimal(budget.primeCostShare)),
    contribution: budget === null ? "budget" : priceByContribution(cost, budget),
    ratio: budget === null ? "budget" : priceByRatio(cost, budget),
  };
  return PRICING_METHODS.map((method): PricedBy => {
    const net = known ? prices[method] : "cost";
    return net === null || typeof net === "string" ? { method, asked: null, lack: net ?? "cost" } : { method, asked: pricedAt(net, taxRate), lack: null };
  });
}

function pricedAt(net: Decimal, taxRate: Exact): PriceAsked {
  return { net, gross: grossPrice(net, taxRate) };
}
