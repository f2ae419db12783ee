/**
 * What a careful buyer would ask about a new price before it is taken: the price of the case typed as the price of a
 * pound, or the other way round; the point in the wrong place; a jump over the house's limit. Questions, not refusals:
 * the old price stands until a person says that the new one is right.
 */
import { type Habits, type Problem, type Ratio, baseFactor, kindOf, printMoney, printNumber, printShare, quantityText, ratio } from "@/lib/measure";
import { askedRate } from "./costing-quote";
import type { Quote } from "./item";
import { packContent } from "./pack";

/** A price that moves by more than this is confirmed first; common practice, no source. A house may set its own. */
export const PRICE_JUMP = ratio.of(15n, 100n);
/** How near a ratio has to be to a pack's content to be taken for it: prices move meanwhile. Common practice, no source. */
const NEAR = ratio.of(1n, 4n);

/**
 * Questions about `now` against `before`, the last price of the same item from the same dealer (null for a first price,
 * of which nothing can be asked). Codes: case-price-per-unit, unit-price-per-case, price-point, price-jump; at most one.
 */
export function priceQuestions(now: Quote, before: Quote | null, kitchen: Habits, limit: Ratio = PRICE_JUMP): readonly Problem[] {
  if (before === null) return [];
  const habits: Habits = now.currency === null ? kitchen : { ...kitchen, currency: now.currency };
  if (now.currency !== before.currency) return [];
  const rates = [askedRate(now), askedRate(before)] as const;
  const kind = kindOf(now.per === "pack" ? now.pack.size.unit : now.per);
  if (kind !== kindOf(before.per === "pack" ? before.pack.size.unit : before.per) || rates.some((rate) => ratio.sign(rate) <= 0)) return [];
  const times = ratio.div(rates[0], rates[1]);
  const move = ratio.sub(times, ratio.ONE);
  const size = ratio.sign(move) < 0 ? ratio.neg(move) : move;
  // A small move is none of these: a case holds three and more, and a point slips by ten. Most lines of a long list are such.
  if (ratio.compare(size, limit) <= 0 && ratio.compare(size, NEAR) <= 0) return [];
  const ask = (code: string, sentence: string): readonly Problem[] => [{ path: "price", code, sentence }];
  const content = packContent(now.pack);
  const unit = now.per === "pack" ? (before.per === "pack" ? content.unit : before.per) : now.per;
  const price = (rate: Ratio): string => `${printMoney(ratio.toDecimal(ratio.mul(rate, ratio.fromExact(baseFactor(unit)))), habits)} per ${unit}`;
  const holds = kindOf(content.unit) === kindOf(unit) ? ratio.div(ratio.mul(ratio.fromExact(content.amount), ratio.fromExact(baseFactor(content.unit))), ratio.fromExact(baseFactor(unit))) : null;
  const packText = quantityText({ amount: content.amount, unit: content.unit }, habits);
  const figure = printMoney(ratio.toDecimal(ratio.fromExact(now.price.amount)), habits);

  // A pack of one or two pounds cannot be told from a jump.
  if (holds !== null && ratio.compare(holds, ratio.of(3n)) >= 0) {
    if (now.per !== "pack" && near(times, holds)) {
      return ask("case-price-per-unit", `${price(rates[0])} is ${timesText(times, habits)} times the last price of ${price(rates[1])}, and the case holds ${packText}: is ${figure} the price of the case?`);
    }
    if (now.per === "pack" && near(ratio.div(ratio.ONE, times), holds)) {
      return ask("unit-price-per-case", `${figure} for a case of ${packText} is ${price(rates[0])}, and the last price was ${price(rates[1])}: is ${figure} the price per ${unit}?`);
    }
  }
  for (const slipped of [10n, 100n]) {
    if (near(times, ratio.of(slipped)) || near(ratio.div(ratio.ONE, times), ratio.of(slipped))) {
      return ask("price-point", `${price(rates[0])} against ${price(rates[1])} before: is the point in its place in ${figure}?`);
    }
  }
  if (ratio.compare(size, limit) <= 0) return [];
  return ask("price-jump", `${price(rates[0])} is ${printShare(ratio.toDecimal(size), habits)} % ${ratio.sign(move) < 0 ? "below" : "above"} the last price of ${price(rates[1])}: confirm it, or correct it. Until then the old price stands.`);
}

function near(value: Ratio, of: Ratio): boolean {
  const off = ratio.sub(ratio.div(value, of), ratio.ONE);
  return ratio.compare(ratio.sign(off) < 0 ? ratio.neg(off) : off, NEAR) <= 0;
}

function timesText(times: Ratio, habits: Habits): string {
  return printNumber(ratio.toDecimal(times).toSignificantDigits(3), habits);
}
