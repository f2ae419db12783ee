/** What can be done to yield tests: record one (or its correction), adopt one for a cut, take one off the book. */
"use server";
import { bad, good } from "@/lib/measure";
import type { ChangeState } from "@/components/change/state";
import { runChange } from "../change-flow/run-change";
import { adoptedCut, adoptedEarly, adoptionIn, readTestForm } from "./read-test";
import { resultView } from "./result-view";

export async function recordTest(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  const id = formData.get("id");
  const testId = typeof id === "string" ? id : "";
  return runChange(formData, {
    deed: "record a test",
    read: readTestForm,
    result: (after, kitchen, seesMoney) => {
      const test = after.book.shelves.test.get(testId);
      return test === undefined ? null : resultView(after, test, kitchen, seesMoney);
    },
    next: () => `/tests/${encodeURIComponent(testId)}`,
  });
}

export async function adoptTest(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change tests and cuts",
    read: (input) => {
      const { form, live, habits, dated } = input;
      const test = live.book.shelves.test.get(form.text("testId"));
      if (test === undefined) return bad("", "not-in-the-book", "There is no such test in the book any more.");
      if (form.text("adopt") === "") return bad("adopt", "missing", "Choose the cut that this test stands behind, or name a new one.");
      const early = adoptedEarly(input, test);
      if (early !== null) return { ok: false, problems: [early] };
      const cut = adoptedCut(live.book, test, adoptionIn(form, ""), habits);
      return cut.ok ? good([dated(cut.value)]) : cut;
    },
  });
}

export async function withdrawTest(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change tests and cuts",
    read: ({ form, dated }) => good([dated({ kind: "test", id: form.text("id"), after: null })]),
    next: () => "/tests",
  });
}
