/** What can be done at the block beside weighing: begin a sheet, put one away, record one as a test. */
"use server";
import { redirect } from "next/navigation";
import { newId } from "@/lib/store";
import type { ChangeState } from "@/components/change/state";
import { runChange } from "../../(kitchen)/change-flow/run-change";
import { kitchenOfCaller, openKitchen } from "../../(kitchen)/open-kitchen";
import { resultView, withoutMoney } from "../../(kitchen)/tests/result-view";
import { readSheetAsTest } from "./as-test";
import { firstEntries } from "./first-entries";

/** Begins a sheet for what was chosen, with the parts of its last test, and goes to it. */
export async function beginSheet(formData: FormData): Promise<void> {
  const open = await openKitchen("record a test");
  const text = (name: string): string => { const value = formData.get(name); return typeof value === "string" ? value : ""; };
  const entries = firstEntries(open, { of: text("of"), kind: text("kind"), dealerId: text("dealerId") });
  if (entries === null) redirect("/block?choose");
  const id = newId("test");
  await open.store.startSheet(open.kitchenId, id, { name: open.visitor.name, personId: open.visitor.personId }, entries);
  redirect(`/block/${id}`);
}

/** Puts a sheet away that will not become a test, or takes it out again. What was weighed stays on it. */
export async function putAway(formData: FormData): Promise<void> {
  const { store, kitchenId, visitor } = await openKitchen("record a test");
  const id = formData.get("sheet");
  await store.putSheetAway(kitchenId, typeof id === "string" ? id : "", { name: visitor.name, personId: visitor.personId }, formData.get("away") !== "no");
  redirect("/block");
}

/** Records a sheet as a test, from what the book has of it; the form only says what it is worth and what it is adopted for. */
export async function recordSheet(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  const value = formData.get("sheet");
  const id = typeof value === "string" ? value : "";
  const state = await runChange(formData, {
    deed: "record a test",
    read: (input) => readSheetAsTest(input, id),
    result: (after, kitchen, seesMoney) => {
      const test = after.book.shelves.test.get(id);
      const view = test === undefined ? null : resultView(after, test, kitchen);
      return test === undefined || view === null || seesMoney ? view : withoutMoney(view, test, kitchen);
    },
    next: () => `/tests/${encodeURIComponent(id)}`,
  });
  if (state.status === "recorded") {
    const open = await kitchenOfCaller();
    await open?.store.sheetRecorded(open.kitchenId, id, state.changeNo);
  }
  return state;
}

