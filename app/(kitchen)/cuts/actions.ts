/** What can be done to cuts and portion specs. */
"use server";
import { type Cut, adoptionOn, readFact, sameTests, takenBack } from "@/lib/book";
import { type Checked, type Problem, bad, good } from "@/lib/measure";
import type { Revision } from "@/lib/store";
import type { ChangeState } from "@/components/change/state";
import { runChange } from "../change-flow/run-change";
import { kindOfOriginTyped, readBorrowed } from "./borrow";
import { readSpec } from "../specs/spec-values";
import { portionsView } from "../specs/tried";
import { readPool } from "./pool";

const text = (formData: FormData, name: string): string => {
  const value = formData.get(name);
  return typeof value === "string" ? value : "";
};

export async function saveCut(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change tests and cuts",
    read: (input) => {
      const { form, live, habits, dated } = input;
      const known = live.book.shelves.cut.get(form.text("id"));
      const pool = known === undefined ? good({ testIds: [], leftOut: [] }) : readPool(input, known);
      if (!pool.ok) return pool;
      const borrowed = known === undefined ? readBorrowed(input, kindOfOriginTyped(live.book, form.text("of"))) : good(known.borrowed);
      if (!borrowed.ok) return borrowed;
      const read = readFact("cut", {
        ...known, ...form.input, ...pool.value, borrowed: borrowed.value, of: known?.of ?? form.text("of"), partKey: form.text("partKey") === "" ? known?.partKey ?? "usable" : form.text("partKey"),
      }, habits);
      return read.ok ? good([dated({ kind: "cut", id: read.value.id, after: read.value })]) : { ok: false, problems: read.problems.map(onForm) };
    },
    next: () => `/cuts/${encodeURIComponent(text(formData, "id"))}`,
  });
}

/** The tests a cut stands on, and why others are left out. */
export async function poolTests(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change tests and cuts",
    read: (input) => {
      const { form, live, habits, dated } = input;
      const cut = live.book.shelves.cut.get(form.text("id"));
      if (cut === undefined) return GONE;
      const pool = readPool(input, cut);
      if (!pool.ok) return pool;
      if (sameTests(pool.value, cut) && JSON.stringify(pool.value.leftOut) === JSON.stringify(cut.leftOut)) return good([]);
      const read = readFact("cut", { ...cut, ...pool.value }, habits);
      return read.ok ? good([dated({ kind: "cut", id: cut.id, after: read.value })]) : { ok: false, problems: read.problems.map(onForm) };
    },
  });
}

/** Gives a cut the tests back that it stood on before those of now, or before those that wait for their day (`waiting`: their revision). */
export async function takeBack(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  const id = text(formData, "id");
  return runChange(formData, {
    deed: "change tests and cuts",
    read: async ({ form, open, live, today, dated }) => {
      const revisions = await open.store.revisionsOf(open.kitchenId, "cut", id);
      const waiting = live.ahead.find((one) => one.kind === "cut" && one.id === id && String(one.revision) === form.text("waiting"));
      if (form.text("waiting") !== "" && waiting === undefined) return bad("", "not-waiting", "It does not wait any more: it applies already, or somebody took it back before you.");
      const adoption = adoptionOn(revisions as readonly CutRevision[], waiting?.validFrom ?? today);
      if (adoption === null) return GONE;
      const cut = takenBack(adoption);
      if (!cut.ok) return cut;
      const gone = cut.value.testIds.filter((test) => !live.book.shelves.test.has(test)).length;
      if (gone > 0) return bad("", "test-gone", `${gone === 1 ? "A test" : `${gone} tests`} that it stood on before ${gone === 1 ? "has" : "have"} been taken off the book since: choose the tests it is to stand on instead.`);
      const change = { kind: "cut", id, after: cut.value } as const;
      return good([waiting === undefined ? dated(change) : { change, validFrom: waiting.validFrom, replaces: waiting.revision }]);
    },
    // What waited is gone from the page, and its form with it: the record tells that it was taken back.
    ...(text(formData, "waiting") === "" ? {} : { next: (changeNo: number) => `/record/${changeNo}` }),
  });
}

type CutRevision = Revision & { readonly fact: Cut | null };
const GONE = bad("", "not-in-the-book", "There is no such cut in the book any more.");

function onForm(problem: Problem): Problem {
  return /^(testIds|leftOut)/.test(problem.path) ? { ...problem, path: "" } : problem;
}

export async function withdrawCut(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, { deed: "change tests and cuts", read: ({ form, dated }) => good([dated({ kind: "cut", id: form.text("id"), after: null })]), next: () => "/cuts" });
}

export async function saveSpec(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change specs",
    read: ({ form, live, habits, dated }): Checked<ReturnType<typeof dated>[]> => {
      const read = readSpec(form, live.book.shelves.spec.get(form.text("id")), habits);
      return read.ok ? good([dated({ kind: "spec", id: read.value.id, after: read.value })]) : read;
    },
    result: (after, kitchen, seesMoney, before) => portionsView(before, after, text(formData, "id"), kitchen, seesMoney),
    next: () => `/specs/${encodeURIComponent(text(formData, "id"))}`,
  });
}

export async function withdrawSpec(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, { deed: "change specs", read: ({ form, dated }) => good([dated({ kind: "spec", id: form.text("id"), after: null })]), next: () => "/cuts" });
}
