/** Any node's row, said into a sink: which builder serves which kind. False when the book has no such node. */
import type { Book } from "@/lib/book";
import type { NodeKind } from "../node";
import type { RowSink } from "../row";
import { sayCut } from "./cut";
import { sayDish } from "./dish";
import { sayItem } from "./item";
import { sayRecipe } from "./recipe";
import { saySpec } from "./spec";

export function sayRow(book: Book, kind: NodeKind, id: string, sink: RowSink): boolean {
  switch (kind) {
    case "item": return say(book.shelves.item.get(id), (item) => sayItem(book, item, sink));
    case "cut": return say(book.shelves.cut.get(id), (cut) => sayCut(book, cut, sink));
    case "spec": return say(book.shelves.spec.get(id), (spec) => saySpec(book, spec, sink));
    case "recipe": return say(book.shelves.recipe.get(id), (recipe) => sayRecipe(book, recipe, sink));
    case "dish": return say(book.shelves.dish.get(id), (dish) => sayDish(book, dish, sink));
  }
}

function say<T>(fact: T | undefined, row: (fact: T) => void): boolean {
  if (fact === undefined) return false;
  row(fact);
  return true;
}
