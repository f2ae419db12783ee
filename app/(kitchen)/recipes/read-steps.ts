/** The steps of a recipe as the form sends them. */
import { type RecipeStep, USUAL_TEMPERATURES } from "@/lib/book";
import type { Habits, Problem } from "@/lib/measure";
import type { Values } from "@/components/form";
import type { ReadForm } from "../change-flow/read-form";

/** For the schema of a recipe. A usual temperature that was chosen fills in what was left empty. */
export function stepsOf(form: ReadForm, { measures }: Pick<Habits, "measures">): readonly unknown[] {
  return form.rows("steps").map(({ text = "", usual = "", degrees = "", scale = "", held = "" }) => {
    const chosen = usual === "" || degrees.trim() !== "" ? undefined : USUAL_TEMPERATURES[Number(usual)];
    if (chosen !== undefined) return { text, critical: { degrees: measures === "us" ? chosen.fahrenheit : chosen.celsius, scale: measures === "us" ? "F" : "C", held: held.trim() === "" ? chosen.held : held } };
    return { text, critical: degrees.trim() === "" && held.trim() === "" ? null : { degrees, scale, held } };
  });
}

/** The schema's paths turned to the form's fields. */
export function atSteps(problems: readonly Problem[]): readonly Problem[] {
  return problems.map((problem) => ({ ...problem, path: problem.path.replace(/^(steps\.\d+)\.critical\b\.?/, "$1.").replace(/\.$/, "") }));
}

export function stepValues({ text, critical }: RecipeStep): Values {
  return { text, degrees: critical?.degrees ?? "", scale: critical?.scale ?? "", held: critical?.held ?? "" };
}
