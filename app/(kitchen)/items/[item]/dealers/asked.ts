/** What the address of a comparison asks for: which cut, which portion of it, which dish. What does not go together falls back to what does. */
import { type Book, type Cut, type Dish, type PortionSpec, cutsOf } from "@/lib/book";
import { type NodeRef, dishesAbove } from "@/lib/cascade";
import type { Asked } from "../../../find";

export interface ComparedThing {
  readonly cuts: readonly Cut[];
  readonly cut: Cut | null;
  readonly specs: readonly PortionSpec[];
  readonly spec: PortionSpec | null;
  readonly dishes: readonly Dish[];
  readonly dish: Dish | null;
  /** The dealer that somebody was about to buy from. */
  readonly buy: string | null;
}

export function askedThing(book: Book, itemId: string, asked: Asked): ComparedThing {
  const one = (name: string): string | null => (typeof asked[name] === "string" && asked[name] !== "" ? asked[name] : null);
  const cuts = cutsOf(book, { kind: "item", id: itemId });
  const cut = cuts.find(({ id }) => id === one("cut")) ?? cuts.find(({ testIds }) => testIds.length > 0) ?? cuts[0] ?? null;
  const specs = cut === null ? [] : [...book.shelves.spec.values()].filter(({ cutId }) => cutId === cut.id);
  const spec = one("portion") === "none" ? null : specs.find(({ id }) => id === one("portion")) ?? specs[0] ?? null;
  const dishes = cut === null ? [] : dishesOn(book, spec === null ? { kind: "cut", id: cut.id } : { kind: "spec", id: spec.id });
  const dish = one("dish") === "none" ? null : dishes.find(({ id }) => id === one("dish")) ?? dishes[0] ?? null;
  return { cuts, cut, specs, spec, dishes, dish, buy: one("buy") };
}

function dishesOn(book: Book, ref: NodeRef): readonly Dish[] {
  return dishesAbove(book, ref).flatMap(({ ref: { id } }) => book.shelves.dish.get(id) ?? []);
}
