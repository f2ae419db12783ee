/** What came of the first page's form: problems by field, and what was typed. */
import type { Values } from "@/components/form/FormContext";
import type { Problem } from "@/lib/measure";

export interface StartState {
  readonly problems: readonly Problem[];
  readonly values: Values;
}
