/**
 * Rows as they are read from the book, straight into typed columns: no object per line. Coefficients and constants
 * are rounded to double-double here, once, from exact ratios; the fast way for whole numbers below 2^53 (one division
 * and its exact remainder) gives the same bits as the slow one through BigInt. A source that is not in the book leaves
 * no line and marks the row as lacking.
 */
import type { Book, Line } from "@/lib/book";
import { type Ratio, ratio } from "@/lib/measure";
import { fromBigRatio, lowOfQuotient } from "./double-double";
import type { NodeKind } from "./node";
import type { NodeIndex } from "./node-index";
import type { RowSink } from "./row";
import { readAmount, readShare } from "./rows/amount";
import { SMALL_UNITS, SmallRatio } from "./small-ratio";

export class LineBuffer implements RowSink {
  /** Lines of the rows closed so far. */
  lineCount = 0;
  source: Int32Array;
  coefficientHi: Float64Array;
  coefficientLo: Float64Array;
  /** Row → where its lines begin; one more than there are rows. */
  readonly start: Int32Array;
  readonly constantHi: Float64Array;
  readonly constantLo: Float64Array;
  /** Row → 1 when it lacks something of its own. */
  readonly lacks: Uint8Array;
  /** Row → 1 when something in it is credited (below zero). */
  readonly credits: Uint8Array;
  rowCount = 0;

  readonly #index: NodeIndex;
  readonly #amount = new SmallRatio();
  /** What a line takes of a recipe depends on the yields that this book gives it. */
  #book: Book | null = null;
  #constant: Ratio | null = null;
  #fastN = 0;
  #fastD = 1;

  constructor(index: NodeIndex, rows: number, linesExpected: number) {
    this.#index = index;
    const room = Math.max(16, linesExpected);
    this.source = new Int32Array(room);
    this.coefficientHi = new Float64Array(room);
    this.coefficientLo = new Float64Array(room);
    this.start = new Int32Array(rows + 1);
    this.constantHi = new Float64Array(rows);
    this.constantLo = new Float64Array(rows);
    this.lacks = new Uint8Array(rows);
    this.credits = new Uint8Array(rows);
  }

  /** The book that the next rows are read from. */
  from(book: Book): this {
    this.#book = book;
    return this;
  }

  /** Empties the buffer for as many rows as it was made for. */
  reset(): void {
    this.constantHi.fill(0, 0, this.rowCount);
    this.constantLo.fill(0, 0, this.rowCount);
    this.lacks.fill(0, 0, this.rowCount);
    this.credits.fill(0, 0, this.rowCount);
    this.rowCount = 0;
    this.lineCount = 0;
  }

  /** How many lines a closed row has. */
  linesOf(row: number): number {
    return (this.start[row + 1] as number) - (this.start[row] as number);
  }

  /** How many rows fit. */
  get room(): number {
    return this.lacks.length;
  }

  /** Closes the row that was said since the last one closed. */
  closeRow(): void {
    if (this.#constant !== null) {
      const { hi, lo } = fromBigRatio(this.#constant.n, this.#constant.d);
      this.constantHi[this.rowCount] = hi;
      this.constantLo[this.rowCount] = lo;
    }
    this.#constant = null;
    this.#fastN = 0;
    this.#fastD = 1;
    this.rowCount += 1;
    this.start[this.rowCount] = this.lineCount;
  }

  take(line: Line): boolean {
    const { of, quantity } = line;
    const node = this.#index.numberOf(of.kind, of.id);
    if (node < 0) return false;
    const amount = this.#amount;
    const { code } = SMALL_UNITS[quantity.unit];
    if (of.kind === "recipe") {
      // As in the book's own reading, the first measured yield of the kind.
      const batch = this.#book?.shelves.recipe.get(of.id)?.yields.find((measured) => SMALL_UNITS[measured.unit].code === code);
      if (batch === undefined || !readShare(quantity, batch, amount)) return false;
    } else if (this.#index.measures[node] !== code || !readAmount(quantity, amount)) return false;
    const hi = amount.n / amount.d;
    this.#push(node, hi, lowOfQuotient(amount.n, amount.d, hi));
    return true;
  }

  line(kind: NodeKind, id: string, n: number, d: number): void {
    const hi = n / d;
    this.#push(this.#index.numberOf(kind, id), hi, lowOfQuotient(n, d, hi));
  }

  bigLine(kind: NodeKind, id: string, n: bigint, d: bigint): void {
    const { hi, lo } = fromBigRatio(n, d);
    this.#push(this.#index.numberOf(kind, id), hi, lo);
  }

  /** A line of a node that is known by its number. */
  lineOfNode(node: number, n: bigint, d: bigint): void {
    const { hi, lo } = fromBigRatio(n, d);
    this.#push(node, hi, lo);
  }

  money(n: number, d: number): void {
    if (this.#constant !== null || this.#fastN !== 0) {
      this.bigMoney(BigInt(n), BigInt(d));
      return;
    }
    // The only constant of nearly every row that has one; kept in case another follows.
    this.#fastN = n;
    this.#fastD = d;
    const hi = n / d;
    this.constantHi[this.rowCount] = hi;
    this.constantLo[this.rowCount] = lowOfQuotient(n, d, hi);
    if (n < 0) this.credits[this.rowCount] = 1;
  }

  /** Several constants are added exactly and rounded once, when the row is closed. */
  bigMoney(n: bigint, d: bigint): void {
    const before = this.#constant ?? ratio.of(BigInt(this.#fastN), BigInt(this.#fastD));
    this.#constant = ratio.add(before, ratio.of(n, d));
    if (n < 0n) this.credits[this.rowCount] = 1;
  }

  lacking(): void {
    this.lacks[this.rowCount] = 1;
  }

  lackingCredit(): void {
    this.lacks[this.rowCount] = 1;
    this.credits[this.rowCount] = 1;
  }

  #push(node: number, hi: number, lo: number): void {
    if (node < 0) {
      this.lacks[this.rowCount] = 1;
      return;
    }
    const at = this.lineCount;
    if (at === this.source.length) this.#grow();
    this.source[at] = node;
    this.coefficientHi[at] = hi;
    this.coefficientLo[at] = lo;
    if (hi < 0) this.credits[this.rowCount] = 1;
    this.lineCount = at + 1;
  }

  #grow(): void {
    const room = this.source.length * 2;
    const grown = <T extends Int32Array | Float64Array>(old: T, fresh: T): T => {
      fresh.set(old);
      return fresh;
    };
    this.source = grown(this.source, new Int32Array(room));
    this.coefficientHi = grown(this.coefficientHi, new Float64Array(room));
    this.coefficientLo = grown(this.coefficientLo, new Float64Array(room));
  }
}
