/** What rests directly on a node: the cuts made from it or credited by it, its portions, the recipes and dishes with a line of it. */
import type { Book } from "@/lib/book";
import type { NodeRef } from "./node";

export interface User {
  readonly ref: NodeRef;
  readonly name: string;
}

/** In the order of the chain, each once; by name within a kind. */
export function usersOf(book: Book, of: NodeRef): readonly User[] {
  const { cut, spec, test, recipe, dish } = book.shelves;
  const found: User[] = [];
  const worth = new Set<string>();
  if (of.kind === "item" || of.kind === "recipe") {
    for (const one of test.values()) if (one.parts.some((part) => part.value !== null && part.value.kind === of.kind && part.value.id === of.id)) worth.add(one.id);
  }
  const add = (kind: NodeRef["kind"], id: string, name: string): void => { found.push({ ref: { kind, id }, name }); };
  for (const one of cut.values()) if ((one.of.kind === of.kind && one.of.id === of.id) || one.testIds.some((id) => worth.has(id))) add("cut", one.id, one.name);
  if (of.kind === "cut") for (const one of spec.values()) if (one.cutId === of.id) add("spec", one.id, one.name);
  const takes = (lines: readonly { readonly of: { readonly kind: string; readonly id: string } }[]): boolean => lines.some((line) => line.of.kind === of.kind && line.of.id === of.id);
  for (const one of recipe.values()) if (takes(one.lines)) add("recipe", one.id, one.name);
  for (const one of dish.values()) if (takes(one.lines)) add("dish", one.id, one.name);
  const place = ["item", "cut", "spec", "recipe", "dish"];
  return found.sort((a, b) => place.indexOf(a.ref.kind) - place.indexOf(b.ref.kind) || (a.name < b.name ? -1 : 1));
}
