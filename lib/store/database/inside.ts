/**
 * Whether we stand inside a transaction. Inside one, only the client that was handed in may be used: on the embedded
 * database, which has one connection, a query through the outer client would wait for the transaction it is part of,
 * for ever; on a server it would silently run outside the transaction. Both adapters ask here before they work, and so
 * both refuse, with the same sentence.
 */
import { AsyncLocalStorage } from "node:async_hooks";

const inside = new AsyncLocalStorage<true>();

export function insideTransaction<T>(work: () => Promise<T>): Promise<T> {
  // Prisma's promises start working when they are awaited, so that must happen in here too.
  return inside.run(true, async () => await work());
}

export function refuseInsideTransaction(): void {
  if (inside.getStore() === true) {
    throw new Error("The outer database client was used inside a transaction. Use the client that was handed to the transaction's callback.");
  }
}
