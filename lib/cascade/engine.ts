/**
 * A graph that costs itself: a full sweep once, then rows read anew from a changed book and everything above them
 * that moves. Rows are patched in place while their shape fits: every source below them, and room for their lines. What
 * does not fit is refused untouched, and the caller compiles again, with the same digits. Each row is
 * always costed whole, in its own fixed order, from the digits of its sources; so the result does not depend on
 * which changes came, nor on their order.
 */
import type { Book } from "@/lib/book";
import { type Checked, good } from "@/lib/measure";
import { compileGraph, layRow, sayFoodCost } from "./compile-graph";
import type { Delta } from "./delta";
import { DirtySet } from "./dirty-set";
import type { Figures } from "./figures";
import type { Graph } from "./graph";
import { LineBuffer } from "./line-buffer";
import { NODE_KINDS } from "./node";
import { ITEM, RATIO } from "./node-index";
import { sayRow } from "./rows/row-of";
import { sweep } from "./sweep";

/** Above one in this many of the items a full sweep costs less than finding out what is dirty. */
const SWEEP_FROM = 16;
const STAGE_ROOM = 64;

/** How the row of a node is said; the engine's own way is to read it from the book. */
export type Say = (node: number, into: LineBuffer) => void;

export class Engine {
  readonly graph: Graph;
  readonly figures: Figures;
  readonly #dirty: DirtySet;
  readonly #unsettled: DirtySet;
  #stage: LineBuffer;
  #moved: Int32Array;
  #oldHi: Float64Array;
  #oldLo: Float64Array;

  private constructor(graph: Graph, figures: Figures) {
    this.graph = graph;
    this.figures = figures;
    this.#dirty = new DirtySet(graph.rows);
    this.#unsettled = new DirtySet(graph.rows);
    this.#stage = new LineBuffer(graph.index, STAGE_ROOM, STAGE_ROOM);
    this.#moved = new Int32Array(STAGE_ROOM);
    this.#oldHi = new Float64Array(STAGE_ROOM);
    this.#oldLo = new Float64Array(STAGE_ROOM);
    this.#settleAll();
    sweep(figures, 0, graph.rows);
  }

  static of(book: Book): Checked<Engine> {
    const compiled = compileGraph(book);
    return compiled.ok ? good(new Engine(compiled.value.graph, compiled.value.figures)) : compiled;
  }

  /** Costs every row again. */
  costAll(): void {
    sweep(this.figures, 0, this.graph.rows);
  }

  /**
   * Reads the rows of these nodes anew from the book and costs what that moves. Returns the rows that differ with what
   * they were before, or null when a row does not fit, in which case nothing has been touched.
   */
  apply(book: Book, nodes: readonly number[]): Delta | null {
    return this.applyAs(nodes, (node, into) => this.#read(book, node, into));
  }

  /** As `apply`, rows said by the caller. */
  applyAs(nodes: readonly number[], say: Say): Delta | null {
    if (!this.#readStage(nodes, say)) return null;
    const { graph, figures } = this;
    let settled = true;
    let items = 0;
    for (let at = 0; at < nodes.length; at += 1) {
      const node = nodes[at] as number;
      const row = graph.rowOf[node] as number;
      if (figures.incomplete[row] !== 0 || this.#stage.lacks[at] !== 0) settled = false;
      const lines = this.#stage.linesOf(at);
      if (graph.placesFor(row, lines) > 0) graph.move(row, lines);
      layRow(graph, figures, row, this.#stage, at);
      if (graph.index.kinds[node] === ITEM) items += 1;
      // What is bought rests on nothing; a by-product of the house may.
      if (graph.index.kinds[node] !== ITEM || lines > 0) {
        this.#noteUsers(row);
        // New lines may rest on something incomplete.
        settled = false;
      }
    }
    const changed = settled ? NONE : this.#settle(nodes, say);
    if (items * SWEEP_FROM > graph.index.items) return this.#sweepEverything(changed);
    for (const node of nodes) this.#dirty.add(graph.rowOf[node] as number);
    return this.#sweepDirty(changed);
  }

  #read(book: Book, node: number, into: LineBuffer): void {
    const { index } = this.graph;
    into.from(book);
    const kind = index.kinds[node] as number;
    if (kind === RATIO) sayFoodCost(book, index, node - index.firstRatio + index.firstDish, into);
    else sayRow(book, NODE_KINDS[kind] ?? "dish", index.ids[node] as string, into);
  }

  #readStage(nodes: readonly number[], say: Say): boolean {
    if (this.#stage.room < nodes.length) this.#stage = new LineBuffer(this.graph.index, nodes.length * 2, nodes.length * 8);
    const stage = this.#stage;
    stage.reset();
    for (const node of nodes) {
      say(node, stage);
      stage.closeRow();
    }
    const { graph } = this;
    let places = 0;
    for (let at = 0; at < nodes.length; at += 1) {
      const row = graph.rowOf[nodes[at] as number] as number;
      const stop = stage.start[at + 1] as number;
      places += graph.placesFor(row, stage.linesOf(at));
      if (places > graph.spare) return false;
      for (let k = stage.start[at] as number; k < stop; k += 1) if ((graph.rowOf[stage.source[k] as number] as number) >= row) return false;
    }
    return true;
  }

  #noteUsers(row: number): void {
    const { graph } = this;
    const stop = graph.lineEnd[row] as number;
    for (let k = graph.lineStart[row] as number; k < stop; k += 1) graph.addUser(graph.source[k] as number, row);
  }

  #isIncomplete(row: number): 0 | 1 {
    const { graph, figures } = this;
    if (figures.lacks[row] !== 0) return 1;
    const stop = graph.lineEnd[row] as number;
    for (let k = graph.lineStart[row] as number; k < stop; k += 1) if (figures.incomplete[graph.source[k] as number] !== 0) return 1;
    return 0;
  }

  /** A row with credits and something unknown counts as 0: its sweep stops before it begins. */
  #silence(row: number): void {
    const { figures } = this;
    figures.lineStop[row] = figures.lineStart[row] as number;
    figures.constantHi[row] = 0;
    figures.constantLo[row] = 0;
  }

  #settleAll(): void {
    const { graph, figures } = this;
    for (let row = 0; row < graph.rows; row += 1) {
      figures.incomplete[row] = this.#isIncomplete(row);
      if (figures.incomplete[row] !== 0 && figures.credits[row] !== 0) this.#silence(row);
    }
  }

  /** Finds out what is known and unknown above the rows of these nodes; returns the rows for which that changed, ascending. */
  #settle(nodes: readonly number[], say: Say): readonly number[] {
    const { graph, figures } = this;
    const changed: number[] = [];
    for (const node of nodes) this.#unsettled.add(graph.rowOf[node] as number);
    for (let row = this.#unsettled.takeLowest(); row >= 0; row = this.#unsettled.takeLowest()) {
      const now = this.#isIncomplete(row);
      const differs = now !== figures.incomplete[row];
      if (figures.credits[row] !== 0) {
        if (now !== 0) this.#silence(row);
        else if (differs) this.#restore(row, say);
        this.#dirty.add(row);
      }
      if (!differs) continue;
      figures.incomplete[row] = now;
      changed.push(row);
      this.#markUsers(row, this.#unsettled);
    }
    return changed;
  }

  /** Gives a silenced row its lines and constant back, which are read anew. */
  #restore(row: number, say: Say): void {
    const single = new LineBuffer(this.graph.index, 1, 8);
    say(this.graph.nodeAt[row] as number, single);
    single.closeRow();
    layRow(this.graph, this.figures, row, single, 0);
  }

  #markUsers(row: number, set: DirtySet): void {
    const { userStart, userEnd, users, laterUsers } = this.graph;
    const stop = userEnd[row] as number;
    for (let k = userStart[row] as number; k < stop; k += 1) set.add(users[k] as number);
    if (laterUsers.size > 0) for (const user of laterUsers.get(row) ?? []) set.add(user);
  }

  #sweepDirty(changed: readonly number[]): Delta {
    const { graph, figures } = this;
    const { hi, lo } = figures;
    const dirty = this.#dirty;
    let count = 0;
    for (let row = dirty.takeLowest(); row >= 0; row = dirty.takeLowest()) {
      const oldHi = hi[row] as number;
      const oldLo = lo[row] as number;
      sweep(figures, row, row + 1);
      if (hi[row] === oldHi && lo[row] === oldLo) continue;
      if (count === this.#moved.length) this.#growMoved(graph.rows);
      this.#moved[count] = row;
      this.#oldHi[count] = oldHi;
      this.#oldLo[count] = oldLo;
      count += 1;
      this.#markUsers(row, dirty);
    }
    return this.#deltaOf(count, changed);
  }

  #sweepEverything(changed: readonly number[]): Delta {
    const { graph, figures } = this;
    const { hi, lo } = figures;
    this.#dirty.clear();
    this.#growMoved(graph.rows);
    const beforeHi = this.#oldHi;
    const beforeLo = this.#oldLo;
    beforeHi.set(hi);
    beforeLo.set(lo);
    sweep(figures, 0, graph.rows);
    let count = 0;
    for (let row = 0; row < graph.rows; row += 1) {
      const oldHi = beforeHi[row] as number;
      const oldLo = beforeLo[row] as number;
      if (hi[row] === oldHi && lo[row] === oldLo) continue;
      this.#moved[count] = row;
      // Never ahead of the row being read.
      beforeHi[count] = oldHi;
      beforeLo[count] = oldLo;
      count += 1;
    }
    return this.#deltaOf(count, changed);
  }

  #growMoved(rows: number): void {
    if (this.#moved.length >= rows) return;
    const moved = new Int32Array(rows);
    const oldHi = new Float64Array(rows);
    const oldLo = new Float64Array(rows);
    moved.set(this.#moved);
    oldHi.set(this.#oldHi);
    oldLo.set(this.#oldLo);
    this.#moved = moved;
    this.#oldHi = oldHi;
    this.#oldLo = oldLo;
  }

  /** What moved, merged with what became known or unknown; both ascending. */
  #deltaOf(count: number, changed: readonly number[]): Delta {
    const { hi, lo, incomplete } = this.figures;
    if (changed.length === 0) {
      const rows = this.#moved.slice(0, count);
      const flags = new Uint8Array(count);
      for (let at = 0; at < count; at += 1) flags[at] = incomplete[rows[at] as number] as number;
      return { rows, hi: this.#oldHi.slice(0, count), lo: this.#oldLo.slice(0, count), incomplete: flags };
    }
    const flipped = new Set(changed);
    const digits = new Map<number, number>();
    for (let at = 0; at < count; at += 1) digits.set(this.#moved[at] as number, at);
    const rows = Int32Array.from(new Set([...changed, ...digits.keys()])).sort();
    const old = (column: Float64Array, now: Float64Array) => (row: number) => {
      const at = digits.get(row);
      return (at === undefined ? now[row] : column[at]) as number;
    };
    return {
      rows,
      hi: Float64Array.from(rows, old(this.#oldHi, hi)),
      lo: Float64Array.from(rows, old(this.#oldLo, lo)),
      incomplete: Uint8Array.from(rows, (row) => (flipped.has(row) ? 1 - (incomplete[row] as number) : (incomplete[row] as number))),
    };
  }
}

const NONE: readonly number[] = [];
