/**
 * A place to measure: a group-size book (10,000 items, 6,000 recipes, 3,000 dishes; tests/bench/generate.ts) opened
 * through the same door as any kitchen, before the server starts, by an owner who can sign in. In a fresh folder, or in
 * the database that DATABASE_URL names, where it must be the first thing there is.
 */
import { makeAccess } from "@/lib/access";
import { type Change, FACT_KINDS, type Quote, kitchenOf } from "@/lib/book";
import { exact } from "@/lib/measure";
import { type DatedChange, makeStore } from "@/lib/store";
import { type DatabaseChoice, openDatabase } from "@/lib/store/database";
import { type Size, generateBook } from "../bench/generate";
import { OWNER } from "../http/arrive";

/** Opens it and lets go of the database again; the kitchen's id. */
export async function openKitchenOfSize(choice: DatabaseChoice, size: Size): Promise<string> {
  const book = generateBook(size);
  const { id: _, ...settings } = kitchenOf(book);
  const tested = new Set([...book.shelves.test.values()].map(({ of }) => of.id));
  const entries = FACT_KINDS.flatMap((kind) => kind === "kitchen" ? [] : [...(book.shelves[kind] as ReadonlyMap<string, unknown>)].map(([id, fact]): DatedChange => {
    const after = kind === "quote" && tested.has((fact as Quote).itemId) ? worthTesting(fact as Quote) : fact;
    return { change: { kind, id, after } as Change, validFrom: daysAgo(30) };
  }));
  const database = await openDatabase(choice);
  try {
    const store = makeStore(database);
    const access = await makeAccess(database, store);
    if (!await access.isNew()) throw new Error(`expected an empty database at ${database.where}: somebody has an account there already`);
    const here = { address: "127.0.0.1", headers: new Headers() };
    const made = await access.makeFirst(OWNER, here);
    if (!made.ok) throw new Error(made.problems.map(({ sentence }) => sentence).join(" "));
    const visitor = await access.visitor(new Headers({ cookie: made.value.map(({ name, value }) => `${name}=${value}`).join("; ") }));
    if (visitor === null) throw new Error(`expected the owner to be signed in`);
    const opened = await access.openKitchen(visitor, { ...settings, name: `A ${size.name}’s kitchen` }, entries, "The book of a kitchen group");
    if (!opened.ok) throw new Error(opened.problems.slice(0, 5).map(({ path, sentence }) => `${path}: ${sentence}`).join("\n"));
    return opened.value;
  } finally {
    await database.close();
  }
}

/** Nobody tests what costs less than its trim is worth, and the store would not take it: a dollar a pound at least. */
function worthTesting(quote: Quote): Quote {
  const { amount } = quote.price;
  return { ...quote, per: "lb", price: { amount: Number(amount) < 1 ? exact("1") : amount } };
}

function daysAgo(days: number): string {
  return new Date(Date.now() - days * 86_400_000).toISOString().slice(0, 10);
}
