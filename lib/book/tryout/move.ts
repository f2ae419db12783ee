/**
 * A try-out is a list of moves: things that somebody pretends, many at once, laid over the book one after the other. A
 * move is an operation and not a frozen fact ("the strip at 8 % more", not "the strip at 11.72"), so it still says what
 * was meant when the book has moved on under it. Beside it stands what it was based on, by which it can be told that one
 * of its facts has been overtaken.
 */
import type { Exact, Money, Quantity, Unit } from "@/lib/measure";
import type { Change, FactKind } from "../book";
import type { Channel, DishRole, Line } from "../recipe";

/** A fact by kind and id. */
export interface FactAt {
  readonly kind: FactKind;
  readonly id: string;
}

/** What a move does. */
export type MoveBody =
  /** Prices by a share of themselves: "0.08" is 8 % dearer, "-0.05" 5 % cheaper. Of the prices that things are costed at. */
  | { readonly kind: "share"; readonly of: PricesOf; readonly share: Exact }
  /** One price. `quoteId` null: the one that the item is costed at. */
  | { readonly kind: "price"; readonly itemId: string; readonly quoteId: string | null; readonly price: Money; readonly per: "pack" | Unit }
  /** An item bought from another dealer; null: from whoever quoted last. */
  | { readonly kind: "dealer"; readonly itemId: string; readonly dealerId: string | null }
  /** The tests that a cut stands on. */
  | { readonly kind: "tests"; readonly cutId: string; readonly testIds: readonly string[] }
  /** A portion at another size. What portions weighed at the old size says nothing of the new, and is left out. */
  | { readonly kind: "size"; readonly specId: string; readonly size: Quantity }
  /** One line of a recipe or a dish. */
  | { readonly kind: "line"; readonly in: { readonly kind: "recipe" | "dish"; readonly id: string }; readonly lineKey: string; readonly to: LineTo }
  /** A menu price, gross, as printed. */
  | { readonly kind: "menu price"; readonly dishId: string; readonly gross: Money }
  /** A target, as a share of the net price; null: none of its own. */
  | { readonly kind: "target"; readonly of: TargetOf; readonly target: Exact | null }
  /** An item by another wherever a recipe or a dish takes it as purchased. The days apply when it is made real; null: from the day it is made real, for good. `until` is the first day without it. */
  | { readonly kind: "replace"; readonly itemId: string; readonly byId: string; readonly from: string | null; readonly until: string | null }
  /** Any other fact, as a form gave it; null takes it off the book. */
  | { readonly kind: "fact"; readonly change: Change };

export type MoveKind = MoveBody["kind"];

export type PricesOf =
  | { readonly kind: "item" | "dealer"; readonly id: string }
  | { readonly kind: "section"; readonly name: string };

export type TargetOf =
  | { readonly kind: "dish"; readonly id: string }
  | { readonly kind: "section"; readonly name: string }
  | { readonly kind: "kitchen" };

export type LineTo =
  | { readonly kind: "quantity"; readonly quantity: Quantity }
  | { readonly kind: "replaced"; readonly of: Line["of"]; readonly quantity: Quantity }
  /** At the end; `role` and `channel` on a dish only. */
  | { readonly kind: "added"; readonly of: Line["of"]; readonly quantity: Quantity; readonly note: string; readonly role: DishRole | null; readonly channel: Channel | null }
  | { readonly kind: "removed" };

/** What stood in the book when a move was added, or was last looked at again. */
export interface MoveBasis {
  /** The greatest revision that the book then held. */
  readonly upTo: number;
  /** The revision of each fact that the move touches (factKey), null for one that was not there; of a move that touches very many, only of the first few. */
  readonly facts: Readonly<Record<string, number | null>>;
}

export interface Move {
  /** Stable within its try-out. */
  readonly key: string;
  /** What it is about, by the name it had when it was added: told when the thing has gone. */
  readonly about: string;
  readonly body: MoveBody;
  readonly basis: MoveBasis;
  /** Who added it, and when (a moment in UTC); null while it is not kept yet. */
  readonly added: { readonly by: string; readonly at: string } | null;
}

/** The most moves that one try-out holds. */
export const MOST_MOVES = 200;
