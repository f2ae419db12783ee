/**
 * A portion spec's row. By weight, c = C·s: the cut's cost per usable unit times the size, as the textbooks do, or times
 * the mean weight as cut, where portions were weighed at the pass: what is given away is paid for all the same. By
 * whole portions, portions are counted down piece by piece and the ends left over are credited at what an end is
 * worth: c = (ΣU/Σn)·C − (Σr/Σn)·v_end (pieces cannot be pooled; see `wholePortionLine`). Where pieces were not weighed
 * apart, or none holds a portion, the count is not known.
 */
import { type Book, type PortionSpec, cutWeight } from "@/lib/book";
import { ratio } from "@/lib/measure";
import { rateInBase, wholePortionLine } from "@/lib/yield";
import type { RowSink } from "../row";
import { sayIngredient } from "./amount";
import { adoptedTests } from "./cut";

export function saySpec(book: Book, spec: PortionSpec, sink: RowSink): void {
  if (spec.costing === "by-weight") {
    sayIngredient(book, { key: spec.id, of: { kind: "cut", id: spec.cutId }, quantity: cutWeight(spec), note: "" }, sink, "portion");
    return;
  }
  const cut = book.shelves.cut.get(spec.cutId);
  const tests = cut === undefined ? null : adoptedTests(book, cut);
  const counted = cut === undefined || tests === null ? null : wholePortionLine(tests, cut.partKey, cutWeight(spec));
  if (counted === null || !counted.ok) {
    sink.line("cut", spec.cutId, 0, 1, "portion", spec.id);
    sink.lacking("yield", "spec", spec.id);
    return;
  }
  const { usablePerPortion, endPerPortion } = counted.value;
  sink.bigLine("cut", spec.cutId, usablePerPortion.n, usablePerPortion.d, "portion", spec.id);
  if (spec.endValue !== null && ratio.sign(endPerPortion) > 0) {
    const credit = ratio.mul(endPerPortion, rateInBase(spec.endValue));
    sink.bigMoney(-credit.n, credit.d, "end", spec.id);
  }
}
