/** The places of the book, in the order of the index. `far` ones stand behind "More" where the screen is narrow. */
export interface Place {
  readonly href: string;
  readonly name: string;
  readonly far: boolean;
  /** Other paths that belong to this place. */
  readonly also: readonly string[];
}

export const PLACES: readonly Place[] = [
  { href: "/dishes", name: "Dishes", far: false, also: [] },
  { href: "/recipes", name: "Recipes", far: false, also: [] },
  { href: "/cuts", name: "Cuts", far: false, also: ["/specs"] },
  { href: "/tests", name: "Tests", far: false, also: [] },
  { href: "/items", name: "Items", far: false, also: ["/quotes"] },
  { href: "/record", name: "Record", far: true, also: [] },
  { href: "/glossary", name: "Words", far: true, also: [] },
];
