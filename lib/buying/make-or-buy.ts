/**
 * Cutting a portion in the house, or buying it cut: what one costs either way, and where the two are the same.
 *
 *   in the house, a portion  c = a·P − Σ q_k·v_k·u_k − e + m·h/(60·n) + x + F/Q
 *   bought, a portion        b = price of one, over 1 − t where a share t is still trimmed off
 *
 * a as purchased for a portion, P the price at the door; q_k, v_k, u_k amount, worth and used share of by-product k, for only
 * what is really used is worth anything; e the credit for an end; m minutes a piece, h the hour with all that comes on top of
 * the wage, n portions a piece; x wrap and disposal; F what a week of the machine costs, over Q portions.
 *
 * Two verdicts, of different questions. Full cost: what a portion takes of everything. Avoidable cash: what would leave the
 * house or not: hours count only where they can really be cut (nobody is sent home for twenty minutes saved), the machine
 * only where it is not paid for already. A break-even is told for each, and where there is none, why: most are worth more
 * than a yes or a no. Everything is linear in the one figure asked about, so each is exact, and at it both sides are equal.
 * Labour by minutes and hourly rate: trade practice; break-evens derived.
 */
import { type Checked, type Ratio, bad, good, ratio } from "@/lib/measure";

/** One by-product in a portion. */
export interface MadeCredit {
  readonly name: string;
  /** q_k, base units a portion. */
  readonly amount: Ratio;
  /** v_k of what is used, money per base unit. */
  readonly worth: Ratio;
  /** u_k where somebody has counted it: min(1, used ÷ produced). null: taken as the asked share. */
  readonly counted: Ratio | null;
}

/** A portion as it is cut here, before anybody's time. */
export interface Made {
  /** a, base units of the item a portion. */
  readonly asPurchased: Ratio;
  /** What a portion costs that does not move with the item's price: other goods in what it is cut from. */
  readonly rest: Ratio;
  /** P, money per base unit of the item. */
  readonly price: Ratio;
  readonly credits: readonly MadeCredit[];
  /** e, money a portion. */
  readonly endCredit: Ratio;
  /** n, portions a piece. */
  readonly perPiece: Ratio;
  /** Usable over as purchased. */
  readonly yield: Ratio;
  /** Weight can be taken up, so a yield above 1 is possible. */
  readonly gains: boolean;
}

/** What nobody has recorded, and is asked. */
export interface MakeAsked {
  /** b, money a portion, trim that is still to come off counted in. */
  readonly bought: Ratio;
  readonly minutes: Ratio;
  /** h, money an hour. */
  readonly hourly: Ratio;
  readonly hoursCanBeCut: boolean;
  /** x, money a portion. */
  readonly wrap: Ratio;
  /** F, money a week; zero: none. */
  readonly fixed: Ratio;
  /** The machine is not paid for yet, or would go. */
  readonly fixedAvoidable: boolean;
  /** Q, portions a week; null: not told. */
  readonly volume: Ratio | null;
  /** What share of the by-products that nobody has counted is used: 0 to 1. */
  readonly used: Ratio;
}

export type Basis = "cash" | "full";

/** A portion in the house, line by line, money. */
export interface MadeCost {
  readonly goods: Ratio;
  /** Below zero. */
  readonly byProducts: Ratio;
  readonly ends: Ratio;
  readonly labour: Ratio;
  readonly wrap: Ratio;
  readonly fixed: Ratio;
  readonly total: Ratio;
  /** b − total: above zero where cutting in the house is cheaper. */
  readonly saves: Ratio;
  /** The same a week; null without a volume. */
  readonly savesAWeek: Ratio | null;
}

export type BreakEvenOf = "bought" | "price" | "hourly" | "minutes" | "yield" | "volume" | "used";
export type BreakEven =
  | { readonly kind: "at"; readonly value: Ratio }
  | { readonly kind: "none"; readonly why: string };

export interface MakeOrBuy {
  readonly cost: Readonly<Record<Basis, MadeCost>>;
  /** bought: money a portion. price: per base unit of the item, at the door. hourly: money an hour. minutes: a piece. yield: a share. volume: portions a week. used: a share. */
  readonly breakEvens: Readonly<Record<Basis, Readonly<Record<BreakEvenOf, BreakEven>>>>;
}

const SIXTY = ratio.of(60n);
const at = (value: Ratio): BreakEven => ({ kind: "at", value });
const none = (why: string): BreakEven => ({ kind: "none", why });

/** Problems: not-above-zero (portions a piece, bought price), negative, share-out-of-range, volume-missing where a week's fixed cost has to be shared out. */
export function makeOrBuy(made: Made, asked: MakeAsked): Checked<MakeOrBuy> {
  if (ratio.sign(made.perPiece) <= 0) return bad("perPiece", "not-above-zero", "A piece must give portions: nothing tells how many.");
  if (ratio.sign(asked.bought) <= 0) return bad("bought", "not-above-zero", "What a bought portion costs must be above zero.");
  for (const [path, value, what] of [["minutes", asked.minutes, "Minutes a piece"], ["hourly", asked.hourly, "What an hour costs"], ["wrap", asked.wrap, "Wrap and disposal"], ["fixed", asked.fixed, "What a week of the machine costs"]] as const) {
    if (ratio.sign(value) < 0) return bad(path, "negative", `${what} cannot be below zero.`);
  }
  if (ratio.sign(asked.used) < 0 || ratio.compare(asked.used, ratio.ONE) > 0) return bad("used", "share-out-of-range", "What is used of the by-products is a share from 0 to 100 %.");
  if (ratio.sign(asked.fixed) > 0 && (asked.volume === null || ratio.sign(asked.volume) <= 0)) return bad("volume", "volume-missing", "Say how many portions a week: a week’s fixed cost is shared out over them.");
  const cost = { cash: costOf(made, asked, "cash"), full: costOf(made, asked, "full") };
  return good({ cost, breakEvens: { cash: breakEvensOf(made, asked, "cash", cost.cash), full: breakEvensOf(made, asked, "full", cost.full) } });
}

/** Whether a basis counts the hours, and the week's fixed cost. */
function counts({ hoursCanBeCut, fixedAvoidable }: MakeAsked, basis: Basis): { readonly labour: boolean; readonly fixed: boolean } {
  return basis === "full" ? { labour: true, fixed: true } : { labour: hoursCanBeCut, fixed: fixedAvoidable };
}

function costOf(made: Made, asked: MakeAsked, basis: Basis): MadeCost {
  const counted = counts(asked, basis);
  const goods = ratio.add(ratio.mul(made.asPurchased, made.price), made.rest);
  const byProducts = ratio.neg(ratio.sum(made.credits.map((credit) => ratio.mul(ratio.mul(credit.amount, credit.worth), credit.counted ?? asked.used))));
  const ends = ratio.neg(made.endCredit);
  const labour = counted.labour ? ratio.div(ratio.mul(asked.minutes, asked.hourly), ratio.mul(SIXTY, made.perPiece)) : ratio.ZERO;
  const fixed = counted.fixed && asked.volume !== null && ratio.sign(asked.fixed) > 0 ? ratio.div(asked.fixed, asked.volume) : ratio.ZERO;
  const total = ratio.sum([goods, byProducts, ends, labour, asked.wrap, fixed]);
  const saves = ratio.sub(asked.bought, total);
  return { goods, byProducts, ends, labour, wrap: asked.wrap, fixed, total, saves, savesAWeek: asked.volume === null ? null : ratio.mul(saves, asked.volume) };
}

function breakEvensOf(made: Made, asked: MakeAsked, basis: Basis, cost: MadeCost): Readonly<Record<BreakEvenOf, BreakEven>> {
  const counted = counts(asked, basis);
  const { saves } = cost;
  return {
    bought: ratio.sign(cost.total) > 0 ? at(cost.total) : none("Cut in the house it costs nothing or less, so no price for a bought one is low enough."),
    price: priceAt(made, saves),
    hourly: hourlyAt(made, asked, counted.labour, saves),
    minutes: minutesAt(made, asked, counted.labour, saves),
    yield: yieldAt(made, asked, cost),
    volume: volumeAt(asked, counted.fixed, cost),
    used: usedAt(made, asked, saves),
  };
}

/** P* = P + saves/a. */
function priceAt(made: Made, saves: Ratio): BreakEven {
  if (ratio.sign(made.asPurchased) === 0) return none("The portion does not rest on this item’s price.");
  const price = ratio.add(made.price, ratio.div(saves, made.asPurchased));
  return ratio.sign(price) > 0 ? at(price) : none("Even with the goods for nothing the bought one is cheaper.");
}

const NOT_COUNTED = "Hours are not counted here: they cannot be cut.";

/** h* = h + saves·60·n/m. */
function hourlyAt(made: Made, asked: MakeAsked, isCounted: boolean, saves: Ratio): BreakEven {
  if (!isCounted) return none(NOT_COUNTED);
  if (ratio.sign(asked.minutes) === 0) return none("No time is told, so no rate makes a difference.");
  const hourly = ratio.add(asked.hourly, ratio.div(ratio.mul(ratio.mul(saves, SIXTY), made.perPiece), asked.minutes));
  return ratio.sign(hourly) >= 0 ? at(hourly) : none("Even with the work for nothing the bought one is cheaper.");
}

/** m* = m + saves·60·n/h. */
function minutesAt(made: Made, asked: MakeAsked, isCounted: boolean, saves: Ratio): BreakEven {
  if (!isCounted) return none(NOT_COUNTED);
  if (ratio.sign(asked.hourly) === 0) return none("No rate is told, so no time makes a difference.");
  const minutes = ratio.add(asked.minutes, ratio.div(ratio.mul(ratio.mul(saves, SIXTY), made.perPiece), asked.hourly));
  return ratio.sign(minutes) >= 0 ? at(minutes) : none("Even in no time the bought one is cheaper.");
}

/**
 * What a piece costs and takes is as it is; how many portions it gives is asked. Piece costs T = n·(goods + by-products + ends
 * + labour); n* = T/(b − x − fixed); the yield goes with n.
 */
function yieldAt(made: Made, asked: MakeAsked, cost: MadeCost): BreakEven {
  const room = ratio.sub(ratio.sub(asked.bought, cost.wrap), cost.fixed);
  if (ratio.sign(room) <= 0) return none("Wrap and the week’s fixed cost alone come to as much as a bought one, whatever a piece gives.");
  const piece = ratio.mul(made.perPiece, ratio.sum([cost.goods, cost.byProducts, cost.ends, cost.labour]));
  if (ratio.sign(piece) <= 0) return none("A piece costs nothing or less after its by-products, whatever it gives.");
  const found = ratio.mul(made.yield, ratio.div(ratio.div(piece, room), made.perPiece));
  return !made.gains && ratio.compare(found, ratio.ONE) > 0 ? none("A piece would have to give more than it weighs.") : at(found);
}

/** Q* = F/(b − everything but F). */
function volumeAt(asked: MakeAsked, isCounted: boolean, cost: MadeCost): BreakEven {
  if (ratio.sign(asked.fixed) === 0) return none("No week’s fixed cost is told, so the number of portions makes no difference.");
  if (!isCounted) return none("The week’s fixed cost is not counted here: it is paid either way.");
  const room = ratio.add(cost.saves, cost.fixed);
  return ratio.sign(room) <= 0 ? none("Each portion is cheaper bought even before the week’s fixed cost, so no number of them pays it.") : at(ratio.div(asked.fixed, room));
}

/** u* = u − saves/Σ q_k·v_k over the by-products that nobody has counted. */
function usedAt(made: Made, asked: MakeAsked, saves: Ratio): BreakEven {
  const whole = ratio.sum(made.credits.filter(({ counted }) => counted === null).map(({ amount, worth }) => ratio.mul(amount, worth)));
  if (ratio.sign(whole) === 0) return none(made.credits.length === 0 ? "There are no by-products." : "What is used of every by-product is counted already.");
  const used = ratio.sub(asked.used, ratio.div(saves, whole));
  if (ratio.sign(used) < 0) return none("Cut in the house is cheaper even if none of them is used.");
  return ratio.compare(used, ratio.ONE) > 0 ? none("The bought one is cheaper even if all of them are used.") : at(used);
}
