/** Whether an id is a test of this kitchen, or a sheet at its block: what a photo can belong to. */
import type { OpenKitchen } from "../(kitchen)/open-kitchen";

export async function isWorked({ live, store, kitchenId }: OpenKitchen, id: string): Promise<boolean> {
  // Sheets have ids of our own making; with anything else nobody need ask the database.
  return live.book.shelves.test.has(id) || /^test-[\w-]{1,60}$/.test(id) && await store.readSheet(kitchenId, id) !== null;
}
