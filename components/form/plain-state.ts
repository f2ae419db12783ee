/** What came of a plain form: problems by field, what was typed (passwords left out), or what was done. */
import type { Problem } from "@/lib/measure";
import type { Values } from "./FormContext";

export interface PlainState {
  readonly problems: readonly Problem[];
  readonly values: Values;
  /** What was done, in a sentence; null when nothing was (yet). */
  readonly told: string | null;
  /** A link to hand over, told this once. */
  readonly link: string | null;
}

export type PlainAction = (state: PlainState, formData: FormData) => Promise<PlainState>;

export const NOTHING_SENT: PlainState = { problems: [], values: {}, told: null, link: null };
