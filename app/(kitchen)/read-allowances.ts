/** Allowances as the form sends them: a name, what they are reckoned as, how much. */
import type { Allowance } from "@/lib/book";
import { type Problem, shareText } from "@/lib/measure";
import type { Values } from "@/components/form";
import type { ReadForm } from "./change-flow/read-form";

/** For the schema of a recipe or a dish. */
export function allowancesOf(form: ReadForm): readonly unknown[] {
  return form.rows("allowances").map(({ key = "", name = "", by = "on-cost", amount = "" }) => (
    by === "money" ? { key, name, kind: "money", amount } : { key, name, kind: "share", share: amount, basis: by }
  ));
}

/** The schema's paths turned to the form's fields: whatever is reckoned, its figure stands in one field. */
export function atAllowances(problems: readonly Problem[]): readonly Problem[] {
  return problems.map((problem) => ({ ...problem, path: problem.path.replace(/^(allowances\.\d+)\.share\b/, "$1.amount").replace(/^(allowances\.\d+)\.basis\b/, "$1.by") }));
}

export function allowanceValues(allowance: Allowance, locale: string): Values {
  const { key, name } = allowance;
  return allowance.kind === "money"
    ? { key, name, by: "money", amount: allowance.amount.typed ?? allowance.amount.amount }
    : { key, name, by: allowance.basis, amount: shareText(allowance.share, { locale }) };
}
