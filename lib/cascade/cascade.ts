/**
 * A costed book: a value that never changes for whoever holds it. Many cascades share one engine, whose columns stand
 * at one of them (the root); every other keeps the rows in which it differs and a way towards the root (H. Baker,
 * "Shallow binding makes functional arrays fast", 1991). So laying a change over a book costs what moves, not a copy,
 * and a reader who still holds an older cascade reads on undisturbed.
 */
import type { Book } from "@/lib/book";
import { type Checked, good } from "@/lib/measure";
import { type Delta, placeIn } from "./delta";
import { Engine } from "./engine";
import type { NodeRef } from "./node";

interface WayToRoot {
  readonly towards: Cascade;
  /** This cascade's digits in the rows where it differs from `towards`. */
  readonly delta: Delta;
  /** The nodes whose rows read differently in the two books. */
  readonly nodes: readonly number[];
}

export class Cascade {
  readonly book: Book;
  /** Of this room only: who shares it must leave it as found. */
  readonly engine: Engine;
  #way: WayToRoot | null = null;

  constructor(book: Book, engine: Engine) {
    this.book = book;
    this.engine = engine;
  }

  /** The node's number in the engine's graph; −1 when the book has no such node. */
  numberOf(ref: NodeRef): number {
    return this.engine.graph.index.numberOf(ref.kind, ref.id);
  }

  /** The digits of a row, and whether something it rests on is missing. */
  rowAt(row: number): { readonly hi: number; readonly lo: number; readonly incomplete: boolean } {
    for (let way = this.#way; way !== null; way = way.towards.#way) {
      const place = placeIn(way.delta, row);
      if (place >= 0) {
        const { hi, lo, incomplete } = way.delta;
        return { hi: hi[place] as number, lo: lo[place] as number, incomplete: incomplete[place] === 1 };
      }
    }
    const { hi, lo, incomplete } = this.engine.figures;
    return { hi: hi[row] as number, lo: lo[row] as number, incomplete: incomplete[row] === 1 };
  }

  /** Brings the engine's columns to this cascade; the others keep their digits. */
  becomeRoot(): void {
    const chain: Cascade[] = [this];
    for (let last = this.#way; last !== null; last = last.towards.#way) chain.push(last.towards);
    for (let at = chain.length - 2; at >= 0; at -= 1) {
      const next = chain[at] as Cascade;
      const way = next.#way as WayToRoot;
      const delta = this.engine.apply(next.book, way.nodes);
      if (delta === null) throw new Error("expected rows that the engine has held before to fit again");
      way.towards.#way = { towards: next, delta, nodes: way.nodes };
      next.#way = null;
    }
  }

  /**
   * The cascade of a changed book in which only the rows of these nodes read differently; it becomes the root. null
   * when a row does not fit the graph: then the book has to be compiled anew.
   */
  following(book: Book, nodes: readonly number[]): { readonly cascade: Cascade; readonly rows: Int32Array } | null {
    this.becomeRoot();
    const delta = this.engine.apply(book, nodes);
    if (delta === null) return null;
    const cascade = new Cascade(book, this.engine);
    this.#way = { towards: cascade, delta, nodes };
    return { cascade, rows: delta.rows };
  }
}

/** Compiles a book and costs all of it. A book in which something is made of itself does not compile. */
export function compile(book: Book): Checked<Cascade> {
  const engine = Engine.of(book);
  return engine.ok ? good(new Cascade(book, engine.value)) : engine;
}
