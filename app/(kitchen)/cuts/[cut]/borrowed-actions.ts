/** Taking a published yield up for a cut that has no test, and giving it back. */
"use server";
import { readFact } from "@/lib/book";
import { bad, good } from "@/lib/measure";
import type { ChangeState } from "@/components/change/state";
import { runChange } from "../../change-flow/run-change";
import { kindOfOrigin, readBorrowed } from "../borrow";

const GONE = bad("", "not-in-the-book", "There is no such cut in the book any more.");

export async function borrowYield(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change tests and cuts",
    read: (input) => {
      const { form, live, habits, dated } = input;
      const cut = live.book.shelves.cut.get(form.text("id"));
      if (cut === undefined) return GONE;
      const borrowed = readBorrowed(input, kindOfOrigin(live.book, cut.of));
      if (!borrowed.ok) return borrowed;
      if (borrowed.value === null) return bad("borrow", "missing", "Choose a yield to borrow, or type one by hand with where it is from.");
      if (cut.testIds.length > 0) return bad("", "has-tests", `${cut.name} stands on a test of your own, which is better than any borrowed yield.`);
      const read = readFact("cut", { ...cut, borrowed: borrowed.value }, habits);
      return read.ok ? good([dated({ kind: "cut", id: cut.id, after: read.value })]) : read;
    },
  });
}

export async function giveBack(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change tests and cuts",
    read: ({ form, live, dated }) => {
      const cut = live.book.shelves.cut.get(form.text("id"));
      if (cut === undefined) return GONE;
      return good(cut.borrowed === null ? [] : [dated({ kind: "cut", id: cut.id, after: { ...cut, borrowed: null } })]);
    },
  });
}
