/**
 * What is in a recipe or on a plate, by the labels of everything it is made of: the union over every leaf. A recipe's
 * line is followed down, a portion to its cut, a cut to the item at the root of its chain, a recipe within a recipe to
 * its own lines; of a dish the lines of every channel count. A leaf whose label nobody has read is named apart: unknown
 * is not none, so a thing is free of an allergen only where nothing under it is unknown. No authority: check the label.
 */
import { ALLERGENS, type Allergen } from "./allergens";
import type { Book } from "./book";
import type { Line } from "./recipe";

/** An item something is made of, or a name that the book does not hold any more. */
export interface AllergenLeaf {
  readonly id: string;
  readonly name: string;
}

/** One allergen and the items it comes through, by name. */
export interface AllergenFound {
  readonly allergen: Allergen;
  readonly through: readonly AllergenLeaf[];
}

export interface AllergensFound {
  /** In the order of the law's list. */
  readonly contains: readonly AllergenFound[];
  /** Traces that no label rules out, of allergens that nothing in it contains for certain. */
  readonly mayContain: readonly AllergenFound[];
  /** Leaves whose label nobody has read. */
  readonly unknown: readonly AllergenLeaf[];
  /** Every leaf it is made of. */
  readonly leaves: readonly AllergenLeaf[];
}

/** Of a recipe or a dish; of lines that the book holds nowhere, those of a form, by `allergensOfLines`. */
export function allergensOf(book: Book, of: { readonly kind: "recipe" | "dish"; readonly id: string }): AllergensFound {
  return allergensOfLines(book, book.shelves[of.kind].get(of.id)?.lines ?? []);
}

export function allergensOfLines(book: Book, lines: readonly Pick<Line, "of">[]): AllergensFound {
  const leaves = new Map<string, AllergenLeaf>();
  const leaf = (id: string, name: string): void => { leaves.set(id, { id, name }); };
  const seen = new Set<string>();
  // Walked with a list of its own: recipes may stand in one another deeper than calls may.
  const open: Line["of"][] = lines.map((line) => line.of);
  for (let of = open.pop(); of !== undefined; of = open.pop()) {
    const { kind, id } = of;
    // Each thing once: a book is free of cycles, and one that is not must not hang the page.
    if (seen.has(`${kind}:${id}`)) continue;
    seen.add(`${kind}:${id}`);
    const { shelves } = book;
    if (kind === "item") { leaf(id, shelves.item.get(id)?.name ?? id); continue; }
    const under = kind === "cut" ? oneOrNone(shelves.cut.get(id)?.of)
      : kind === "spec" ? oneOrNone(shelves.spec.has(id) ? { kind: "cut", id: shelves.spec.get(id)?.cutId ?? "" } : undefined)
        : shelves.recipe.get(id)?.lines.map((line) => line.of);
    if (under === undefined) leaf(id, id);
    else open.push(...under);
  }
  return unionOf(book, [...leaves.values()].sort(byName));
}

function oneOrNone(of: Line["of"] | undefined): readonly Line["of"][] | undefined {
  return of === undefined ? undefined : [of];
}

function unionOf(book: Book, leaves: readonly AllergenLeaf[]): AllergensFound {
  const said = leaves.map((leaf) => ({ leaf, label: book.shelves.item.get(leaf.id)?.allergens ?? null }));
  const found = (list: "contains" | "mayContain"): AllergenFound[] => ALLERGENS.flatMap((allergen) => {
    const through = said.filter(({ label }) => label?.[list].includes(allergen)).map(({ leaf }) => leaf);
    return through.length === 0 ? [] : [{ allergen, through }];
  });
  const contains = found("contains");
  const certain = new Set(contains.map(({ allergen }) => allergen));
  return {
    contains,
    mayContain: found("mayContain").filter(({ allergen }) => !certain.has(allergen)),
    unknown: said.filter(({ label }) => label === null).map(({ leaf }) => leaf),
    leaves,
  };
}

/** For one allergen: in it for certain, by traces, not known, or named by no label of what it is made of. */
export type AllergenState = "contains" | "may-contain" | "unknown" | "none-named";

export function allergenState(found: AllergensFound, allergen: Allergen): AllergenState {
  if (found.contains.some((one) => one.allergen === allergen)) return "contains";
  if (found.mayContain.some((one) => one.allergen === allergen)) return "may-contain";
  return found.unknown.length > 0 ? "unknown" : "none-named";
}

const byName = (a: AllergenLeaf, b: AllergenLeaf): number => (a.name === b.name ? (a.id < b.id ? -1 : 1) : a.name < b.name ? -1 : 1);
