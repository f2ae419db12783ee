/**
 * A stated quantity as a coefficient: how many of its source's own base units (g, mL, each, portion, or share of the
 * batch) it is. The book's `lineInBase` defines it, crossing between weight, volume and count through a density or an
 * each-weight; quantities of the source's own kind, which most are, are worked out here in machine registers with the
 * same result, so that a large book compiles quickly.
 */
import { type Book, type Line, cutKind, lineInBase } from "@/lib/book";
import type { Kind, Quantity } from "@/lib/measure";
import type { LineRole, RowSink } from "../row";
import { SMALL_UNITS, SmallRatio } from "../small-ratio";

/** Of the same kind as the source is costed in: amount × unit, or over the batch yield of that kind. */
function readDirectly(book: Book, line: Line, into: SmallRatio): boolean {
  const quantity = line.quantity;
  const unit = SMALL_UNITS[quantity.unit];
  switch (line.of.kind) {
    case "item":
      if (book.shelves.item.get(line.of.id)?.kind !== unit.kind) return false;
      return into.read(quantity.amount) && into.times(unit.n, unit.d);
    case "cut":
      if (kindOfCut(book, line.of.id) !== unit.kind) return false;
      return into.read(quantity.amount) && into.times(unit.n, unit.d);
    case "spec":
      if (unit.kind !== "count" || !book.shelves.spec.has(line.of.id)) return false;
      return into.read(quantity.amount) && into.times(unit.n, unit.d);
    case "recipe": {
      const batch = yieldOfKind(book.shelves.recipe.get(line.of.id)?.yields, unit.kind);
      if (batch === undefined || !over.read(batch.amount) || !into.read(quantity.amount)) return false;
      const whole = SMALL_UNITS[batch.unit];
      if (over.n <= 0 || !into.times(over.d, over.n)) return false;
      // In the same unit its size cancels.
      return quantity.unit === batch.unit || (into.times(unit.n, unit.d) && into.times(whole.d, whole.n));
    }
  }
}

const over = new SmallRatio();

function yieldOfKind(yields: readonly Quantity[] | undefined, kind: Kind): Quantity | undefined {
  if (yields === undefined) return undefined;
  for (const batch of yields) if (SMALL_UNITS[batch.unit].kind === kind) return batch;
  return undefined;
}

/** The kind a cut is measured in, remembered per version of its fact for as long as somebody holds it. */
function kindOfCut(book: Book, id: string): Kind | null {
  return cutKind(book, id);
}

const amount = new SmallRatio();

/**
 * Says one line of a recipe or dish into the sink. A quantity that cannot be turned into the source's own base keeps
 * its line with coefficient 0, so that the source still comes before it, and says what is lacking.
 */
export function sayIngredient(book: Book, line: Line, sink: RowSink, role: LineRole = "ingredient"): void {
  if (readDirectly(book, line, amount)) {
    sink.line(line.of.kind, line.of.id, amount.n, amount.d, role, line.key);
    return;
  }
  const exactly = lineInBase(book, line);
  if (exactly.ok) {
    sink.bigLine(line.of.kind, line.of.id, exactly.amount.n, exactly.amount.d, role, line.key);
    return;
  }
  sink.line(line.of.kind, line.of.id, 0, 1, role, line.key);
  // A source that is not in the book is found out by the sink.
  if (exactly.missing !== "fact") sink.lacking(exactly.missing, exactly.of.kind, exactly.of.id);
}
