/**
 * Which rows a change of facts makes read differently: that of the fact itself, and those that read more of it than
 * its cost (an item's density, the pieces of a test, the yield of a batch). null when nodes come or go, or change the
 * kind of quantity they are told in: then the graph has another shape.
 */
import { type Book, type Change, type FactKind, cutKind } from "@/lib/book";
import { ratio } from "@/lib/measure";
import type { Cascade } from "./cascade";
import { NODE_KINDS, type NodeKind } from "./node";
import { creditedShare } from "./rows/transfer";

const IS_NODE = new Set<FactKind>(NODE_KINDS);

export function affectedNodes(cascade: Cascade, after: Book, changes: readonly Change[]): readonly number[] | null {
  const before = cascade.book;
  const { graph } = cascade.engine;
  const { index } = graph;
  const nodes = new Set<number>();
  const read = (kind: NodeKind, id: string): void => {
    const node = index.numberOf(kind, id);
    if (node >= 0) nodes.add(node);
  };
  const readUsers = (kind: NodeKind, id: string): void => {
    const node = index.numberOf(kind, id);
    if (node < 0) return;
    for (const row of graph.usersOf(graph.rowOf[node] as number)) nodes.add(graph.nodeAt[row] as number);
  };
  const readCut = (id: string): boolean => {
    if (cutKind(before, id) !== cutKind(after, id)) return false;
    read("cut", id);
    readUsers("cut", id);
    return true;
  };

  for (const { kind, id } of changes) {
    if (IS_NODE.has(kind) && before.shelves[kind].has(id) !== after.shelves[kind].has(id)) return null;
    switch (kind) {
      case "kitchen":
        for (let node = index.firstRatio; node < index.count; node += 1) nodes.add(node);
        if (before.shelves.kitchen.get(id)?.exchangeRates !== after.shelves.kitchen.get(id)?.exchangeRates) {
          for (const quote of after.shelves.quote.values()) if (quote.currency !== null) read("item", quote.itemId);
        }
        break;
      case "item": {
        const [was, is] = [before.shelves.item.get(id), after.shelves.item.get(id)];
        if (was?.kind !== is?.kind) return null;
        read("item", id);
        // Cuts that credit a by-product read how much of it is used.
        if (was?.density !== is?.density || was?.eachWeight !== is?.eachWeight || ratio.compare(creditedShare(was), creditedShare(is)) !== 0) readUsers("item", id);
        break;
      }
      case "quote":
        for (const quote of [before.shelves.quote.get(id), after.shelves.quote.get(id)]) if (quote !== undefined) read("item", quote.itemId);
        break;
      case "test":
        for (const cut of after.shelves.cut.values()) if (cut.testIds.includes(id) && !readCut(cut.id)) return null;
        break;
      case "cut":
        if (!readCut(id)) return null;
        break;
      case "spec":
      case "recipe":
        read(kind, id);
        readUsers(kind, id);
        break;
      case "dish":
        read("dish", id);
        break;
      case "menuPrice": {
        const dish = index.numberOf("dish", id);
        if (dish >= 0) nodes.add(index.ratioOf(dish));
        break;
      }
      case "dealer":
      case "delivery":
      case "sales":
        break;
    }
  }
  // In the order of costing, so that what is read does not depend on the order of the changes.
  return [...nodes].sort((a, b) => (graph.rowOf[a] as number) - (graph.rowOf[b] as number));
}
