/**
 * A move put with others. One that says the same thing of the same fact takes the earlier one's place: the latest price
 * tried is the one that is meant. Shares add to what is there, so two of them stand side by side.
 */
import { MOST_MOVES, type Move, type MoveBody } from "./move";

export function withMove(moves: readonly Move[], move: Move): readonly Move[] {
  const at = saysOf(move.body);
  const earlier = at === null ? -1 : moves.findIndex(({ body }) => saysOf(body) === at);
  if (earlier < 0) return moves.length >= MOST_MOVES ? moves : [...moves, move];
  return moves.map((one, index) => (index === earlier ? { ...move, key: one.key } : one));
}

/** What a move says something of, as text; null for moves that add up. */
function saysOf(body: MoveBody): string | null {
  switch (body.kind) {
    case "share": return null;
    case "price": return `price ${body.itemId} ${body.quoteId ?? ""}`;
    case "dealer": return `dealer ${body.itemId}`;
    case "tests": return `tests ${body.cutId}`;
    case "size": return `size ${body.specId}`;
    case "line": return `line ${body.in.kind} ${body.in.id} ${body.lineKey}`;
    case "menu price": return `menu price ${body.dishId}`;
    case "target": return `target ${body.of.kind} ${body.of.kind === "dish" ? body.of.id : body.of.kind === "section" ? body.of.name : ""}`;
    case "replace": return `replace ${body.itemId}`;
    case "fact": return `fact ${body.change.kind} ${body.change.id}`;
  }
}
