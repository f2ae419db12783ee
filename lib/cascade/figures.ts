/**
 * The numbers that run beside a graph, in columns: coefficients per line, constants and costs per row, each a
 * double-double in two Float64Arrays, high parts and low parts apart (apart measures faster than interleaved). And
 * what is known: a row lacks something of its own, or is incomplete because something it rests on does.
 */
import type { Graph } from "./graph";

export class Figures {
  readonly lineStart: Int32Array;
  /**
   * Row → where its sweep stops: the end of its lines, or their start when the row counts as 0, which is a row with
   * credits and anything unknown: to credit against an unknown cost would give a figure that is no lower bound.
   */
  readonly lineStop: Int32Array;
  readonly source: Int32Array;
  readonly coefficientHi: Float64Array;
  readonly coefficientLo: Float64Array;
  readonly constantHi: Float64Array;
  readonly constantLo: Float64Array;
  readonly hi: Float64Array;
  readonly lo: Float64Array;
  readonly lacks: Uint8Array;
  readonly credits: Uint8Array;
  readonly incomplete: Uint8Array;

  constructor(graph: Graph) {
    const lines = graph.source.length;
    this.lineStart = graph.lineStart;
    this.lineStop = graph.lineEnd.slice();
    this.source = graph.source;
    this.coefficientHi = new Float64Array(lines);
    this.coefficientLo = new Float64Array(lines);
    this.constantHi = new Float64Array(graph.rows);
    this.constantLo = new Float64Array(graph.rows);
    this.hi = new Float64Array(graph.rows);
    this.lo = new Float64Array(graph.rows);
    this.lacks = new Uint8Array(graph.rows);
    this.credits = new Uint8Array(graph.rows);
    this.incomplete = new Uint8Array(graph.rows);
  }
}
