/** A move in words: what it is about, what is pretended of it, and what the book says today. */
import { type Quantity, printDay, printMoney, quantityText, rateText, ratio, shareText, toDecimal } from "@/lib/measure";
import { type Book, kitchenOf } from "../book";
import { nounOf, factName } from "../check";
import type { Quote } from "../item";
import { labelOf } from "../labels";
import type { Line } from "../recipe";
import { LaidOver } from "./laid-over";
import type { FactAt, Move } from "./move";

export interface SaidMove {
  readonly what: string;
  /** "8 % dearer", "at 8 oz". */
  readonly says: string;
  /** What the book says today; null where the move is not of one figure, or the thing has gone. */
  readonly today: string | null;
  /** The fact that a reader would look at; null for many at once. */
  readonly at: FactAt | null;
}

export function sayMove({ about, body }: Pick<Move, "about" | "body">, book: Book): SaidMove {
  const habits = kitchenOf(book);
  const { shelves } = book;
  const quantity = (amount: Quantity): string => quantityText(amount, habits);
  const money = (amount: Quote["price"]): string => printMoney(toDecimal(amount.amount), habits);
  const priced = ({ price, per }: Pick<Quote, "price" | "per">): string => (per === "pack" ? `${money(price)} a pack` : rateText({ amount: price.amount, per }, habits));
  switch (body.kind) {
    case "share": {
      const { of, share } = body;
      const size = ratio.fromExact(share);
      const up = ratio.sign(size) > 0;
      const says = `${shareText(ratio.toExact(up ? size : ratio.neg(size)), habits)} ${up ? "dearer" : "cheaper"}`;
      if (of.kind === "section") return { what: `Everything in ${of.name}`, says, today: null, at: null };
      if (of.kind === "dealer") return { what: `Everything from ${shelves.dealer.get(of.id)?.name ?? about}`, says, today: null, at: null };
      const quote = new LaidOver(book).costingQuote(of.id);
      return { what: shelves.item.get(of.id)?.name ?? about, says, today: quote && priced(quote), at: of as FactAt };
    }
    case "price": {
      const quote = body.quoteId === null ? new LaidOver(book).costingQuote(body.itemId) : shelves.quote.get(body.quoteId) ?? null;
      return { what: quote === null ? about : factName(book, "quote", quote.id), says: `at ${priced(body)}`, today: quote && priced(quote), at: { kind: "item", id: body.itemId } };
    }
    case "dealer": {
      const name = (id: string | null): string => (id === null ? "whoever quoted last" : shelves.dealer.get(id)?.name ?? "a dealer no longer in the book");
      const item = shelves.item.get(body.itemId);
      return { what: item?.name ?? about, says: `bought from ${name(body.dealerId)}`, today: item === undefined ? null : name(item.dealerId), at: { kind: "item", id: body.itemId } };
    }
    case "tests": {
      const cut = shelves.cut.get(body.cutId);
      const named = (ids: readonly string[]): string => (ids.length === 0 ? "no test" : ids.map((id) => {
        const test = shelves.test.get(id);
        return test === undefined ? "a test no longer in the book" : `the ${test.kind} test of ${printDay(test.on, habits)}`;
      }).join(" and "));
      return { what: cut?.name ?? about, says: `on ${named(body.testIds)}`, today: cut === undefined ? null : named(cut.testIds), at: { kind: "cut", id: body.cutId } };
    }
    case "size": {
      const spec = shelves.spec.get(body.specId);
      return { what: spec?.name ?? about, says: `at ${quantity(body.size)}`, today: spec === undefined ? null : quantity(spec.size), at: { kind: "spec", id: body.specId } };
    }
    case "line": {
      const fact = shelves[body.in.kind].get(body.in.id);
      const line = fact?.lines.find(({ key }: Line) => key === body.lineKey);
      const taken = (one: Pick<Line, "of" | "quantity">): string => `${quantity(one.quantity)} of ${labelOf(book, one.of)}`;
      const { to } = body;
      const says = to.kind === "removed" ? `without ${line === undefined ? "one of its lines" : labelOf(book, line.of)}`
        : to.kind === "added" ? `with ${taken(to)} added`
        : to.kind === "replaced" ? `${taken(to)} in place of ${line === undefined ? "a line" : labelOf(book, line.of)}`
        : line === undefined ? quantity(to.quantity) : taken({ of: line.of, quantity: to.quantity });
      return { what: fact?.name ?? about, says, today: line === undefined ? null : taken(line), at: body.in };
    }
    case "menu price": {
      const price = shelves.menuPrice.get(body.dishId);
      return { what: shelves.dish.get(body.dishId)?.name ?? about, says: `at ${money(body.gross)} on the menu`, today: price === undefined ? null : money(price.gross), at: { kind: "dish", id: body.dishId } };
    }
    case "target": {
      const { of } = body;
      const own = body.target === null ? "no target of its own" : `a target of ${shareText(body.target, habits)}`;
      if (of.kind === "kitchen") return { what: "The kitchen", says: own, today: shareText(habits.target, habits), at: null };
      if (of.kind === "section") {
        const now = habits.sectionTargets.find(({ section }) => section === of.name)?.target;
        return { what: `All of ${of.name}`, says: own, today: now === undefined ? null : shareText(now, habits), at: null };
      }
      const now = shelves.menuPrice.get(of.id)?.target ?? null;
      return { what: shelves.dish.get(of.id)?.name ?? about, says: own, today: now === null ? null : shareText(now, habits), at: { kind: "dish", id: of.id } };
    }
    case "replace": {
      const by = shelves.item.get(body.byId)?.name ?? "an item no longer in the book";
      const days = [body.from === null ? "" : `, from ${printDay(body.from, habits)}`, body.until === null ? "" : `, until ${printDay(body.until, habits)}`].join("");
      return { what: shelves.item.get(body.itemId)?.name ?? about, says: `replaced by ${by} in every recipe and dish${days}`, today: null, at: { kind: "item", id: body.itemId } };
    }
    case "fact": {
      const { kind, id, after } = body.change;
      const there = shelves[kind].has(id);
      return { what: there ? factName(book, kind, id) : about, says: after === null ? "taken off the book" : there ? `${nounOf(kind)} changed` : `a new ${nounOf(kind)}`, today: null, at: there ? { kind, id } : null };
    }
  }
}

/** What a move is about, in one name, as it is kept with it. */
export function aboutOf(body: Move["body"], book: Book): string {
  if (body.kind === "fact") {
    const { kind, id, after } = body.change;
    const named = after !== null && "name" in after ? after.name : "";
    return (book.shelves[kind].has(id) ? factName(book, kind, id) : named === "" ? `a ${nounOf(kind)}` : named).slice(0, 300);
  }
  return sayMove({ about: "", body }, book).what.slice(0, 300);
}
