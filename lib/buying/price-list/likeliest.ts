/**
 * The items that a line of a list most likely is, by its words: whole words and their runs of three letters, each worth the
 * more the fewer items have it (inverse document frequency), compared by the cosine of the two vectors (G. Salton, M.
 * McGill, Introduction to Modern Information Retrieval, 1983). Runs of letters find "BF STRIPLN CHC" under "beef
 * striploin". An index from each term to the items that have it is made once for a larder; a line then only meets the
 * items with which it shares a term, never all of them. The figures here order offers and say nothing else.
 */
import { type Book, type Item, type Shelf, foldWords } from "@/lib/book";

export interface Likely {
  readonly itemId: string;
  /** 0 to 1. */
  readonly score: number;
}

export interface ItemIndex {
  readonly likeliest: (text: string, most: number) => readonly Likely[];
}

/** Below this an offer is none. */
const LEAST = 0.22;
/** A term that more of the larder has than this tells nothing apart, and would make every line meet every item. */
const COMMON = 0.08;
const WORD_WEIGHT = 1.6;
const NAME_FIRST = 1;

const made = new WeakMap<Shelf<Item>, ItemIndex>();

/** The index of what is bought; by-products of the house are nobody's to sell. Kept with the shelf. */
export function itemIndex({ shelves: { item: shelf } }: Book): ItemIndex {
  let index = made.get(shelf);
  if (index === undefined) made.set(shelf, index = indexOf([...shelf.values()].filter(({ transfer }) => transfer === null)));
  return index;
}

function indexOf(items: readonly Item[]): ItemIndex {
  // In the order of ids, so that the same larder always answers alike, whatever order its facts came in.
  const sorted = [...items].sort((a, b) => (a.id < b.id ? -1 : 1));
  const terms = new Map<string, number>();
  const counts: number[] = [];
  const termsOfItem = sorted.map((item) => {
    const own = new Map<number, number>();
    for (const [term, weight] of termsOf(`${item.name} ${item.specification}`)) {
      let number = terms.get(term);
      if (number === undefined) {
        number = counts.length;
        terms.set(term, number);
        counts.push(0);
      }
      counts[number] = (counts[number] ?? 0) + 1;
      own.set(number, weight);
    }
    return own;
  });
  const rare = Math.max(20, Math.ceil(sorted.length * COMMON));
  const worth = Float64Array.from(counts, (count) => (count > rare ? 0 : Math.log(1 + sorted.length / count)));
  const norm = Float64Array.from(termsOfItem, (own) => {
    let sum = 0;
    for (const [term, weight] of own) sum += (weight * (worth[term] ?? 0)) ** 2;
    return Math.sqrt(sum);
  });
  const places = Array.from(counts, (): number[] => []);
  const weights = Array.from(counts, (): number[] => []);
  termsOfItem.forEach((own, place) => {
    for (const [term, weight] of own) {
      const value = weight * (worth[term] ?? 0);
      if (value === 0) continue;
      places[term]?.push(place);
      weights[term]?.push(value);
    }
  });
  const scores = new Float64Array(sorted.length);

  return {
    likeliest: (text, most) => {
      const touched: number[] = [];
      let own = 0;
      for (const [term, weight] of termsOf(text)) {
        const number = terms.get(term);
        // A term that no item has still makes the line another thing; it counts as one that a single item has.
        const value = weight * (number === undefined ? Math.log(1 + sorted.length) * 0.5 : worth[number] ?? 0);
        own += value ** 2;
        if (number === undefined || value === 0) continue;
        const at = places[number] ?? [];
        const by = weights[number] ?? [];
        for (let one = 0; one < at.length; one += 1) {
          const place = at[one] as number;
          if (scores[place] === 0) touched.push(place);
          scores[place] = (scores[place] as number) + value * (by[one] as number);
        }
      }
      const best: Likely[] = [];
      for (const place of touched) {
        const score = (scores[place] as number) / Math.sqrt(own) / (norm[place] as number);
        scores[place] = 0;
        if (score < LEAST || (best.length === most && score <= (best[most - 1] as Likely).score)) continue;
        const item = sorted[place] as Item;
        let at = best.length;
        while (at > 0 && ahead({ itemId: item.id, score }, best[at - 1] as Likely)) at -= 1;
        best.splice(at, 0, { itemId: item.id, score });
        if (best.length > most) best.pop();
      }
      return best;
    },
  };
}

function ahead(one: Likely, other: Likely): boolean {
  return one.score > other.score || (one.score === other.score && one.itemId < other.itemId);
}

const NOT_TELLING = new Set(["of", "the", "and", "with", "in", "de", "la", "le", "du", "und", "mit", "con", "di", "e", "y", "et"]);

/** Words and runs of three letters of a text, each once; figures count as words. */
function termsOf(text: string): ReadonlyMap<string, number> {
  const found = new Map<string, number>();
  for (const word of foldWords(text).split(" ").slice(0, 40)) {
    if (word.length < 2 || NOT_TELLING.has(word)) continue;
    const whole = word.length > 40 ? word.slice(0, 40) : word;
    found.set(`=${singular(whole)}`, WORD_WEIGHT);
    if (/\d/.test(whole)) continue;
    const padded = ` ${whole} `;
    for (let at = 0; at + 3 <= padded.length; at += 1) {
      // How a word begins is what an abbreviation keeps.
      found.set(padded.slice(at, at + 3), at === 0 ? NAME_FIRST : 0.7);
    }
  }
  return found;
}

function singular(word: string): string {
  return word.length > 3 && word.endsWith("s") && !word.endsWith("ss") ? word.slice(0, -1) : word;
}
