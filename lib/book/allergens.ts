/**
 * Allergens as a label declares them: the fourteen of EU Regulation 1169/2011, Annex II, which hold the nine major
 * food allergens of US law (FALCPA 2004, FASTER Act 2021). What is in a recipe or a dish is the union over everything it
 * is made of; what nobody has looked up yet is unknown, and unknown is not none. Trimledger is no authority on
 * allergens: check the label.
 */

export const ALLERGENS = [
  "milk", "egg", "fish", "crustaceans", "molluscs", "tree nuts", "peanut", "gluten", "soy", "sesame", "celery", "mustard", "lupin", "sulphites",
] as const;
export type Allergen = (typeof ALLERGENS)[number];

/** What one label says. */
export interface Allergens {
  readonly contains: readonly Allergen[];
  /** "May contain": traces that the maker does not rule out, kept apart. */
  readonly mayContain: readonly Allergen[];
  /** Where it stands: "label of the 5 lb tub", "the dealer's sheet of 3 May". */
  readonly source: string;
  readonly on: string;
}
