/**
 * The formulas of the yield test, each by itself, over exact ratios. Weights stand in one unit and prices per that same
 * unit; the result is then money per that unit. W billed (as purchased) weight · P price per unit of it · A amount
 * paid · w_k, v_k weight and value per unit of by-product k · V value of all by-products · U usable weight · C cost per
 * usable unit · F cost factor per unit · f cost factor per portion · s portion size · c portion cost · Y yield.
 * "Dittmer & Keefe" is Principles of Food, Beverage, and Labor Cost Controls, 9th ed., ch. 6.
 */
import { type Checked, type Ratio, bad, good, ratio } from "@/lib/measure";
import { sayMoney } from "./words";

/** Amount paid, money: A = W·P. Source: Dittmer & Keefe. */
export function amountPaid(W: Ratio, P: Ratio): Ratio {
  return ratio.mul(W, P);
}

/** Value of the by-products, money: V = Σ w_k·v_k. Parts with no outlet are worth nothing. Source: Dittmer & Keefe. */
export function byProductValue(parts: readonly { readonly weight: Ratio; readonly value: Ratio }[]): Ratio {
  return ratio.sum(parts.map((part) => ratio.mul(part.weight, part.value)));
}

/**
 * Value of the usable meat, money: A − V. Fails with credits-exceed-cost when V ≥ A and V > 0: the usable part would
 * cost nothing or less. Nothing paid and nothing credited is 0. Source: Dittmer & Keefe; Gisslen, raw yield test.
 */
export function usableValue(A: Ratio, V: Ratio): Checked<Ratio> {
  if (ratio.sign(V) > 0 && ratio.compare(V, A) >= 0) {
    return bad(
      "parts",
      "credits-exceed-cost",
      `By-products are credited with ${sayMoney(V)} but only ${sayMoney(A)} was paid: the usable part would cost nothing or less. Check what the by-products are worth.`,
    );
  }
  return good(ratio.sub(A, V));
}

/**
 * Cost per usable unit by the by-product value method: C = (A − V)/U, money per unit of weight. Fails with
 * no-usable-weight when U is not above zero, and as `usableValue` does. Source: Dittmer & Keefe.
 */
export function costPerUsableUnit(A: Ratio, V: Ratio, U: Ratio): Checked<Ratio> {
  if (ratio.sign(U) <= 0) return bad("parts", "no-usable-weight", "The usable weight is zero, so there is no cost per usable unit: weigh the usable part.");
  const value = usableValue(A, V);
  return value.ok ? good(ratio.div(value.value, U)) : value;
}

/** Cost factor per unit, a pure number, the same per pound and per kilo: F = C/P. null (undefined, not zero) when P = 0. Source: Dittmer & Keefe. */
export function costFactor(C: Ratio, P: Ratio): Ratio | null {
  return ratio.sign(P) === 0 ? null : ratio.div(C, P);
}

/** Portion cost, money: c = C·s. Source: Dittmer & Keefe. */
export function portionCost(C: Ratio, s: Ratio): Ratio {
  return ratio.mul(C, s);
}

/**
 * Cost factor per portion: f = c/P. It hides a weight (of as-purchased pounds, or kilos, paid per portion), so it holds for
 * one unit of P only. null (undefined, not zero) when P = 0. Source: Dittmer & Keefe.
 */
export function portionFactor(c: Ratio, P: Ratio): Ratio | null {
  return ratio.sign(P) === 0 ? null : ratio.div(c, P);
}

/** Cost factor per unit from one per portion: F = f/s, s the portion in the unit that f was told for. Algebra on f = F·s. */
export function factorFromPortion(f: Ratio, s: Ratio): Checked<Ratio> {
  return ratio.sign(s) <= 0 ? bad("size", "no-size", "A portion must have a size above zero.") : good(ratio.div(f, s));
}

/** Yield: Y = U/W (edible portion over as purchased). Source: BC Cook Articulation Committee; Wall. */
export function yieldOf(U: Ratio, W: Ratio): Ratio {
  return ratio.div(U, W);
}

/** Ratio of a part to the billed weight: w_k/W. Source: Dittmer & Keefe. */
export function ratioToTotal(w: Ratio, W: Ratio): Ratio {
  return ratio.div(w, W);
}

/**
 * Cost per usable unit when trim has no value: C = P/Y, money per unit. Fails with no-yield when Y is not above zero.
 * Source: BC Cook Articulation Committee.
 */
export function costFromYield(P: Ratio, Y: Ratio): Checked<Ratio> {
  return ratio.sign(Y) <= 0 ? noYield() : good(ratio.div(P, Y));
}

/**
 * Cost per cooked unit of a thing that takes up liquid: C = P/Y + k, k the liquid's cost per cooked unit (water: 0), Y
 * above 1. Fails as `costFromYield`. Source: The Book of Yields, on rehydration.
 */
export function hydratedCost(P: Ratio, Y: Ratio, k: Ratio): Checked<Ratio> {
  const dry = costFromYield(P, Y);
  return dry.ok ? good(ratio.add(dry.value, k)) : dry;
}

/** Shrinkage: (raw − served)/raw. Source: Gisslen, cooked yield test. */
export function shrinkage(raw: Ratio, served: Ratio): Ratio {
  return ratio.div(ratio.sub(raw, served), raw);
}

function noYield(): ReturnType<typeof bad> {
  return bad("yield", "no-yield", "A yield of zero gives no edible portion at any price: the yield must be above zero.");
}
