/** What can be done to recipes. */
"use server";
import { readFact } from "@/lib/book";
import { type Checked, good } from "@/lib/measure";
import type { DatedChange } from "@/lib/store";
import type { ChangeState } from "@/components/change/state";
import { runChange } from "../change-flow/run-change";
import { linesOf } from "../read-lines";

export async function saveRecipe(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  const id = String(formData.get("id") ?? "");
  return runChange(formData, {
    deed: "change recipes",
    read: ({ form, live, habits, dated }): Checked<readonly DatedChange[]> => {
      const lines = linesOf(form, live.book);
      // The first yield is asked for even when it is empty; the others only count when something was typed.
      const yields = [0, 1, 2].map((at) => form.text(`yields.${at}`)).filter((text, at) => at === 0 || text !== "");
      const recipe = readFact("recipe", { ...form.input, yields, lines: lines.input }, habits);
      const problems = [...lines.problems, ...(recipe.ok ? [] : recipe.problems)];
      return problems.length > 0 || !recipe.ok ? { ok: false, problems } : good([dated({ kind: "recipe", id: recipe.value.id, after: recipe.value })]);
    },
    next: () => `/recipes/${encodeURIComponent(id)}`,
  });
}

export async function withdrawRecipe(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, { deed: "change recipes", read: ({ form, dated }) => good([dated({ kind: "recipe", id: form.text("id"), after: null })]), next: () => "/recipes" });
}
