/**
 * A row: how one node's cost follows from others'. cost = Σ coefficient × cost of source + constants, every
 * coefficient an exact ratio that the book's facts fix, none of them another cost: so each cost is linear in every
 * price. The builders in rows/ say a node's row line by line into a sink; who listens decides what a line becomes
 * (machine numbers for the engine, exact fractions for proof, words for an explanation). The order of lines is that
 * of the fact, whatever else is in the book: sums are taken in that order, so that digits do not depend on history.
 */
import type { Line } from "@/lib/book";
import type { Lack, NodeKind } from "./node";

/**
 * What a line carries. quote: the dealer's price (a bought item's only line, a constant). transfer: what a by-product of the
 * house is passed on at: a constant, or the item whose place it takes. origin: what the cut is made from,
 * W/U of it (or the factor). by-product: credited, its amount below zero. portion: the cut in one portion. end: the
 * left-over end, credited. ingredient: a line of a recipe or dish. allowance: money reckoned a batch or a plate.
 */
export type LineRole = "quote" | "transfer" | "origin" | "by-product" | "portion" | "end" | "ingredient" | "allowance";

export interface RowSink {
  /** A line of a recipe or dish that the sink can take as it is written, with the same result; false: say it in the source's base. */
  take?(line: Line): boolean;
  /** n/d of a source's cost, both whole numbers below 2^53, d above zero. `key`: quote id, part key or line key. */
  line(kind: NodeKind, id: string, n: number, d: number, role: LineRole, key: string): void;
  /** The same with whole numbers of any size. */
  bigLine(kind: NodeKind, id: string, n: bigint, d: bigint, role: LineRole, key: string): void;
  /** n/d of money by itself, both whole numbers below 2^53. */
  money(n: number, d: number, role: LineRole, key: string): void;
  bigMoney(n: bigint, d: bigint, role: LineRole, key: string): void;
  /** Something that this row needs is not known. A source that is not in the book is found out by the sink itself. */
  lacking(what: Lack, kind: NodeKind, id: string): void;
  /** A credit whose worth is not known. What the row comes to without it is no lower bound, so the row counts as 0. */
  lackingCredit(what: Lack, kind: NodeKind, id: string): void;
}
