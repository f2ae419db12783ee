/**
 * Which nodes there are: every item, cut, spec, recipe and dish of a book under a number of its own, in the order of
 * the shelves; after them, for each dish, the node of its food-cost ratio, which nobody asks for by name. A node keeps
 * its number for as long as its graph lives; where it stands in the order of costing is its row (graph.ts).
 */
import { type Book, cutKind } from "@/lib/book";
import { NODE_KINDS, type NodeKind, type NodeRef } from "./node";
import { KINDS } from "./small-ratio";

/** Codes of the kinds in typed arrays: places in NODE_KINDS, then the food-cost ratio of a dish. */
export const ITEM = 0;
export const DISH = 4;
export const RATIO = 5;

/** Measure of a cut of which nothing is known, and of recipes, which may be measured in several. */
export const NO_MEASURE = 255;

const CODE: Readonly<Record<NodeKind, number>> = { item: 0, cut: 1, spec: 2, recipe: 3, dish: 4 };

export class NodeIndex {
  readonly count: number;
  /** Node → code of its kind. */
  readonly kinds: Uint8Array;
  /**
   * Node → the kind of quantity that lines take of it, as a place in KINDS: of an item or cut what it is costed in, of a
   * spec a count; NO_MEASURE where it cannot be told by one kind. Does not change while the graph lives.
   */
  readonly measures: Uint8Array;
  /** Node → id; a ratio has its dish's. */
  readonly ids: readonly string[];
  readonly items: number;
  readonly firstDish: number;
  readonly firstRatio: number;
  readonly #byId: readonly Map<string, number>[];

  constructor(book: Book) {
    const ids: string[] = [];
    const starts: number[] = [];
    this.#byId = NODE_KINDS.map((kind) => {
      const numbers = new Map<string, number>();
      starts.push(ids.length);
      for (const id of book.shelves[kind].keys()) {
        numbers.set(id, ids.length);
        ids.push(id);
      }
      return numbers;
    });
    this.items = starts[1] as number;
    this.firstDish = starts[DISH] as number;
    this.firstRatio = ids.length;
    for (let dish = this.firstDish; dish < this.firstRatio; dish += 1) ids.push(ids[dish] as string);
    this.ids = ids;
    this.count = ids.length;
    this.kinds = new Uint8Array(this.count).fill(RATIO);
    for (let code = DISH; code >= ITEM; code -= 1) this.kinds.fill(code, starts[code], starts[code + 1] ?? this.firstRatio);
    this.measures = new Uint8Array(this.count).fill(NO_MEASURE);
    let node = 0;
    for (const item of book.shelves.item.values()) this.measures[node++] = KINDS.indexOf(item.kind);
    for (const id of book.shelves.cut.keys()) {
      const kind = cutKind(book, id);
      this.measures[node++] = kind === null ? NO_MEASURE : KINDS.indexOf(kind);
    }
    this.measures.fill(KINDS.indexOf("count"), node, node + book.shelves.spec.size);
  }

  /** The node's number, or −1 when there is none. */
  numberOf(kind: NodeKind, id: string): number {
    return (this.#byId[CODE[kind]] as Map<string, number>).get(id) ?? -1;
  }

  /** The node of a dish's food-cost ratio. */
  ratioOf(dish: number): number {
    return dish - this.firstDish + this.firstRatio;
  }

  ref(node: number): NodeRef {
    return { kind: NODE_KINDS[this.kinds[node] as number] ?? "dish", id: this.ids[node] as string };
  }
}
