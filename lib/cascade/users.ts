/**
 * What rests directly on a node: the by-products of the house that take its place, the cuts made from it or credited by
 * it, its portions, the recipes and dishes with a line of it. Each shelf of a book is looked through once and remembered
 * with what it takes, since a list asks for every row of it; a change of prices leaves these shelves, and so what is
 * remembered, as they are.
 */
import type { Book, Shelves } from "@/lib/book";
import { keyOf } from "./exact";
import type { NodeRef } from "./node";

export interface User {
  readonly ref: NodeRef;
  readonly name: string;
}

/** In the order of the chain, each once; by name within a kind. */
export function usersOf(book: Book, of: NodeRef): readonly User[] {
  const { shelves } = book;
  const key = keyOf(of);
  const found: User[] = [];
  const add = (kind: NodeRef["kind"], ids: Iterable<string>): void => {
    const users = [...ids].map((id): User => ({ ref: { kind, id }, name: shelves[kind].get(id)?.name ?? id }));
    found.push(...users.sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0)));
  };
  add("item", itemsOf(shelves.item).get(key) ?? []);
  const cuts = new Set(cutsOf(shelves.cut).get(key));
  for (const test of testsCredited(shelves.test).get(key) ?? []) for (const cut of cutsOf(shelves.cut).get(`test:${test}`) ?? []) cuts.add(cut);
  add("cut", cuts);
  add("spec", specsOf(shelves.spec).get(key) ?? []);
  add("recipe", recipesOf(shelves.recipe).get(key) ?? []);
  add("dish", dishesOf(shelves.dish).get(key) ?? []);
  return found;
}

/** Who takes what: by the key of what is taken, the ids of who takes it, in the order of the shelf. */
type Takers = ReadonlyMap<string, readonly string[]>;

const itemsOf = remembered((shelf: Shelves["item"]) => [...shelf.values()].flatMap(({ id, transfer }) => (transfer?.price.kind === "item" ? [[id, [`item:${transfer.price.itemId}`]] as const] : [])));
const cutsOf = remembered((shelf: Shelves["cut"]) => [...shelf.values()].map((cut) => [cut.id, [keyOf(cut.of), ...cut.testIds.map((id) => `test:${id}`)]] as const));
const testsCredited = remembered((shelf: Shelves["test"]) => [...shelf.values()].map((test) => [test.id, test.parts.flatMap(({ value }) => (value === null || value.kind === "typed" ? [] : [keyOf(value)]))] as const));
const specsOf = remembered((shelf: Shelves["spec"]) => [...shelf.values()].map((spec) => [spec.id, [`cut:${spec.cutId}`]] as const));
const recipesOf = remembered((shelf: Shelves["recipe"]) => [...shelf.values()].map((recipe) => [recipe.id, recipe.lines.map((line) => keyOf(line.of))] as const));
const dishesOf = remembered((shelf: Shelves["dish"]) => [...shelf.values()].map((dish) => [dish.id, dish.lines.map((line) => keyOf(line.of))] as const));

function remembered<Shelf extends object>(read: (shelf: Shelf) => readonly (readonly [id: string, takes: readonly string[]])[]): (shelf: Shelf) => Takers {
  const known = new WeakMap<Shelf, Takers>();
  return (shelf) => {
    let takers = known.get(shelf);
    if (takers === undefined) known.set(shelf, takers = turned(read(shelf)));
    return takers;
  };
}

function turned(pairs: readonly (readonly [id: string, takes: readonly string[]])[]): Takers {
  const takers = new Map<string, string[]>();
  for (const [id, takes] of pairs) {
    for (const key of new Set(takes)) {
      const known = takers.get(key);
      if (known === undefined) takers.set(key, [id]);
      else known.push(id);
    }
  }
  return takers;
}
