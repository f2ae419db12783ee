/** A portion spec as the fields of its form, and the form read back. */
import { type PortionSpec, readFact } from "@/lib/book";
import { type Checked, type Habits, type Quantity, ratio } from "@/lib/measure";
import { quantityInBase } from "@/lib/yield";
import type { Values } from "@/components/form";
import type { ReadForm } from "../change-flow/read-form";
import { quantityInput, rateInput } from "../tests/sheet-props";

export const NEW_SPEC: Values = { name: "", size: "", tolerance: "", thickness: "", trim: "", costing: "by-weight", endValue: "", pieces: "", "meanCut.weight": "", "meanCut.count": "" };

export function specValues(spec: PortionSpec): Values {
  return {
    name: spec.name, size: quantityInput(spec.size), tolerance: spec.tolerance === null ? "" : quantityInput(spec.tolerance), thickness: spec.thickness, trim: spec.trim,
    costing: spec.costing, endValue: spec.endValue === null ? "" : rateInput(spec.endValue), pieces: spec.pieces ?? "",
    "meanCut.weight": spec.meanCut === null ? "" : quantityInput(spec.meanCut.weight), "meanCut.count": spec.meanCut?.count ?? "",
    ...(spec.meanCut === null ? {} : { "meanCut.on": spec.meanCut.on }),
  };
}

export const sameQuantity = (one: Quantity, other: Quantity): boolean => one.unit === other.unit && ratio.compare(quantityInBase(one), quantityInBase(other)) === 0;

/**
 * The spec as the form says it. What the form does not send stays as it is known. A mean weight that was left standing
 * while the size changed was weighed at the old size: it falls away with it.
 */
export function readSpec(form: ReadForm, known: PortionSpec | undefined, habits: Habits): Checked<PortionSpec> {
  const weighed = form.input["meanCut"];
  const sent = typeof weighed === "object" && weighed !== null;
  const meanCut = !sent ? known?.meanCut ?? null : form.text("meanCut.weight") === "" && form.text("meanCut.count") === "" ? null : weighed;
  const read = readFact("spec", { ...known, ...form.input, meanCut }, habits);
  const was = known?.meanCut ?? null;
  if (!read.ok || known === undefined || was === null || read.value.meanCut === null) return read;
  const stale = !sameQuantity(read.value.size, known.size) && sameQuantity(read.value.meanCut.weight, was.weight) && read.value.meanCut.on === was.on;
  return stale ? { ok: true, value: { ...read.value, meanCut: null } } : read;
}
