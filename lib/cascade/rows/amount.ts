/**
 * A stated quantity as a coefficient: how many of its source's own base units (g, mL, each, portion, or share of the
 * batch) it is. The book's `lineInBase` defines it, crossing between weight, volume and count through a density or an
 * each-weight. A quantity of the kind that its source is told in, which most are, can be worked out in machine
 * registers with the same result; so a large book compiles quickly.
 */
import { type Allowance, type Book, type Line, allowanceFactors, lineInBase } from "@/lib/book";
import { type Quantity, type Ratio, ratio } from "@/lib/measure";
import type { LineRole, RowSink } from "../row";
import { SMALL_UNITS, SmallRatio } from "../small-ratio";

/** amount × unit: a quantity in its own kind's base unit. False when it does not fit the registers. */
export function readAmount(quantity: Quantity, into: SmallRatio): boolean {
  const unit = SMALL_UNITS[quantity.unit];
  return into.read(quantity.amount) && into.times(unit.n, unit.d);
}

/** The lines of a recipe or dish with the allowances made on them: cost = (Σ lines·(1 + Σ on-cost) + Σ money)/(1 − Σ of-whole). */
export function sayLines(book: Book, lines: readonly Line[], allowances: readonly Allowance[], sink: RowSink): void {
  if (allowances.length === 0) {
    for (const line of lines) sayIngredient(book, line, sink);
    return;
  }
  const { onCost, ofWhole } = allowanceFactors(allowances);
  const times = ratio.mul(onCost, ofWhole);
  for (const line of lines) sayIngredient(book, line, sink, "ingredient", times);
  for (const allowance of allowances) {
    if (allowance.kind !== "money") continue;
    const money = ratio.mul(ratio.fromExact(allowance.amount.amount), ofWhole);
    sink.bigMoney(money.n, money.d, "allowance", allowance.key);
  }
}

const whole = new SmallRatio();

/** The share of a batch that a quantity of the same kind is. False when it does not fit the registers. */
export function readShare(quantity: Quantity, batch: Quantity, into: SmallRatio): boolean {
  if (!whole.read(batch.amount) || whole.n <= 0 || !into.read(quantity.amount) || !into.times(whole.d, whole.n)) return false;
  // In the same unit its size cancels.
  if (quantity.unit === batch.unit) return true;
  const unit = SMALL_UNITS[quantity.unit];
  const batchUnit = SMALL_UNITS[batch.unit];
  return into.times(unit.n, unit.d) && into.times(batchUnit.d, batchUnit.n);
}

/**
 * Says one line of a recipe or dish into the sink. A quantity that cannot be turned into the source's own base keeps
 * its line with coefficient 0, so that the source still comes before it, and says what is lacking. `times`: what the
 * whole line counts for, with the allowances put on it.
 */
export function sayIngredient(book: Book, line: Line, sink: RowSink, role: LineRole = "ingredient", times: Ratio = ratio.ONE): void {
  if (times === ratio.ONE && sink.take?.(line) === true) return;
  const { kind, id } = line.of;
  const exactly = lineInBase(book, line);
  if (exactly.ok) {
    const amount = times === ratio.ONE ? exactly.amount : ratio.mul(exactly.amount, times);
    sink.bigLine(kind, id, amount.n, amount.d, role, line.key);
    return;
  }
  sink.line(kind, id, 0, 1, role, line.key);
  // A source that is not in the book is found out by the sink.
  if (exactly.missing !== "fact") sink.lacking(exactly.missing, exactly.of.kind, exactly.of.id);
}
