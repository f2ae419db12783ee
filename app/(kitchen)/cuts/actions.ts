/** What can be done to cuts and portion specs. */
"use server";
import { readFact } from "@/lib/book";
import { type Checked, type Problem, good } from "@/lib/measure";
import type { ChangeState } from "@/components/change/state";
import { type ChangeInput, runChange } from "../change-flow/run-change";

const text = (formData: FormData, name: string): string => {
  const value = formData.get(name);
  return typeof value === "string" ? value : "";
};

export async function saveCut(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change tests and cuts",
    read: ({ form, live, habits, dated }) => {
      const known = live.book.shelves.cut.get(form.text("id"));
      const of = known?.of ?? form.text("of");
      const read = readFact("cut", {
        ...form.input, of, testIds: known === undefined ? [] : keptTests(form, known.testIds), partKey: form.text("partKey") === "" ? known?.partKey ?? "usable" : form.text("partKey"),
      }, habits);
      return read.ok ? good([dated({ kind: "cut", id: read.value.id, after: read.value })]) : { ok: false, problems: read.problems.map(onForm) };
    },
    next: () => `/cuts/${encodeURIComponent(text(formData, "id"))}`,
  });
}

/** The adopted tests that stayed ticked. */
function keptTests(form: ChangeInput["form"], testIds: readonly string[]): readonly string[] {
  return testIds.filter((id) => form.text(`keep.${id}`) === "yes");
}

function onForm(problem: Problem): Problem {
  return problem.path.startsWith("testIds") ? { ...problem, path: "" } : problem;
}

export async function withdrawCut(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, { deed: "change tests and cuts", read: ({ form, dated }) => good([dated({ kind: "cut", id: form.text("id"), after: null })]), next: () => "/cuts" });
}

export async function saveSpec(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change specs",
    read: ({ form, habits, dated }): Checked<ReturnType<typeof dated>[]> => {
      const read = readFact("spec", form.input, habits);
      return read.ok ? good([dated({ kind: "spec", id: read.value.id, after: read.value })]) : read;
    },
    next: () => `/specs/${encodeURIComponent(text(formData, "id"))}`,
  });
}

export async function withdrawSpec(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, { deed: "change specs", read: ({ form, dated }) => good([dated({ kind: "spec", id: form.text("id"), after: null })]), next: () => "/cuts" });
}
