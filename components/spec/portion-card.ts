/** The card of a portion for the station: printed figures and words, no money. */
export interface CardLine {
  readonly label: string;
  readonly value: string;
}

export interface PortionCard {
  readonly title: string;
  /** The cut it is portioned from. */
  readonly of: string;
  readonly kitchen: string;
  /** The figure of the card, large: "10 oz". */
  readonly size: string;
  /** "9 1/2 oz to 10 1/2 oz" with what it rests on; "" where no tolerance is said. */
  readonly limits: string;
  readonly lines: readonly CardLine[];
  readonly caution: string;
  readonly printed: string;
}
