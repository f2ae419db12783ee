/** The house's rules, changed. */
"use server";
import { readFact } from "@/lib/book";
import { type Checked, type Problem, good } from "@/lib/measure";
import type { DatedChange } from "@/lib/store";
import type { ChangeState } from "@/components/change/state";
import { runChange } from "../change-flow/run-change";

export async function saveHouse(_state: ChangeState, formData: FormData): Promise<ChangeState> {
  return runChange(formData, {
    deed: "change the kitchen",
    read: ({ form, habits, dated }): Checked<readonly DatedChange[]> => {
      const { endings, budget, sectionTargets, exchangeRates } = form.input;
      const kitchen = readFact("kitchen", {
        // What the form does not send stays as it was.
        ...habits, ...form.input, id: habits.id,
        sectionTargets: sectionTargets ?? habits.sectionTargets,
        exchangeRates: withoutOwn(exchangeRates ?? habits.exchangeRates, form.text("currency"), habits.currency),
        endings: typeof endings === "string" ? endings.split(/[\s;]+/).map((ending) => ending.replace(/,$/, "")).filter(Boolean) : habits.endings,
        budget: budget === undefined ? habits.budget : isBlank(budget) ? null : budget,
      }, habits);
      return kitchen.ok ? good([dated({ kind: "kitchen", id: habits.id, after: kitchen.value })]) : { ok: false, problems: kitchen.problems.map(atField) };
    },
  });
}

/** A kitchen that would pay in other money from now on needs no rate for it any more; whether it may is asked of the book. */
function withoutOwn(rates: unknown, currency: string, before: string): unknown {
  if (currency === "" || currency === before || !Array.isArray(rates)) return rates;
  return rates.filter((rate: unknown) => !(typeof rate === "object" && rate !== null && "currency" in rate && rate.currency === currency));
}

/** Endings stand in one field. */
function atField(problem: Problem): Problem {
  return problem.path.startsWith("endings.") ? { ...problem, path: "endings" } : problem;
}

function isBlank(budget: unknown): boolean {
  return typeof budget === "object" && budget !== null && Object.values(budget).every((text) => String(text).trim() === "");
}
