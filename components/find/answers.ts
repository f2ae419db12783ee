/** One thing that was found, for the page and for the box. */
export interface AnswerView {
  readonly key: string;
  readonly href: string;
  readonly name: string;
  /** "dish", "portion spec". */
  readonly kind: string;
  readonly note: string;
}

/** What the box is told. */
export interface AnswersView {
  readonly answers: readonly AnswerView[];
  /** How many there are in all. */
  readonly of: number;
}
