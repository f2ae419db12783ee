/**
 * Ids of facts and kitchens: unguessable (120 bits of chance), short enough for a URL, without characters that need
 * escaping there. The first letters say what it names, so that an id in a log or a link can be read.
 */
import { randomBytes } from "node:crypto";
import type { FactKind } from "@/lib/book";

/** A new id for a fact: "item-q3Yw0…". Menu prices and sales weeks take their ids from the dish and the Monday instead. */
export function newId(kind: FactKind): string {
  return `${kind}-${randomBytes(15).toString("base64url")}`;
}

/** A new id for a try-out. Whoever may see money in the kitchen opens it by its address. */
export function newTryoutId(): string {
  return `try-${randomBytes(15).toString("base64url")}`;
}

/** A new id for a price list. Its new quotes are called by it and their rows. */
export function newPriceListId(): string {
  return `list-${randomBytes(15).toString("base64url")}`;
}

/** A new id for an order. Whoever may see money in the kitchen opens it by its address. */
export function newOrderId(): string {
  return `order-${randomBytes(15).toString("base64url")}`;
}
