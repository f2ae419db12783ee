/** Make or buy as it is printed: words and rounded figures. */
export interface MemoLine {
  readonly key: string;
  readonly name: string;
  readonly cash: string;
  readonly full: string;
  readonly sum: boolean;
}

export interface MemoBreakEven {
  readonly key: string;
  readonly name: string;
  /** On which side the house is cheaper. */
  readonly note: string;
  readonly now: string;
  /** The figure, or why there is none. */
  readonly cash: string;
  readonly full: string;
}

export interface MemoView {
  readonly title: string;
  /** Kitchen, day, author. */
  readonly lines: string;
  readonly says: string;
  readonly costs: readonly MemoLine[];
  readonly breakEvens: readonly MemoBreakEven[];
  readonly assumptions: readonly string[];
  readonly cautions: readonly string[];
  readonly printed: string;
}
