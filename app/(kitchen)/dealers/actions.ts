/** A dealer put in the book, changed, or taken off it. */
"use server";
import { readFact } from "@/lib/book";
import { type Checked, good } from "@/lib/measure";
import type { DatedChange } from "@/lib/store";
import type { ChangeState } from "@/components/change/state";
import { type ChangeInput, runChange } from "../change-flow/run-change";

export async function saveDealer(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  const id = formData.get("id");
  return runChange(formData, { deed: "change items and prices", read: readDealer, next: () => `/dealers/${encodeURIComponent(typeof id === "string" ? id : "")}` });
}

function readDealer({ form, live, habits, dated }: ChangeInput): Checked<readonly DatedChange[]> {
  const name = form.text("name").toLowerCase();
  const same = [...live.book.shelves.dealer.values()].find((dealer) => dealer.id !== form.text("id") && dealer.name.toLowerCase() === name);
  const dealer = readFact("dealer", { id: form.text("id"), name: form.text("name"), minimumOrder: form.text("minimumOrder"), ordering: form.text("ordering"), note: form.text("note") }, habits);
  const twice = same === undefined ? [] : [{ path: "name", code: "name-taken", sentence: `${same.name} is in the book already: add to that one, or give this one another name.` }];
  if (!dealer.ok || twice.length > 0) return { ok: false, problems: [...twice, ...(dealer.ok ? [] : dealer.problems)] };
  return good([dated({ kind: "dealer", id: dealer.value.id, after: dealer.value })]);
}

export async function withdrawDealer(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, { deed: "change items and prices", read: ({ form, dated }) => good([dated({ kind: "dealer", id: form.text("id"), after: null })]), next: () => "/dealers" });
}
