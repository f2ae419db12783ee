/**
 * What a move was based on, and whether that still stands. A fact has been overtaken when somebody has recorded something
 * of it since the move was added (or was last looked at again). The move is kept and still applied: whoever reads the
 * try-out is told, and decides.
 */
import { type Book, factKey } from "../book";
import { quotesOf } from "../costing-quote";
import { LaidOver } from "./laid-over";
import { itemsOf, takersOf } from "./lay-move";
import type { FactAt, Move, MoveBasis, MoveBody } from "./move";

/** So many facts are noted one by one; of a move that touches more, the rest is told by the greatest revision. */
const NOTED = 40;

/** The facts that a move rests on: those it changes, and those it is reckoned from. As the book has them, without other moves. */
export function factsOf(book: Book, body: MoveBody): readonly FactAt[] {
  const over = new LaidOver(book);
  switch (body.kind) {
    case "share": {
      const quotes = itemsOf(over, body.of).flatMap((itemId) => {
        const quote = over.costingQuote(itemId);
        return quote === null ? [] : [quoteAt(quote.id)];
      });
      return body.of.kind === "section" ? quotes : [{ kind: body.of.kind, id: body.of.id }, ...quotes];
    }
    case "price": {
      const quoteId = body.quoteId ?? over.costingQuote(body.itemId)?.id;
      return [{ kind: "item", id: body.itemId }, ...(quoteId === undefined ? [] : [quoteAt(quoteId)])];
    }
    case "dealer": return [{ kind: "item", id: body.itemId }, ...quotesOf(book, body.itemId).filter(({ dealerId }) => dealerId === body.dealerId).map(({ id }) => quoteAt(id))];
    case "tests": return [{ kind: "cut", id: body.cutId }, ...body.testIds.map((id): FactAt => ({ kind: "test", id }))];
    case "size": return [{ kind: "spec", id: body.specId }];
    case "line": return [body.in];
    case "menu price": return [{ kind: "menuPrice", id: body.dishId }];
    case "target": return [body.of.kind === "dish" ? { kind: "menuPrice", id: body.of.id } : { kind: "kitchen", id: book.kitchenId }];
    case "replace": return [{ kind: "item", id: body.itemId }, { kind: "item", id: body.byId }, ...takersOf(over, body.itemId)];
    case "fact": return [{ kind: body.change.kind, id: body.change.id }];
  }
}

function quoteAt(id: string): FactAt {
  return { kind: "quote", id };
}

/** The greatest revision in each state of a book, worked out once. */
const greatest = new WeakMap<Book, number>();

function upTo(book: Book): number {
  let most = greatest.get(book);
  if (most === undefined) {
    most = 0;
    for (const { revision } of book.provenance.values()) if (revision > most) most = revision;
    greatest.set(book, most);
  }
  return most;
}

/** What a move that is added now is based on. */
export function basisOf(book: Book, body: MoveBody): MoveBasis {
  const facts = factsOf(book, body).slice(0, NOTED);
  return { upTo: upTo(book), facts: Object.fromEntries(facts.map(({ kind, id }) => [factKey(kind, id), book.provenance.get(factKey(kind, id))?.revision ?? null])) };
}

/** One fact of a move that has been overtaken. */
export interface Overtaken extends FactAt {
  /** The revision that the move was based on; null where the fact was not there, or was not noted. */
  readonly was: number | null;
  /** The revision that stands now, and who recorded it when (a moment in UTC); null where the fact has left the book. */
  readonly now: { readonly revision: number; readonly by: string; readonly at: string; readonly why: string } | null;
}

/** The facts that were overtaken, by the key of the move; moves of which everything stands are not in it. */
export function overtaken(book: Book, moves: readonly Move[]): ReadonlyMap<string, readonly Overtaken[]> {
  const found = new Map<string, readonly Overtaken[]>();
  for (const { key, body, basis } of moves) {
    const facts = new Map(factsOf(book, body).map((fact) => [factKey(fact.kind, fact.id), fact]));
    // What was noted and is touched no more (a price that is not the costing one now) has been overtaken as well.
    for (const noted of Object.keys(basis.facts)) if (!facts.has(noted)) facts.set(noted, factAt(noted));
    const told = [...facts].flatMap(([at, fact]): readonly Overtaken[] => {
      const now = book.provenance.get(at);
      const was = basis.facts[at];
      const stands = was === undefined ? now === undefined || now.revision <= basis.upTo : (now?.revision ?? null) === was;
      return stands ? [] : [{ ...fact, was: was ?? null, now: now === undefined ? null : { revision: now.revision, by: now.by, at: now.recordedAt, why: now.why } }];
    });
    if (told.length > 0) found.set(key, told);
  }
  return found;
}

function factAt(key: string): FactAt {
  const colon = key.indexOf(":");
  return { kind: key.slice(0, colon) as FactAt["kind"], id: key.slice(colon + 1) };
}

/** The revision that now stands of every fact that was overtaken, by factKey: what somebody who says "I have seen this" has seen. */
export function revisionsSeen(found: ReturnType<typeof overtaken>): Readonly<Record<string, number | null>> {
  return Object.fromEntries([...found.values()].flat().map(({ kind, id, now }) => [factKey(kind, id), now?.revision ?? null]));
}

/** Whether all that was overtaken is among what was seen, as it now stands. */
export function allSeen(found: ReturnType<typeof overtaken>, seen: Readonly<Record<string, number | null>>): boolean {
  return Object.entries(revisionsSeen(found)).every(([key, revision]) => seen[key] === revision);
}
