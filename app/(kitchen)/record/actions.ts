/** Undoing a change of the record, by a new one. */
"use server";
import { headers } from "next/headers";
import { redirect } from "next/navigation";
import { undoing } from "@/lib/book";
import { bad } from "@/lib/measure";
import type { ChangeState } from "@/components/change/state";
import { runChange } from "../change-flow/run-change";

/** The record is for whoever sees money; each fact that goes back is asked for by its own deed, as any change is. */
export async function undoChange(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  const state = await runChange(formData, {
    deed: "see money",
    read: async ({ form, open }) => {
      const change = form.text("change");
      const entry = /^\d{1,9}$/.test(change) ? await open.store.recordEntry(open.kitchenId, Number(change)) : null;
      return entry === null ? bad("", "no-such-change", "There is no such change in the record of this kitchen.") : undoing(entry);
    },
    next: (changeNo) => `/record/${changeNo}`,
  });
  // Without a script the page is made again, and what is undone has no form on it any more: the new change tells of it.
  if (state.status === "recorded" && state.next !== null && !(await headers()).has("next-action")) redirect(state.next);
  return state;
}
