/**
 * The slips of tubs: one not tared under a part, none tared under any, or a tub taken off once by the scale and again by
 * hand. The kitchen's own tubs are tried one by one. Where their weights are not known, the one tub that would close
 * the balance if it stood under every part is worked out: a guess, unless every part is over its usual share alike.
 */
import { type Quantity, type Ratio, type Unit, baseFactor, kindOf, ratio } from "@/lib/measure";
import { quantityInBase } from "./sheet";
import { type Weighed, inUnitOf, partPlaces, sharePoints } from "./slip-balance";
import { type Proposal, type SlipKind, OFTEN, SAME_WEIGHT } from "./slip-points";

/** A tub is believable between 1 oz and 6 lb; common practice, no source. */
const LIGHTEST_TUB = ratio.fromExact(baseFactor("oz"));
const HEAVIEST_TUB = ratio.mul(ratio.of(6n), ratio.fromExact(baseFactor("lb")));

/** A tub not tared under one part, under every part, or taken off once more than it was weighed. */
export function tubSlips(weighed: Weighed): readonly Proposal[] {
  const { entries, known } = weighed;
  if (kindOf(weighed.sheet.billed.unit) !== "mass") return [];
  const places = partPlaces(weighed);
  const doubted = places.filter((place) => known.untared === undefined || known.untared.has(entries[place]?.key ?? ""));
  const found: Proposal[] = [];
  const without = (kind: SlipKind, of: readonly number[], tub: Quantity, sign: 1 | -1, more: number): void => {
    const tare = ratio.mul(quantityInBase(tub), ratio.of(BigInt(sign)));
    const weights = of.map((place) => ratio.sub(entries[place]?.weight ?? ratio.ZERO, tare));
    if (weights.length === 0 || weights.some((weight) => ratio.sign(weight) <= 0)) return;
    const wouldBe = of.map((place, index) => inUnitOf(entries[place]?.told ?? tub, weights[index] ?? ratio.ZERO));
    found.push({ kind, places: of, wouldBe, weights, points: OFTEN[kind] + more, tub });
  };
  for (const tub of known.tares ?? []) {
    if (kindOf(tub.unit) !== "mass" || ratio.sign(quantityInBase(tub)) <= 0) continue;
    for (const place of doubted) {
      const entry = entries[place];
      if (entry !== undefined) without("tub-not-tared", [place], tub, 1, sharePoints(weighed, entry, ratio.sub(entry.weight, quantityInBase(tub))));
    }
    if (doubted.length > 1) without("no-tub-tared", doubted, tub, 1, 0);
    for (const place of places) {
      const entry = entries[place];
      if (entry !== undefined) without("tare-taken-twice", [place], tub, -1, sharePoints(weighed, entry, ratio.add(entry.weight, quantityInBase(tub))));
    }
  }
  const guessed = known.tares === undefined || known.tares.length === 0 ? guessedTub(weighed, doubted) : null;
  if (guessed !== null) without(doubted.length > 1 ? "no-tub-tared" : "tub-not-tared", doubted, guessed.tub, 1, guessed.points);
  return found;
}

/**
 * The tub that would close the balance if every part was weighed in one like it: (excess + usual loss) over the number
 * of parts. It always closes, so it is a guess unless every part is over its usual share by the same weight.
 */
function guessedTub(weighed: Weighed, doubted: readonly number[]): { readonly tub: Quantity; readonly points: number } | null {
  const [ledger] = weighed.ledgers;
  if (ledger === undefined || weighed.sheet.cooking !== null || weighed.sheet.kind === "hydration" || doubted.length === 0) return null;
  const excess = ratio.neg(ledger.left);
  if (ratio.sign(excess) <= 0) return null;
  const whole = quantityInBase(weighed.sheet.billed);
  const middle = ledger.usual === null ? ratio.ZERO : ratio.div(ratio.mul(whole, ratio.add(ledger.usual.low, ledger.usual.high)), ratio.of(2n));
  const tare = ratio.div(ratio.add(excess, middle), ratio.of(BigInt(doubted.length)));
  if (ratio.compare(tare, LIGHTEST_TUB) < 0 || ratio.compare(tare, HEAVIEST_TUB) > 0) return null;
  const unit = weighed.sheet.billed.unit;
  const rounded = ratio.div(ratio.of(ratio.floor(ratio.add(ratio.div(tare, ROUND_TO[unit] ?? ratio.ONE), ratio.of(1n, 2n)))), ratio.ONE);
  const weight = ratio.mul(rounded, ROUND_TO[unit] ?? ratio.ONE);
  const tub = inUnitOf({ amount: weighed.sheet.billed.amount, unit: unit === "lb" ? "oz" : unit === "kg" ? "g" : unit }, weight);
  return { tub, points: constantExcess(weighed, doubted, weight) ? SAME_WEIGHT : -GUESS };
}

const GUESS = 12;
/** A guessed tub is told to the quarter ounce or to 5 g. */
const ROUND_TO: Readonly<Partial<Record<Unit, Ratio>>> = {
  lb: ratio.div(ratio.fromExact(baseFactor("oz")), ratio.of(4n)), oz: ratio.div(ratio.fromExact(baseFactor("oz")), ratio.of(4n)), kg: ratio.of(5n), g: ratio.of(5n),
};

/** True where every part is over its usual share by about the same weight. */
function constantExcess({ entries, sheet, known }: Weighed, places: readonly number[], tare: Ratio): boolean {
  const whole = quantityInBase(sheet.billed);
  return places.length > 1 && places.every((place) => {
    const entry = entries[place];
    const usual = known.usual?.shares.get(entry?.key ?? "")?.share;
    if (entry === undefined || usual === undefined) return false;
    const over = ratio.sub(entry.weight, ratio.mul(usual, whole));
    return ratio.compare(over, ratio.div(tare, ratio.of(2n))) >= 0 && ratio.compare(over, ratio.mul(tare, ratio.of(2n))) <= 0;
  });
}
