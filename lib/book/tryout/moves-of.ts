/**
 * Changes that a form gives, as moves: what was changed and not the whole fact, so that a new price of the strip leaves
 * the rest of the quote to whoever changes it next. Where more than one thing of a fact changed that no move can say, the
 * fact stays whole.
 */
import { isExact, ratio } from "@/lib/measure";
import type { Book, Change, FactKind, FactOf } from "../book";
import type { Dish, DishLine, Line, Recipe } from "../recipe";
import type { MoveBody } from "./move";

export function movesOf(book: Book, changes: readonly Change[]): readonly MoveBody[] {
  return changes.flatMap((change): readonly MoveBody[] => {
    const before = book.shelves[change.kind].get(change.id);
    if (before === undefined || change.after === null) return change.after === null && before === undefined ? [] : [whole(change)];
    if (sameBut(before, change.after, [])) return [];
    return reduced(change, before) ?? [whole(change)];
  });
}

function whole({ kind, id, after }: Change): MoveBody {
  return { kind: "fact", change: { kind, id, after } as Change };
}

function reduced(change: Change, before: FactOf[FactKind]): readonly MoveBody[] | null {
  const { after } = change;
  if (after === null) return null;
  switch (change.kind) {
    case "quote": {
      const quote = after as FactOf["quote"];
      return sameBut(before, quote, ["price", "per"]) ? [{ kind: "price", itemId: quote.itemId, quoteId: quote.id, price: quote.price, per: quote.per }] : null;
    }
    case "item": {
      const item = after as FactOf["item"];
      return sameBut(before, item, ["dealerId"]) ? [{ kind: "dealer", itemId: item.id, dealerId: item.dealerId }] : null;
    }
    case "cut": {
      const cut = after as FactOf["cut"];
      return sameBut(before, cut, ["testIds"]) && cut.leftOut.every(({ testId }) => !cut.testIds.includes(testId)) ? [{ kind: "tests", cutId: cut.id, testIds: cut.testIds }] : null;
    }
    case "spec": {
      const spec = after as FactOf["spec"];
      return sameBut(before, spec, ["size"]) && spec.meanCut === null ? [{ kind: "size", specId: spec.id, size: spec.size }] : null;
    }
    case "menuPrice": {
      const [was, is] = [before as FactOf["menuPrice"], after as FactOf["menuPrice"]];
      if (!sameBut(was, is, ["gross", "target"])) return null;
      return [
        ...(same(was.gross, is.gross) ? [] : [{ kind: "menu price", dishId: is.id, gross: is.gross } as const]),
        ...(sameAmount(was.target, is.target) ? [] : [{ kind: "target", of: { kind: "dish", id: is.id }, target: is.target } as const]),
      ];
    }
    case "kitchen": {
      const kitchen = after as FactOf["kitchen"];
      return sameBut(before, kitchen, ["target"]) ? [{ kind: "target", of: { kind: "kitchen" }, target: kitchen.target }] : null;
    }
    case "recipe": case "dish": return sameBut(before, after, ["lines"]) ? lineMoves(change.kind, before as Recipe | Dish, after as Recipe | Dish) : null;
    case "dealer": case "delivery": case "test": case "sales": return null;
  }
}

/** Lines changed, added at the end, taken off; null where they stand in another order, or something else of a line changed. */
function lineMoves(kind: "recipe" | "dish", before: Recipe | Dish, after: Recipe | Dish): readonly MoveBody[] | null {
  const of = { kind, id: after.id };
  const was = new Map<string, Line>(before.lines.map((line) => [line.key, line]));
  const is = new Set(after.lines.map(({ key }) => key));
  const kept = before.lines.filter(({ key }) => is.has(key));
  if (after.lines.length < kept.length || kept.some(({ key }, at) => after.lines[at]?.key !== key)) return null;
  const moves: MoveBody[] = before.lines.filter(({ key }) => !is.has(key)).map(({ key }) => ({ kind: "line", in: of, lineKey: key, to: { kind: "removed" } }));
  for (const line of after.lines) {
    const old = was.get(line.key);
    if (old === undefined) {
      const dish = kind === "dish" ? line as DishLine : null;
      moves.push({ kind: "line", in: of, lineKey: line.key, to: { kind: "added", of: line.of, quantity: line.quantity, note: line.note, role: dish?.role ?? null, channel: dish?.channel ?? null } });
      continue;
    }
    if (same(old, line)) continue;
    if (sameBut(old, line, ["quantity"])) moves.push({ kind: "line", in: of, lineKey: line.key, to: { kind: "quantity", quantity: line.quantity } });
    else if (sameBut(old, line, ["quantity", "of"])) moves.push({ kind: "line", in: of, lineKey: line.key, to: { kind: "replaced", of: line.of, quantity: line.quantity } });
    else return null;
  }
  return moves;
}

/** Alike in everything but these fields. What was typed for an amount is not looked at: 34 and 34.00 are one price. */
function sameBut(a: object, b: object, fields: readonly string[]): boolean {
  const [one, other] = [a as Record<string, unknown>, b as Record<string, unknown>];
  return [...new Set([...Object.keys(one), ...Object.keys(other)])].every((field) => fields.includes(field) || field === "typed"
    || (field === "amount" ? sameAmount(one[field], other[field]) : same(one[field], other[field])));
}

function same(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (a === null || b === null || typeof a !== "object" || typeof b !== "object") return false;
  return sameBut(a, b, []);
}

function sameAmount(a: unknown, b: unknown): boolean {
  if (typeof a !== "string" || typeof b !== "string" || !isExact(a) || !isExact(b)) return same(a, b);
  return ratio.compare(ratio.fromExact(a), ratio.fromExact(b)) === 0;
}
