/** What can be done to recipes. */
"use server";
import { readFact } from "@/lib/book";
import { type Checked, good } from "@/lib/measure";
import type { DatedChange } from "@/lib/store";
import type { ChangeState } from "@/components/change/state";
import { runChange } from "../change-flow/run-change";
import { allowancesOf, atAllowances } from "../read-allowances";
import { linesOf } from "../read-lines";
import { atSteps, stepsOf } from "./read-steps";

export async function saveRecipe(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  const id = String(formData.get("id") ?? "");
  return runChange(formData, {
    deed: "change recipes",
    read: ({ form, live, habits, dated }): Checked<readonly DatedChange[]> => {
      const lines = linesOf(form, live.book, habits);
      // The first yield is asked for even when it is empty; the others only count when something was typed.
      const yields = [0, 1, 2].map((at) => form.text(`yields.${at}`)).filter((text, at) => at === 0 || text !== "");
      const before = live.book.shelves.recipe.get(id);
      // A form that does not show allowances or steps leaves them as they are.
      const allowances = "allowances" in form.input ? allowancesOf(form) : before?.allowances ?? [];
      const steps = "steps" in form.input ? stepsOf(form, habits) : before?.steps ?? [];
      const recipe = readFact("recipe", { ...form.input, yields, lines: lines.input, allowances, steps }, habits);
      const problems = [...lines.problems, ...(recipe.ok ? [] : atSteps(atAllowances(recipe.problems)))];
      return problems.length > 0 || !recipe.ok ? { ok: false, problems } : good([dated({ kind: "recipe", id: recipe.value.id, after: recipe.value })]);
    },
    next: () => `/recipes/${encodeURIComponent(id)}`,
  });
}

export async function withdrawRecipe(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, { deed: "change recipes", read: ({ form, dated }) => good([dated({ kind: "recipe", id: form.text("id"), after: null })]), next: () => "/recipes" });
}
