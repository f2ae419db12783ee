/**
 * What a changed portion gives from each piece, before and after, printed and ready to show above its ripple. Plain text,
 * so that it can travel from the server to the browser.
 */
export interface PortionsRow {
  readonly what: string;
  /** null: not known, or the portion is new. */
  readonly before: string | null;
  readonly after: string | null;
  readonly unit: string;
}

export interface PromisedDish {
  readonly name: string;
  readonly href: string;
  /** Its name or note says the old weight, in these words. */
  readonly says: string | null;
}

export interface PortionsView {
  readonly kind: "portions";
  readonly isNew: boolean;
  readonly rows: readonly PortionsRow[];
  /** Why pieces cannot be counted; null where they are. */
  readonly uncounted: string | null;
  /** Sentences about what follows: a mean weight that falls away with its size. */
  readonly notes: readonly string[];
  /** The weight on the menu, where the size changes; null where it does not. */
  readonly promise: { readonly sentence: string; readonly dishes: readonly PromisedDish[] } | null;
}
