/**
 * A change laid over a book: what it does to every cost. Rows are read anew where the facts changed and costed upwards
 * from there; where the graph has another shape the book is compiled again, with the same digits. The cascade that the
 * change is laid over keeps its own figures either way.
 */
import { type Book, type Change, withChanges } from "@/lib/book";
import { type Checked, good } from "@/lib/measure";
import { affectedNodes } from "./affected";
import { type Cascade, compile } from "./cascade";
import { costOf } from "./cost";
import { nameOf } from "./names";
import { NODE_KINDS, type Moved, type NodeKind, type NodeRef, type Ripple } from "./node";

/** Lays changes over a book for good: the new cascade is the one to go on from. */
export function advance(cascade: Cascade, changes: readonly Change[]): Checked<{ readonly ripple: Ripple; readonly cascade: Cascade }> {
  const laid = lay(cascade, changes);
  return laid.ok ? good({ ripple: laid.value.ripple, cascade: laid.value.after }) : laid;
}

/** Lays pretended changes over a book; the engine goes back to the given cascade, which others will read next. */
export function tryOut(cascade: Cascade, changes: readonly Change[]): Checked<{ readonly ripple: Ripple; readonly after: Cascade }> {
  const laid = lay(cascade, changes);
  if (laid.ok) cascade.becomeRoot();
  return laid;
}

function lay(before: Cascade, changes: readonly Change[]): Checked<{ readonly ripple: Ripple; readonly after: Cascade }> {
  const book = withChanges(before.book, changes);
  const nodes = affectedNodes(before, book, changes);
  const followed = nodes === null ? null : before.following(book, nodes);
  if (followed !== null) {
    const { index } = before.engine.graph;
    const moved: NodeRef[] = [];
    for (const row of followed.rows) {
      const node = before.engine.graph.nodeAt[row] as number;
      // The food-cost ratios, which stand last, are not costs.
      if (node < index.firstRatio) moved.push(index.ref(node));
    }
    return good({ ripple: rippleOf(before, followed.cascade, moved), after: followed.cascade });
  }
  const compiled = compile(book);
  if (!compiled.ok) return compiled;
  return good({ ripple: rippleOf(before, compiled.value, differing(before, compiled.value)), after: compiled.value });
}

/** In the order of the chain, and within a kind in the order of costing, as the nodes come. */
function rippleOf(before: Cascade, after: Cascade, refs: readonly NodeRef[]): Ripple {
  const byKind = new Map<NodeKind, Moved[]>(NODE_KINDS.map((kind) => [kind, []]));
  for (const ref of refs) {
    const book: Book = after.book.shelves[ref.kind].has(ref.id) ? after.book : before.book;
    byKind.get(ref.kind)?.push({ ref, name: nameOf(book, ref), before: costOf(before, ref), after: costOf(after, ref) });
  }
  return { moved: [...byKind.values()].flat() };
}

/** The nodes that two graphs cost differently, or that only one of them has. */
function differing(before: Cascade, after: Cascade): readonly NodeRef[] {
  const refs: NodeRef[] = [];
  const { graph } = after.engine;
  for (let row = 0; row < graph.rows; row += 1) {
    const node = graph.nodeAt[row] as number;
    if (node >= graph.index.firstRatio) continue;
    const ref = graph.index.ref(node);
    const old = before.numberOf(ref);
    if (old < 0) {
      refs.push(ref);
      continue;
    }
    const was = before.rowAt(before.engine.graph.rowOf[old] as number);
    const is = after.rowAt(row);
    if (was.hi !== is.hi || was.lo !== is.lo || was.incomplete !== is.incomplete) refs.push(ref);
  }
  for (const kind of NODE_KINDS) for (const id of before.book.shelves[kind].keys()) if (!after.book.shelves[kind].has(id)) refs.push({ kind, id });
  return refs;
}
