/** An ordered item as it is printed: words and figures that are rounded already. */
export interface OrderRowView {
  readonly key: string;
  readonly itemId: string;
  readonly name: string;
  /** The dealer's own order code, or "". */
  readonly code: string;
  /** As purchased, upwards. */
  readonly needed: string;
  readonly onHand: string | null;
  /** "3"; null where it cannot be told in packs, and then `why` says so. */
  readonly packs: string | null;
  readonly pack: string;
  readonly why: string | null;
  /** What the packs hold together, or what there is to buy where there are none. */
  readonly bought: string | null;
  readonly over: string | null;
  readonly overCost: string | null;
  readonly price: string | null;
  readonly cost: string | null;
  /** Beside the row: at least, whole pieces, an estimate. */
  readonly notes: readonly string[];
}
