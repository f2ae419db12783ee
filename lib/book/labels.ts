/**
 * What a line can take, by the name a person picks or types: items, cuts, portions and recipes under one list of labels.
 * Where two things share a name the label says which kind it is, and where even that is not enough, from whom or of what.
 */
import type { Book, Shelves } from "./book";
import { foldWords, foldedName } from "./find-anything";
import type { Line, LineKind } from "./recipe";

export interface Labelled {
  readonly label: string;
  readonly of: Line["of"];
}

const WORD: Readonly<Record<LineKind, string>> = { item: "as purchased", cut: "cut", spec: "portion", recipe: "recipe" };
const KINDS = Object.keys(WORD) as readonly LineKind[];

interface Index {
  readonly all: readonly Labelled[];
  readonly byLabel: ReadonlyMap<string, Line["of"]>;
  readonly byRef: ReadonlyMap<string, string>;
}

const made = new WeakMap<Shelves, Index>();

function indexOf(book: Book): Index {
  const known = made.get(book.shelves);
  if (known) return known;
  const named: { readonly name: string; readonly of: Line["of"] }[] = KINDS.flatMap((kind) => [...book.shelves[kind].values()].map((fact) => ({ name: fact.name, of: { kind, id: fact.id } })));
  const times = new Map<string, number>();
  const count = (text: string): void => { times.set(fold(text), (times.get(fold(text)) ?? 0) + 1); };
  for (const { name, of } of named) {
    count(name);
    count(`${name} (${WORD[of.kind]})`);
  }
  const all = named.map(({ name, of }): Labelled => {
    if (times.get(fold(name)) === 1) return { label: name, of };
    const said = `${name} (${WORD[of.kind]})`;
    return { label: times.get(fold(said)) === 1 ? said : `${said} ${of.id}`, of };
  }).sort((a, b) => (a.label < b.label ? -1 : 1));
  const index: Index = {
    all, byLabel: new Map(all.map(({ label, of }) => [fold(label), of])), byRef: new Map(all.map(({ label, of }) => [`${of.kind}:${of.id}`, label])),
  };
  made.set(book.shelves, index);
  return index;
}

function fold(text: string): string {
  return text.normalize("NFKC").trim().replace(/\s+/g, " ").toLowerCase();
}

/** The label of one thing; its id where it is not in the book. */
export function labelOf(book: Book, of: Line["of"]): string {
  return indexOf(book).byRef.get(`${of.kind}:${of.id}`) ?? of.id;
}

/** What a typed label names; null where nothing has that name. */
export function findLabel(book: Book, text: string): Line["of"] | null {
  return indexOf(book).byLabel.get(fold(text)) ?? null;
}

/** Labels that hold every word of the text, at most three: what may have been meant. */
export function nearLabels(book: Book, text: string): readonly string[] {
  const words = fold(text).split(" ").filter((word) => word.length > 1).slice(0, 8);
  if (words.length === 0) return [];
  const found: string[] = [];
  for (const { label } of indexOf(book).all) {
    const folded = fold(label);
    if (!words.every((word) => folded.includes(word))) continue;
    found.push(label);
    if (found.length === 3) break;
  }
  return found;
}

const folded = new WeakMap<Shelves, ReadonlyMap<string, readonly Line["of"][]>>();

/** Everything that has this name, whatever the case, the accents and the marks between its words. */
export function namedSo(book: Book, name: string): readonly Line["of"][] {
  let known = folded.get(book.shelves);
  if (known === undefined) {
    const made = new Map<string, Line["of"][]>();
    for (const kind of KINDS) {
      for (const fact of book.shelves[kind].values()) {
        const words = foldedName(fact);
        if (words === "") continue;
        const same = made.get(words);
        if (same === undefined) made.set(words, [{ kind, id: fact.id }]);
        else same.push({ kind, id: fact.id });
      }
    }
    folded.set(book.shelves, (known = made));
  }
  return known.get(foldWords(name)) ?? [];
}
