/** The places of the book, in the order of the index. `far` ones stand behind "More" where the screen is narrow. */
export interface Place {
  readonly href: string;
  readonly name: string;
  readonly far: boolean;
  /** Other paths that belong to this place. */
  readonly also: readonly string[];
  /** Can be read without seeing any money. */
  readonly moneyless?: boolean;
  /** For the owners of the kitchen alone. */
  readonly forOwners?: boolean;
}

export const PLACES: readonly Place[] = [
  { href: "/find", name: "Find", far: true, also: [], moneyless: true },
  { href: "/dishes", name: "Dishes", far: false, also: ["/since", "/figure/dish"] },
  { href: "/recipes", name: "Recipes", far: false, also: ["/figure/recipe"] },
  { href: "/cuts", name: "Cuts", far: false, also: ["/specs", "/figure/cut", "/figure/spec"] },
  { href: "/tests", name: "Tests", far: false, also: [], moneyless: true },
  { href: "/items", name: "Items", far: false, also: ["/figure/item"] },
  { href: "/dealers", name: "Dealers", far: true, also: ["/lists", "/deliveries"] },
  { href: "/orders", name: "Orders", far: true, also: [] },
  { href: "/by-products", name: "By-products", far: true, also: [] },
  { href: "/allergens", name: "Allergens", far: true, also: [], moneyless: true },
  { href: "/tries", name: "Try-outs", far: true, also: [] },
  { href: "/record", name: "Record", far: true, also: [] },
  { href: "/house", name: "House rules", far: true, also: [] },
  { href: "/out", name: "Files", far: true, also: [] },
  { href: "/glossary", name: "Words", far: true, also: [], moneyless: true },
  { href: "/people", name: "People", far: true, also: [], forOwners: true },
  { href: "/programs", name: "Programs", far: true, also: [], forOwners: true },
];
