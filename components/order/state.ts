/** What came of an order's form: nothing yet, problems by field, or somebody else's version that was kept meanwhile. */
import type { Problem } from "@/lib/measure";
import type { Values } from "@/components/form";

export type OrderState =
  | { readonly status: "new" }
  | { readonly status: "refused"; readonly problems: readonly Problem[]; readonly values: Values }
  /** Nothing was saved: what somebody has done is told, and sending it once more writes over it. */
  | { readonly status: "stale"; readonly sentence: string; readonly version: number; readonly values: Values };

export type OrderAction = (state: OrderState, formData: FormData) => Promise<OrderState>;

export const NOTHING_ASKED: OrderState = { status: "new" };
