/** What can be done at the block beside weighing: begin a sheet, put one away, record one as a test. */
"use server";
import { redirect } from "next/navigation";
import { newId } from "@/lib/store";
import type { ChangeState } from "@/components/change/state";
import { runChange } from "../../(kitchen)/change-flow/run-change";
import { kitchenOfCaller, openKitchen } from "../../(kitchen)/open-kitchen";
import { resultView } from "../../(kitchen)/tests/result-view";
import { readPlainForm } from "../../read-plain-form";
import { readSheetAsTest } from "./as-test";
import { firstEntries } from "./first-entries";

/** Begins a sheet for what was chosen, with the parts of its last test, and goes to it. */
export async function beginSheet(formData: FormData): Promise<void> {
  const open = await openKitchen("record a test");
  const { text } = readPlainForm(formData);
  const entries = firstEntries(open, { of: text("of"), kind: text("kind"), dealerId: text("dealerId") });
  if (entries === null) redirect("/block?choose");
  const id = newId("test");
  await open.store.startSheet(open.kitchenId, id, open.visitor, entries);
  redirect(`/block/${id}`);
}

/** Puts a sheet away that will not become a test, or takes it out again. What was weighed stays on it. */
export async function putAway(formData: FormData): Promise<void> {
  const { store, kitchenId, visitor } = await openKitchen("record a test");
  const { text } = readPlainForm(formData);
  await store.putSheetAway(kitchenId, text("sheet"), visitor, text("away") !== "no");
  redirect("/block");
}

/** Records a sheet as a test, from what the book has of it; the form only says what it is worth and what it is adopted for. */
export async function recordSheet(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  const id = readPlainForm(formData).text("sheet");
  const state = await runChange(formData, {
    deed: "record a test",
    read: (input) => readSheetAsTest(input, id),
    result: (after, kitchen, seesMoney) => {
      const test = after.book.shelves.test.get(id);
      return test === undefined ? null : resultView(after, test, kitchen, seesMoney);
    },
    next: () => `/tests/${encodeURIComponent(id)}`,
  });
  if (state.status === "recorded") {
    const open = await kitchenOfCaller();
    await open?.store.sheetRecorded(open.kitchenId, id, state.changeNo);
  }
  return state;
}

