/**
 * The slow twin of the engine: rows read from the book as exact fractions and computed by any calculator, only what is
 * asked for and what it rests on, with a stack of its own instead of recursion. In fractions it settles half-cent ties,
 * gives sensitivities and break-even prices; with 60 digits it judges the engine; in double-double it gives the
 * engine's own bits, which a test holds it to.
 */
import type { Book } from "@/lib/book";
import { type Ratio, ratio } from "@/lib/measure";
import type { Calculator } from "./calculator";
import type { Cascade } from "./cascade";
import { isIncomplete } from "./cost";
import { fractions } from "./fractions";
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

/** These nodes and everything they rest on, each once and after all that it rests on. Rows that count as 0 have no lines. */
export function rowsBelow(cascade: Cascade, refs: readonly NodeRef[]): readonly ExactRow[] {
  const rows: ExactRow[] = [];
  const opened = new Set<string>();
  const stack: { readonly row: ExactRow; at: number }[] = [];
  const open = (ref: NodeRef): void => {
    const key = keyOf(ref);
    if (opened.has(key)) return;
    opened.add(key);
    stack.push({ row: countedRow(cascade, ref), at: 0 });
  };
  for (const ref of refs) {
    open(ref);
    for (let top = stack.at(-1); top !== undefined; top = stack.at(-1)) {
      const line = top.row.lines[top.at];
      if (line === undefined) {
        stack.pop();
        rows.push(top.row);
        continue;
      }
      top.at += 1;
      open(line.of);
    }
  }
  return rows;
}

/** Rows computed by a calculator, by `keyOf`: each summed in the order of its lines and settled once, as the engine does. */
export function costRows<T>(calculator: Calculator<T>, rows: readonly ExactRow[]): ReadonlyMap<string, T> {
  const costs = new Map<string, T>();
  for (const row of rows) {
    let sum = calculator.fromRatio(row.constant.n, row.constant.d);
    for (const { of, coefficient } of row.lines) {
      sum = calculator.multiplyAdd(sum, calculator.fromRatio(coefficient.n, coefficient.d), costs.get(keyOf(of)) ?? calculator.zero);
    }
    costs.set(keyOf(row.ref), calculator.settle(sum));
  }
  return costs;
}

/** A row with credits and anything unknown counts as 0, as in the engine: nothing else would be a lower bound. */
function countedRow(cascade: Cascade, ref: NodeRef): ExactRow {
  const row = exactRow(cascade.book, ref);
  return row.credited && isIncomplete(cascade, ref) ? { ...row, lines: [], constant: ratio.ZERO } : row;
}

/** A node's cost as an exact fraction. Throws when the book has no such node. */
export function costExactly(cascade: Cascade, ref: NodeRef): Ratio {
  if (!cascade.book.shelves[ref.kind].has(ref.id)) throw new Error(`expected ${ref.kind} ${ref.id} in the book`);
  return costRows(fractions, rowsBelow(cascade, [ref])).get(keyOf(ref)) ?? ratio.ZERO;
}

export function keyOf(ref: NodeRef): string {
  return `${ref.kind}:${ref.id}`;
}
