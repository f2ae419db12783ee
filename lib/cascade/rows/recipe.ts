/**
 * A recipe's row: the cost of one batch is the sum of its lines, each an amount of an item as purchased, of a cut in
 * edible portion, of portions of a spec, or a share of another recipe's batch. Batch cost = Σ quantity × cost per
 * unit; a sub-recipe costs its batch cost over its measured batch yield. Source: BC Cook Articulation Committee, Basic
 * Kitchen and Food Service Management (2015). Yields are not divided again here.
 */
import type { Book, Recipe } from "@/lib/book";
import type { RowSink } from "../row";
import { sayLines } from "./amount";

export function sayRecipe(book: Book, recipe: Recipe, sink: RowSink): void {
  sayLines(book, recipe.lines, recipe.allowances, sink);
}
