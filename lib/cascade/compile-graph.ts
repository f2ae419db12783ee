/**
 * A book compiled: every node's row read once into typed columns, the order found, the graph laid out and its numbers
 * beside it. A book in which something is made of itself does not compile; the problem names the way round.
 */
import type { Book } from "@/lib/book";
import { type Checked, bad, good } from "@/lib/measure";
import { Figures } from "./figures";
import { Graph } from "./graph";
import { LineBuffer } from "./line-buffer";
import { nameOf } from "./names";
import type { NodeRef } from "./node";
import { NodeIndex } from "./node-index";
import { cycleAmong, levelsOf } from "./order";
import { sayCut } from "./rows/cut";
import { sayDish } from "./rows/dish";
import { reciprocalOfNet } from "./rows/food-cost";
import { sayItem } from "./rows/item";
import { sayRecipe } from "./rows/recipe";
import { saySpec } from "./rows/spec";

export interface Compiled {
  readonly graph: Graph;
  /** Lines and constants filled in; nothing costed yet. */
  readonly figures: Figures;
}

export function compileGraph(book: Book): Checked<Compiled> {
  const index = new NodeIndex(book);
  const lines = readLines(book, index);
  const sources = { nodes: index.count, start: lines.start, source: lines.source };
  const { level, settled } = levelsOf(sources);
  if (settled < index.count) {
    const around = cycleAmong(sources, level).map((node) => index.ref(node));
    return cycleProblem(book, around);
  }
  const graph = new Graph(index, sources, level);
  const figures = new Figures(graph);
  for (let row = 0; row < graph.rows; row += 1) layRow(graph, figures, row, lines, graph.nodeAt[row] as number);
  return good({ graph, figures });
}

/** Writes row `at` of a buffer into a row's place beside its lines. Whoever calls has seen that it fits. */
export function layRow(graph: Graph, figures: Figures, row: number, from: LineBuffer, at: number): void {
  let to = graph.lineStart[row] as number;
  const stop = from.start[at + 1] as number;
  for (let k = from.start[at] as number; k < stop; k += 1) {
    graph.source[to] = graph.rowOf[from.source[k] as number] as number;
    figures.coefficientHi[to] = from.coefficientHi[k] as number;
    figures.coefficientLo[to] = from.coefficientLo[k] as number;
    to += 1;
  }
  graph.lineEnd[row] = to;
  figures.lineStop[row] = to;
  figures.constantHi[row] = from.constantHi[at] as number;
  figures.constantLo[row] = from.constantLo[at] as number;
  figures.lacks[row] = from.lacks[at] as number;
  figures.credits[row] = from.credits[at] as number;
}

function readLines(book: Book, index: NodeIndex): LineBuffer {
  const { item, cut, spec, recipe, dish } = book.shelves;
  let expected = 2 * cut.size + spec.size + dish.size;
  for (const each of recipe.values()) expected += each.lines.length;
  for (const each of dish.values()) expected += each.lines.length;
  const lines = new LineBuffer(index, index.count, expected).from(book);
  for (const each of item.values()) {
    sayItem(book, each, lines);
    lines.closeRow();
  }
  for (const each of cut.values()) {
    sayCut(book, each, lines);
    lines.closeRow();
  }
  for (const each of spec.values()) {
    saySpec(book, each, lines);
    lines.closeRow();
  }
  for (const each of recipe.values()) {
    sayRecipe(book, each, lines);
    lines.closeRow();
  }
  for (const each of dish.values()) {
    sayDish(book, each, lines);
    lines.closeRow();
  }
  for (let node = index.firstDish; node < index.firstRatio; node += 1) {
    sayFoodCost(book, index, node, lines);
    lines.closeRow();
  }
  return lines;
}

/** The ratio's single line; a dish without a menu price keeps it with coefficient 0 and lacks its price. */
export function sayFoodCost(book: Book, index: NodeIndex, dish: number, lines: LineBuffer): void {
  const reciprocal = reciprocalOfNet(book, index.ids[dish] as string);
  if (reciprocal === null) {
    lines.lineOfNode(dish, 0n, 1n);
    lines.lacking();
  } else lines.lineOfNode(dish, reciprocal.n, reciprocal.d);
}

function cycleProblem(book: Book, around: readonly NodeRef[]): ReturnType<typeof bad> {
  const names = around.map((ref) => nameOf(book, ref));
  const [first] = names;
  const sentence = `${first} is made of itself: ${names.join(" → ")}. Take one of these lines out, or put a bought item in its place.`;
  return bad("", "cycle", sentence);
}

