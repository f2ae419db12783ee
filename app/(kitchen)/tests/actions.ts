/** What can be done to yield tests: record one (or its correction), adopt one for a cut, take one off the book. */
"use server";
import { bad, good } from "@/lib/measure";
import type { ChangeState } from "@/components/change/state";
import { runChange } from "../change-flow/run-change";
import { adoptedCut, readTestForm } from "./read-test";

export async function recordTest(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  const id = formData.get("id");
  return runChange(formData, { read: readTestForm, next: () => `/tests/${encodeURIComponent(typeof id === "string" ? id : "")}` });
}

export async function adoptTest(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    read: ({ form, live, habits, dated }) => {
      const test = live.book.shelves.test.get(form.text("testId"));
      if (test === undefined) return bad("", "not-in-the-book", "There is no such test in the book any more.");
      const adopt = form.text("adopt");
      if (adopt === "") return bad("adopt", "missing", "Choose the cut that this test stands behind, or name a new one.");
      const cut = adoptedCut(live.book, test, {
        adopt, cutId: form.text("cutId"), name: form.text("adoptName"), pooled: form.text("adoptPooled") === "yes", partKey: form.text("partKey"),
      }, habits);
      return cut.ok ? good([dated(cut.value)]) : cut;
    },
  });
}

export async function withdrawTest(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    read: ({ form, dated }) => good([dated({ kind: "test", id: form.text("id"), after: null })]),
    next: () => "/tests",
  });
}
