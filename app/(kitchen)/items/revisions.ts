/** Recorded states of a fact as the history of prices takes them: a history holds facts of its own kind alone. */
import type { FactOf, Quote } from "@/lib/book";
import type { Dated } from "@/lib/buying";
import type { Revision } from "@/lib/store";

export function asQuotes(revisions: readonly Revision[]): readonly Dated<Quote>[] {
  return revisions as readonly (Revision & { readonly fact: Quote | null })[];
}

export function asKitchens(revisions: readonly Revision[]): readonly Dated<FactOf["kitchen"]>[] {
  return revisions as readonly (Revision & { readonly fact: FactOf["kitchen"] | null })[];
}
