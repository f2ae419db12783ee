/** A node of a cascade opened to its arithmetic: `explainFrom` with the cascade as the source of costs. */
import type { Cascade } from "./cascade";
import { costOf } from "./cost";
import { explainFrom } from "./explain";
import type { Explanation } from "./explain-types";
import type { NodeRef } from "./node";

/** null: the book has no such node. */
export function explain(cascade: Cascade, ref: NodeRef): Explanation | null {
  return explainFrom({ book: cascade.book, costOf: (source) => costOf(cascade, source) }, ref);
}
