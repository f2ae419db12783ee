/**
 * What is to be said of a delivery, line by line. Three things that kitchens mix up are kept apart: what was billed and
 * did not come (a claim on the dealer, never yield), what was billed at another price than was quoted on that day, and a
 * line whose total is not its price times its quantity. Common practice; trade brief: short weight is a claim, not yield.
 */
import { type Delivery, type DeliveryLine, type Quote, askedRate, lineValue, packContent } from "@/lib/book";
import { type Exact, type Quantity, type Ratio, type Unit, baseFactor, exact, kindOf, moneyPlaces, ratio } from "@/lib/measure";
import { quantityInBase, shortWeight } from "@/lib/yield";

/** What a receiving scale tells apart: differences of less than half of it are no claim. One ounce, 20 grams. */
const DOOR_STEP = { us: { amount: exact("1"), unit: "oz" }, metric: { amount: exact("20"), unit: "g" } } as const satisfies Record<string, Quantity>;

export type PriceAgainst =
  /** The dealer had no price for it on that day. */
  | { readonly kind: "none" }
  /** Quoted in other money, or in units that do not meet: not compared. */
  | { readonly kind: "apart"; readonly why: "money" | "units" }
  | { readonly kind: "agrees" }
  /** `by` above zero: money per `per`; `over`: in all, for what was billed. `quoted`: the quote, per `per`. */
  | { readonly kind: "dearer" | "cheaper"; readonly by: Ratio; readonly per: "pack" | Unit; readonly quoted: Ratio; readonly over: Ratio };

export interface JudgedDelivered {
  readonly line: DeliveryLine;
  /** Price × quantity, exact. */
  readonly value: Ratio;
  /** Printed less reckoned, where the printed total is not the reckoned one rounded to the cent; null where it is, or none is printed. */
  readonly totalOff: Ratio | null;
  /** What was billed and did not come, and what was paid for it. */
  readonly short: { readonly quantity: Quantity; readonly claim: Ratio; readonly sentence: string } | null;
  /** More came than was billed. */
  readonly more: Quantity | null;
  readonly price: PriceAgainst;
}

/** `quote`: what the dealer asked on the day of the paper; null where it asked nothing. */
export function judgeDelivered(line: DeliveryLine, quote: Quote | null, kitchen: { readonly measures: "us" | "metric"; readonly currency: string }): JudgedDelivered {
  const value = lineValue(line);
  const printed = line.amount === null ? null : ratio.fromExact(line.amount.amount);
  const reckoned = toCent(value, kitchen.currency);
  return {
    line, value,
    totalOff: printed === null || ratio.compare(printed, reckoned) === 0 ? null : ratio.sub(printed, reckoned),
    ...received(line, kitchen.measures),
    price: priceAgainst(line, quote),
  };
}

/** Half up, as documents round. */
export function toCent(money: Ratio, currency: string): Ratio {
  const scale = 10n ** BigInt(moneyPlaces(currency));
  const scaled = ratio.mul(money, ratio.of(scale));
  const half = ratio.of(1n, 2n);
  return ratio.sign(money) < 0 ? ratio.of(ratio.ceil(ratio.sub(scaled, half)), scale) : ratio.of(ratio.floor(ratio.add(scaled, half)), scale);
}

/** What one base unit (g, mL, each) of the line was billed at. */
export function billedRate(line: DeliveryLine): Ratio {
  return ratio.div(lineValue(line), quantityInBase(line.billed));
}

function received(line: DeliveryLine, measures: "us" | "metric"): Pick<JudgedDelivered, "short" | "more"> {
  if (line.received === null || kindOf(line.received.unit) !== kindOf(line.billed.unit)) return { short: null, more: null };
  const unit = line.billed.unit;
  const base = ratio.fromExact(baseFactor(unit));
  const rate = { amount: ratio.toExact(ratio.mul(billedRate(line), base)), per: unit };
  const short = shortWeight(line.billed, line.received, rate, DOOR_STEP[measures]);
  if (short !== null) return { short: { quantity: short.short, claim: short.claim ?? ratio.ZERO, sentence: short.problem.sentence }, more: null };
  const over = ratio.sub(quantityInBase(line.received), quantityInBase(line.billed));
  const step = kindOf(unit) === "mass" ? ratio.div(quantityInBase(DOOR_STEP[measures]), ratio.of(2n)) : ratio.ZERO;
  return { short: null, more: ratio.compare(over, step) > 0 ? { amount: ratio.toExact(ratio.div(over, base)), unit } : null };
}

/**
 * By the pack where both are told by packs that hold the same, else per the unit that the line or the quote is priced in. A
 * pack of catch weight is compared by its unit. Prices told for different units agree within what their rounding hides (15.65
 * a kilo and 7.10 a pound are one price). Fails to compare where the quote is in other money.
 */
export function priceAgainst(line: DeliveryLine, quote: Quote | null): PriceAgainst {
  if (quote === null) return { kind: "none" };
  if (quote.currency !== null) return { kind: "apart", why: "money" };
  if (kindOf(line.billed.unit) !== kindOf(quote.per === "pack" ? quote.pack.size.unit : quote.per)) return { kind: "apart", why: "units" };
  const byPack = line.per === "pack" && quote.per === "pack" && line.packs !== null && samePack(line, quote);
  const unit = line.per !== "pack" ? line.per : quote.per !== "pack" ? quote.per : line.billed.unit;
  const base = ratio.fromExact(baseFactor(unit));
  const [billed, quoted] = byPack
    ? [ratio.fromExact(line.price.amount), ratio.fromExact(quote.price.amount)] as const
    : [ratio.mul(billedRate(line), base), ratio.mul(askedRate(quote), base)] as const;
  const off = ratio.sub(billed, quoted);
  const by = ratio.sign(off) < 0 ? ratio.neg(off) : off;
  const rounding = byPack || line.per === quote.per ? ratio.ZERO : ratio.mul(ratio.add(halfPlace(line.price.amount, billedRate(line)), halfPlace(quote.price.amount, askedRate(quote))), base);
  if (ratio.compare(by, rounding) <= 0) return { kind: "agrees" };
  const times = byPack ? ratio.fromExact(line.packs ?? exact("1")) : ratio.div(quantityInBase(line.billed), base);
  return { kind: ratio.sign(off) > 0 ? "dearer" : "cheaper", by, per: byPack ? "pack" : unit, quoted, over: ratio.mul(by, times) };
}

/** What rounding a price to the places it has may hide, per base unit: half of its last place, as `rate` is to the price. */
function halfPlace(price: Exact, rate: Ratio): Ratio {
  const places = price.includes("/") ? 0 : price.split(".")[1]?.length ?? 0;
  const amount = ratio.fromExact(price);
  return ratio.sign(amount) === 0 ? ratio.ZERO : ratio.mul(rate, ratio.div(ratio.of(1n, 2n * 10n ** BigInt(places)), amount));
}

/** The line's packs hold what the quote's do. */
function samePack(line: DeliveryLine, quote: Quote): boolean {
  if (line.packs === null) return false;
  return ratio.compare(ratio.div(quantityInBase(line.billed), ratio.fromExact(line.packs)), quantityInBase(packContent(quote.pack))) === 0;
}

/** What is claimed of the dealer for short weight over these deliveries, and what its credit memos gave back; money. */
export interface Claims {
  readonly claimed: Ratio;
  readonly lines: number;
}

export function shortClaims(delivery: Delivery, kitchen: { readonly measures: "us" | "metric"; readonly currency: string }): Claims {
  if (delivery.kind === "credit") return { claimed: ratio.ZERO, lines: 0 };
  const short = delivery.lines.flatMap((line) => received(line, kitchen.measures).short ?? []);
  return { claimed: short.reduce((sum, { claim }) => ratio.add(sum, toCent(claim, kitchen.currency)), ratio.ZERO), lines: short.length };
}

/** An average billed pack: what a piece of catch weight really weighs. */
export interface BilledPack {
  /** In base units (g). */
  readonly average: Ratio;
  readonly packs: Ratio;
  readonly deliveries: number;
}

/**
 * Average = Σ billed weight / Σ packs over the invoices of one item (and dealer) whose packs were counted. Credit memos are
 * left out: what they take back was no pack of its own. null where no packs were counted.
 */
export function billedPack(deliveries: Iterable<Delivery>, itemId: string, dealerId: string | null): BilledPack | null {
  let [weight, packs, many] = [ratio.ZERO, ratio.ZERO, 0];
  for (const delivery of deliveries) {
    if (delivery.kind === "credit" || (dealerId !== null && delivery.dealerId !== dealerId)) continue;
    const lines = delivery.lines.filter((line) => line.itemId === itemId && line.packs !== null && kindOf(line.billed.unit) === "mass");
    if (lines.length === 0) continue;
    many += 1;
    for (const line of lines) {
      weight = ratio.add(weight, quantityInBase(line.billed));
      packs = ratio.add(packs, ratio.fromExact(line.packs ?? exact("0")));
    }
  }
  return ratio.sign(packs) <= 0 ? null : { average: ratio.div(weight, packs), packs, deliveries: many };
}

/** How far the billed average lies from what the quote reckons a pack at, as a share of that; null where they do not meet. */
export function packOff(quote: Quote, billed: BilledPack): Ratio | null {
  const content = packContent(quote.pack);
  return kindOf(content.unit) !== "mass" ? null : ratio.sub(ratio.div(billed.average, quantityInBase(content)), ratio.ONE);
}
