/**
 * What a node costs, and what is missing where that is only a lower bound. The amount is read off the engine's columns;
 * what is missing is looked for only when somebody asks, by walking down the rows that are not complete. A whole cost may
 * still rest on a borrowed yield, and then says so (borrowed.ts).
 */
import { BASE_UNIT } from "@/lib/measure";
import { type Book, cutKind } from "@/lib/book";
import { borrowedBelow } from "./borrowed";
import type { Cascade } from "./cascade";
import { CARRIED_DIGITS, decimalOf } from "./double-double";
import { nameOf } from "./names";
import type { Lack, Missing, NodeCost, NodeKind, NodeRef, Per } from "./node";
import { sayRow } from "./rows/row-of";

/** null: the book has no such node. */
export function costOf(cascade: Cascade, ref: NodeRef): NodeCost | null {
  const node = cascade.book.shelves[ref.kind].has(ref.id) ? cascade.numberOf(ref) : -1;
  if (node < 0) return null;
  const row = cascade.rowAt(cascade.engine.graph.rowOf[node] as number);
  return {
    amount: decimalOf(row.hi, row.lo).toSignificantDigits(CARRIED_DIGITS), per: perOf(cascade.book, ref),
    missing: row.incomplete ? missingBelow(cascade, ref) : [], borrowed: borrowedBelow(cascade.book, ref),
  };
}

export function perOf(book: Book, ref: NodeRef): Per {
  switch (ref.kind) {
    case "item": return BASE_UNIT[book.shelves.item.get(ref.id)?.kind ?? "mass"];
    case "cut": return BASE_UNIT[cutKind(book, ref.id) ?? "mass"];
    case "spec": return "portion";
    case "recipe": return "batch";
    case "dish": return "plate";
  }
}

/** Whether something that the node rests on is missing. */
export function isIncomplete(cascade: Cascade, ref: NodeRef): boolean {
  const node = cascade.numberOf(ref);
  return node < 0 || cascade.rowAt(cascade.engine.graph.rowOf[node] as number).incomplete;
}

/** The leaves that keep a cost from being whole, each once, in the order in which they are met from the node down. */
export function missingBelow(cascade: Cascade, ref: NodeRef): readonly Missing[] {
  const { book } = cascade;
  const found = new Map<string, Missing>();
  const note = (what: Lack, kind: NodeKind, id: string): void => {
    const key = `${what} ${kind}:${id}`;
    const of = { kind, id };
    if (!found.has(key)) found.set(key, { what, of, name: nameOf(book, of) });
  };
  const seen = new Set<string>();
  const waiting: NodeRef[] = [ref];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const key = `${next.kind}:${next.id}`;
    if (seen.has(key)) continue;
    seen.add(key);
    const below: NodeRef[] = [];
    const line = (kind: NodeKind, id: string): void => {
      if (!book.shelves[kind].has(id)) note("fact", kind, id);
      else if (isIncomplete(cascade, { kind, id })) below.push({ kind, id });
    };
    sayRow(book, next.kind, next.id, { line, bigLine: line, money: ignore, bigMoney: ignore, lacking: note, lackingCredit: note });
    // The stack gives back the last first: the first line's leaves are told first.
    waiting.push(...below.reverse());
  }
  return [...found.values()];
}

function ignore(): void {
  // Money by itself lacks nothing.
}
