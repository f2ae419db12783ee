/** What came of filling the lines of a delivery from a file or from cartons. Plain text: it travels to the browser. */
import type { Values } from "@/components/form";
import type { Problem } from "@/lib/measure";

export type FillState =
  | { readonly status: "none" }
  | { readonly status: "refused"; readonly problems: readonly Problem[]; readonly values: Values }
  | {
    readonly status: "filled";
    /** New each time, so that the form is made anew around it. */
    readonly key: string;
    readonly values: Values;
    readonly rows: readonly Values[];
    /** "Read the invoice VM-20417 of Valley Meats: 2 lines." */
    readonly told: string;
    /** What to look at before it is recorded. */
    readonly left: readonly string[];
  };

export type FillAction = (state: FillState, formData: FormData) => Promise<FillState>;

export const NOTHING_FILLED: FillState = { status: "none" };
