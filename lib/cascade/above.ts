/** The dishes that a node goes into, by any way up: straight, or through cuts, portions and recipes. */
import type { Book } from "@/lib/book";
import { keyOf } from "./exact";
import type { NodeRef } from "./node";
import { type User, usersOf } from "./users";

/** Each dish once, by name. */
export function dishesAbove(book: Book, of: NodeRef): readonly User[] {
  const seen = new Set<string>();
  const dishes: User[] = [];
  const waiting: NodeRef[] = [of];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    for (const user of usersOf(book, next)) {
      if (seen.has(keyOf(user.ref))) continue;
      seen.add(keyOf(user.ref));
      if (user.ref.kind === "dish") dishes.push(user);
      else waiting.push(user.ref);
    }
  }
  return dishes.sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
}
