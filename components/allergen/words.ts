/** How allergens are told: by their own names, and in the matrix by one letter with its word. */
import type { Allergen, AllergenState } from "@/lib/book";

/** The fourteen as a heading says them. */
export const ALLERGEN_WORDS: Readonly<Record<Allergen, string>> = {
  milk: "Milk", egg: "Egg", fish: "Fish", crustaceans: "Crustaceans", molluscs: "Molluscs", "tree nuts": "Tree nuts", peanut: "Peanut", gluten: "Gluten", soy: "Soy",
  sesame: "Sesame", celery: "Celery", mustard: "Mustard", lupin: "Lupin", sulphites: "Sulphites",
};

/** What a cell of the matrix says; nothing where no label names it. */
export const STATE_LETTERS: Readonly<Record<AllergenState, string>> = { contains: "C", "may-contain": "t", unknown: "?", "none-named": "" };
export const STATE_WORDS: Readonly<Record<AllergenState, string>> = { contains: "contains", "may-contain": "may contain traces", unknown: "not known", "none-named": "none named" };

export const CHECK_THE_LABEL = "Check the label of every delivery: makers change what goes in, and this page only knows what somebody wrote down from a label. Ask your food authority what a guest has to be told.";
