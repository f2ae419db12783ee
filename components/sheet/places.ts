/** The places of the book, in the order of the index. `far` ones stand behind "More" where the screen is narrow. */
export interface Place {
  readonly href: string;
  readonly name: string;
  readonly far: boolean;
  /** Other paths that belong to this place. */
  readonly also: readonly string[];
}

export const PLACES: readonly Place[] = [
  { href: "/dishes", name: "Dishes", far: false, also: ["/figure/dish"] },
  { href: "/recipes", name: "Recipes", far: false, also: ["/figure/recipe"] },
  { href: "/cuts", name: "Cuts", far: false, also: ["/specs", "/figure/cut", "/figure/spec"] },
  { href: "/tests", name: "Tests", far: false, also: [] },
  { href: "/items", name: "Items", far: false, also: ["/figure/item"] },
  { href: "/record", name: "Record", far: true, also: [] },
  { href: "/glossary", name: "Words", far: true, also: [] },
];
