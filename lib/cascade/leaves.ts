/** The leaves of a node: everything bought that its cost rests on, through all that it is made of. */
import type { Cascade } from "./cascade";
import { rowsBelow } from "./exact";
import { nameOf } from "./names";
import type { NodeRef } from "./node";

export interface Leaf {
  readonly ref: NodeRef;
  readonly name: string;
}

/**
 * Each item once, in the order in which they are met from the node down. A row that counts as 0, having credits and
 * something unknown, rests on nothing. Empty when the book has no such node.
 */
export function leavesOf(cascade: Cascade, ref: NodeRef): readonly Leaf[] {
  if (!cascade.book.shelves[ref.kind].has(ref.id)) return [];
  return rowsBelow(cascade, [ref])
    .filter((row) => row.ref.kind === "item")
    .map((row) => ({ ref: row.ref, name: nameOf(cascade.book, row.ref) }));
}
