/** A worth that goes round, for the screen: the way, and what each way out would come to. Plain text: the server has done the sums. */
export interface LoopView {
  /** "Burger grind → Striploin → Burger grind". */
  readonly way: string;
  /** One for each worth that the loop runs through. */
  readonly worths: readonly {
    /** "Lean trim, at what Burger grind costs". */
    readonly label: string;
    /** "lb". */
    readonly unit: string;
    /** "$3.20 a lb"; null: not known. */
    readonly last: string | null;
    readonly solved: string | null;
    /** "What Burger grind costs a lb: $5.10, less $0.037 for each $1 that Lean trim is worth." "" without. */
    readonly working: string;
  }[];
  /** Why there is no solution; null where there is one. */
  readonly unsolved: string | null;
  /** The way out that was chosen, or "". */
  readonly chosen: string;
}
