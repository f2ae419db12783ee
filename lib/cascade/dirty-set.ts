/**
 * The rows that have to be costed again: a bitset in two levels over rows in topological order, walked upwards once.
 * A row only ever marks rows above itself, so one walk visits every row at most once and in order; no heap, no queue
 * per level. 32 rows to a word, 32 words to a summary bit: finding the next of 200,000 rows looks at 200 words at most.
 */
export class DirtySet {
  readonly #words: Int32Array;
  readonly #summary: Int32Array;
  #lowest: number;

  constructor(rows: number) {
    this.#words = new Int32Array((rows >>> 5) + 1);
    this.#summary = new Int32Array((rows >>> 10) + 1);
    this.#lowest = this.#summary.length;
  }

  add(row: number): void {
    (this.#words[row >>> 5] as number) |= 1 << (row & 31);
    (this.#summary[row >>> 10] as number) |= 1 << ((row >>> 5) & 31);
    if (row >>> 10 < this.#lowest) this.#lowest = row >>> 10;
  }

  /** Takes out the lowest row; −1 when none is left. Rows may be added between calls. */
  takeLowest(): number {
    const summary = this.#summary;
    let at = this.#lowest;
    while (at < summary.length && summary[at] === 0) at += 1;
    this.#lowest = at;
    if (at === summary.length) return -1;
    const top = summary[at] as number;
    const word = (at << 5) + 31 - Math.clz32(top & -top);
    const marks = this.#words[word] as number;
    const bit = marks & -marks;
    this.#words[word] = marks ^ bit;
    if (marks === bit) summary[at] = top & (top - 1);
    return (word << 5) + 31 - Math.clz32(bit);
  }

  clear(): void {
    this.#words.fill(0);
    this.#summary.fill(0);
    this.#lowest = this.#summary.length;
  }
}
