/**
 * Whole portions from pieces. Portions are whole numbers and pieces cannot be pooled: each piece gives as many as fit
 * in it, and leaves an end. The honest cost of a portion carries the ends; the textbook's C·s is its lower bound.
 */
import { type Checked, type Problem, type Ratio, type Unit, bad, good, ratio } from "@/lib/measure";
import { sayWeight } from "./words";

export interface PieceCount {
  readonly piece: Ratio;
  readonly portions: bigint;
  /** What is left over of the piece, same unit as the piece, below one portion. */
  readonly end: Ratio;
}

export interface WholePortions {
  readonly pieces: readonly PieceCount[];
  /** Σ n_j, at least 1. */
  readonly portions: bigint;
  /** Σ r_j. */
  readonly ends: Ratio;
}

/**
 * Counts n_j = floor(U_j/s) and r_j = U_j − n_j·s piece by piece. Pieces U_j and size s in base units; `unit` is what
 * sentences are told in. Problems: no-pieces; no-size; portion-larger-than-piece, when no piece gives a portion.
 * Source: portions are always rounded down in the trade; the rule per piece is derived.
 */
export function wholePortions(pieces: readonly Ratio[], size: Ratio, unit: Unit): Checked<WholePortions> {
  const largest = pieces.reduce<Ratio | null>((most, piece) => (most === null || ratio.compare(piece, most) > 0 ? piece : most), null);
  if (largest === null) return bad("pieces", "no-pieces", "Whole portions are counted piece by piece: give the weight of each piece.");
  if (ratio.sign(size) <= 0) return bad("size", "no-size", "A portion must have a size above zero.");
  const counted = pieces.map((piece): PieceCount => {
    const portions = ratio.floor(ratio.div(piece, size));
    return { piece, portions, end: ratio.sub(piece, ratio.mul(ratio.of(portions), size)) };
  });
  const portions = counted.reduce((count, piece) => count + piece.portions, 0n);
  if (portions === 0n) {
    return bad("size", "portion-larger-than-piece", `A ${sayWeight(size, unit)} portion cannot come from a ${sayWeight(largest, unit)} piece: make the portion smaller or use larger pieces.`);
  }
  return good({ pieces: counted, portions, ends: ratio.sum(counted.map((piece) => piece.end)) });
}

/**
 * Honest cost per portion, money: (J − Σ r_j·v_r)/Σ n_j. J what the usable pieces cost (A − V, or a main part's joint share);
 * r_j the ends, v_r what an end is worth per unit of weight (0 if thrown); n_j portions per piece. Fails with
 * ends-exceed-cost when the ends are worth as much as the pieces. Derived.
 */
export function honestPortionCost(J: Ratio, counted: WholePortions, endValue: Ratio): Checked<Ratio> {
  const credit = ratio.mul(counted.ends, endValue);
  if (ratio.sign(credit) > 0 && ratio.compare(credit, J) >= 0) {
    return bad("endValue", "ends-exceed-cost", "The ends are valued at as much as the pieces cost: check what an end is worth.");
  }
  return good(ratio.div(ratio.sub(J, credit), ratio.of(counted.portions)));
}

/** Notes on a count: pieces too small to give any portion. */
export function portionNotes(counted: WholePortions, unit: Unit): readonly Problem[] {
  return counted.pieces.flatMap((piece, index) =>
    piece.portions === 0n
      ? [{ path: `pieces.${index}`, code: "piece-gives-no-portion", sentence: `Piece ${index + 1}, ${sayWeight(piece.piece, unit)}, is smaller than one portion and counts as an end.` }]
      : [],
  );
}
