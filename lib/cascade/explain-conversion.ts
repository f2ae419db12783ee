/**
 * Which recorded figures a conversion went through. Weight and volume meet through the item's density, count and weight
 * through what one weighs, count and volume through both; a cut has those of the item at the root of its chain.
 */
import type { Book } from "@/lib/book";
import type { Kind } from "@/lib/measure";
import { rootItem } from "./explain-sources";
import type { ConversionFigure } from "./explain-types";
import type { NodeRef } from "./node";

/** The figures that a conversion of one kind of quantity into another takes, in the order they are applied. */
export function conversionFigures(book: Book, source: NodeRef, from: Kind, to: Kind): ConversionFigure[] {
  const root = from === to ? null : rootItem(book, source);
  const item = root ? book.shelves.item.get(root.id) : undefined;
  if (!item) return [];
  const density: ConversionFigure[] = item.density === null ? [] : [{
    what: "density", itemId: item.id, figure: { gramsPerMl: item.density.gramsPerMl }, source: item.density.source, on: item.density.on,
  }];
  const eachWeight: ConversionFigure[] = item.eachWeight === null ? [] : [{
    what: "each-weight", itemId: item.id, figure: { weight: item.eachWeight.weight }, source: item.eachWeight.source, on: item.eachWeight.on,
  }];
  if (from === "count") return to === "volume" ? [...eachWeight, ...density] : eachWeight;
  if (to === "count") return from === "volume" ? [...density, ...eachWeight] : eachWeight;
  return density;
}
