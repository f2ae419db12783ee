/**
 * The exact twin of the engine: rows read from the book and computed in fractions, nothing rounded. It settles half-cent
 * ties, gives sensitivities and break-even prices, and proves the engine. Only what a node rests on is computed, with a
 * stack of its own instead of recursion.
 */
import type { Book } from "@/lib/book";
import { type Ratio, ratio } from "@/lib/measure";
import type { Cascade } from "./cascade";
import { isIncomplete } from "./cost";
import type { NodeKind, NodeRef } from "./node";
import { sayRow } from "./rows/row-of";

export interface ExactLine {
  readonly of: NodeRef;
  readonly coefficient: Ratio;
}

export interface ExactRow {
  readonly ref: NodeRef;
  readonly lines: readonly ExactLine[];
  readonly constant: Ratio;
  /** Something in it is credited, known or not. */
  readonly credited: boolean;
}

/** A node's row in fractions, lines to things that are not in the book left out. */
export function exactRow(book: Book, ref: NodeRef): ExactRow {
  const lines: ExactLine[] = [];
  let constant = ratio.ZERO;
  let credited = false;
  const add = (kind: NodeKind, id: string, n: bigint, d: bigint): void => {
    if (book.shelves[kind].has(id)) lines.push({ of: { kind, id }, coefficient: ratio.of(n, d) });
  };
  const money = (n: bigint, d: bigint): void => { constant = ratio.add(constant, ratio.of(n, d)); };
  sayRow(book, ref.kind, ref.id, {
    line: (kind, id, n, d) => add(kind, id, BigInt(n), BigInt(d)),
    bigLine: add,
    money: (n, d) => money(BigInt(n), BigInt(d)),
    bigMoney: money,
    lacking: () => undefined,
    lackingCredit: () => { credited = true; },
  });
  credited ||= ratio.sign(constant) < 0 || lines.some((line) => ratio.sign(line.coefficient) < 0);
  return { ref, lines, constant, credited };
}

/** Everything a node rests on and itself, each after all that it rests on. Rows that count as 0 have no lines. */
export function rowsBelow(cascade: Cascade, ref: NodeRef): readonly ExactRow[] {
  const rows: ExactRow[] = [];
  const done = new Set<string>();
  const stack: { readonly row: ExactRow; at: number }[] = [{ row: countedRow(cascade, ref), at: 0 }];
  const opened = new Set<string>([keyOf(ref)]);
  for (let top = stack.at(-1); top !== undefined; top = stack.at(-1)) {
    const line = top.row.lines[top.at];
    if (line === undefined) {
      stack.pop();
      done.add(keyOf(top.row.ref));
      rows.push(top.row);
      continue;
    }
    top.at += 1;
    const key = keyOf(line.of);
    if (opened.has(key)) continue;
    opened.add(key);
    stack.push({ row: countedRow(cascade, line.of), at: 0 });
  }
  return rows;
}

/** A row with credits and anything unknown counts as 0, as in the engine: nothing else would be a lower bound. */
function countedRow(cascade: Cascade, ref: NodeRef): ExactRow {
  const row = exactRow(cascade.book, ref);
  return row.credited && isIncomplete(cascade, ref) ? { ...row, lines: [], constant: ratio.ZERO } : row;
}

/** A node's cost as an exact fraction. Throws when the book has no such node. */
export function costExactly(cascade: Cascade, ref: NodeRef): Ratio {
  if (!cascade.book.shelves[ref.kind].has(ref.id)) throw new Error(`expected ${ref.kind} ${ref.id} in the book`);
  const costs = new Map<string, Ratio>();
  for (const row of rowsBelow(cascade, ref)) {
    let cost = row.constant;
    for (const line of row.lines) cost = ratio.add(cost, ratio.mul(line.coefficient, costs.get(keyOf(line.of)) ?? ratio.ZERO));
    costs.set(keyOf(row.ref), cost);
  }
  return costs.get(keyOf(ref)) ?? ratio.ZERO;
}

export function keyOf(ref: NodeRef): string {
  return `${ref.kind}:${ref.id}`;
}
