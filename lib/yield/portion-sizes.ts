/**
 * Which sizes divide given pieces well. Portions are whole and pieces cannot be pooled, so a size has good and bad
 * values: with sizes unrelated to the piece about half a portion is lost of each (E[n_j] ≈ U_j/s − 1/2). Sizes around
 * the one that is asked about are counted out on the pieces that were really weighed, and those that leave little are
 * marked. Derived.
 */
import { type Checked, type Quantity, type Ratio, bad, baseFactor, good, kindOf, ratio } from "@/lib/measure";
import { weightIn } from "./figures";
import { wholePortionLine } from "./line";
import { type WholePortions } from "./portions";
import { type WeighedSheet, quantityInBase } from "./sheet";

export interface SizeTried {
  readonly size: Quantity;
  readonly counted: WholePortions;
  /** ΣU/Σn and Σr/Σn, as in a `WholePortionLine`. */
  readonly usablePerPortion: Ratio;
  readonly endPerPortion: Ratio;
  /** Σr/ΣU over the pieces. */
  readonly endShare: Ratio;
  /** What a whole portion costs over s·C, the end thrown: ΣU/(s·Σn) − 1, at least 0. */
  readonly extra: Ratio;
  /** It is the size that was asked about. */
  readonly asked: boolean;
  /** It leaves the least of the sizes near it, and less than chance would. */
  readonly dividesWell: boolean;
}

/** Steps a portion scale is set in: finer for small portions. */
export function sensibleStep(size: Quantity): Quantity | null {
  const kind = kindOf(size.unit);
  const small = ratio.compare(quantityInBase(size), SMALL) < 0;
  if (kind === "mass") return size.unit === "g" || size.unit === "kg" ? weightIn(ratio.of(small ? 5n : 10n), "g") : weightIn(ratio.mul(ratio.fromExact(baseFactor("oz")), ratio.of(1n, small ? 4n : 2n)), "oz");
  if (kind === "volume") return size.unit === "mL" || size.unit === "cL" || size.unit === "L" ? weightIn(ratio.of(10n), "mL") : weightIn(ratio.mul(ratio.fromExact(baseFactor("fl oz")), ratio.of(1n, 2n)), "fl oz");
  return null;
}

/** 6 oz, where the usual tolerances step up too. */
const SMALL = ratio.mul(ratio.fromExact(baseFactor("oz")), ratio.of(6n));
/** So many steps below and above the size. */
const STEPS_EACH_WAY = 6n;
/** A size is compared with so many steps on either side. */
const NEAR = 2n;

/** The sizes on the grid of the step around one, and that one itself, smallest first; none at or below zero. */
export function sizesAround(size: Quantity, step: Quantity, each: bigint = STEPS_EACH_WAY): readonly Quantity[] {
  const by = quantityInBase(step);
  const asked = quantityInBase(size);
  const nearest = ratio.floor(ratio.div(asked, by));
  const grid: Ratio[] = [];
  for (let k = nearest - each; k <= nearest + each; k += 1n) {
    if (k > 0n) grid.push(ratio.mul(ratio.of(k), by));
  }
  if (!grid.some((one) => ratio.compare(one, asked) === 0)) grid.push(asked);
  return grid.sort(ratio.compare).map((one) => weightIn(one, step.unit));
}

/**
 * The pieces of a main part over one or several tests, counted out at sizes around `size`. Sizes that no piece holds fall
 * out. Problems: those of `wholePortionLine`; not-divided, for a size told by count.
 */
export function sizesTried(tests: readonly WeighedSheet[], partKey: string, size: Quantity): Checked<readonly SizeTried[]> {
  const step = sensibleStep(size);
  if (step === null) return bad("size", "not-divided", "A portion told by the piece has no other sizes to try.");
  const first = wholePortionLine(tests, partKey, size);
  if (!first.ok) return first;
  const pieces = first.value.counted.pieces.map(({ piece }) => piece);
  const whole = ratio.sum(pieces);
  const asked = quantityInBase(size);
  const shown = sizesAround(size, step);
  // The outermost are compared with what lies beyond them too.
  const rows = sizesAround(size, step, STEPS_EACH_WAY + NEAR).flatMap((one) => {
    const line = wholePortionLine(tests, partKey, one);
    if (!line.ok) return [];
    const { counted, usablePerPortion, endPerPortion } = line.value;
    const s = quantityInBase(one);
    return [{
      size: ratio.compare(s, asked) === 0 ? size : one, s, counted, usablePerPortion, endPerPortion, endShare: ratio.div(counted.ends, whole),
      extra: ratio.sub(ratio.div(usablePerPortion, s), ratio.ONE), asked: ratio.compare(s, asked) === 0,
    }];
  });
  const near = ratio.mul(quantityInBase(step), ratio.of(NEAR));
  const among = (s: Ratio) => rows.filter((other) => within(other.s, s, near));
  const isShown = (s: Ratio) => shown.some((one) => ratio.compare(quantityInBase(one), s) === 0);
  return good(rows.filter(({ s }) => isShown(s)).map(({ s, ...row }): SizeTried => ({
    ...row,
    dividesWell: among(s).every((other) => ratio.compare(row.counted.ends, other.counted.ends) <= 0) && ratio.compare(row.counted.ends, expectedEnds(pieces, s)) < 0,
  })));
}

/** What chance leaves: half a portion of each piece. */
function expectedEnds(pieces: readonly Ratio[], s: Ratio): Ratio {
  return ratio.mul(s, ratio.of(BigInt(pieces.length), 2n));
}

function within(a: Ratio, b: Ratio, by: Ratio): boolean {
  const off = ratio.sub(a, b);
  return ratio.compare(ratio.sign(off) < 0 ? ratio.neg(off) : off, by) <= 0;
}

/** What one of the pieces to a portion weighs: three scallops of 4 oz together are 1 1/3 oz each. null when nobody counts. */
export function pieceOfPortion(size: Quantity, pieces: Quantity["amount"] | null): Quantity | null {
  if (pieces === null) return null;
  const count = ratio.fromExact(pieces);
  if (ratio.sign(count) <= 0) return null;
  return { amount: ratio.toExact(ratio.div(ratio.fromExact(size.amount), count)), unit: size.unit };
}

/** What a whole portion costs, money: (ΣU/Σn)·C − (Σr/Σn)·v_end; C and v_end money per base unit. The honest cost, of which C·s is the lower bound. */
export function wholeCost(line: { readonly usablePerPortion: Ratio; readonly endPerPortion: Ratio }, C: Ratio, endValue: Ratio): Ratio {
  return ratio.sub(ratio.mul(line.usablePerPortion, C), ratio.mul(line.endPerPortion, endValue));
}

/** A size's honest cost over its cost by weight, c/(C·s) − 1, with the ends at their value; null where C is not above zero. */
export function overByWeight(tried: SizeTried, C: Ratio, endValue: Ratio): Ratio | null {
  return ratio.sign(C) <= 0 ? null : ratio.sub(ratio.div(wholeCost(tried, C, endValue), ratio.mul(C, quantityInBase(tried.size))), ratio.ONE);
}
