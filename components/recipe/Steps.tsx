/** The method: what stands before the steps, then each step with the temperature that it must reach or keep. */
import type { Recipe, RecipeStep } from "@/lib/book";
import { type Habits, printNumber, toDecimal } from "@/lib/measure";
import "./recipe.css";

export function Steps({ recipe, habits }: { readonly recipe: Pick<Recipe, "method" | "steps">; readonly habits: Habits }) {
  return (
    <>
      {recipe.method !== "" && <p className="prose">{recipe.method}</p>}
      {recipe.steps.length > 0 && (
        <ol className="steps">
          {recipe.steps.map((step, index) => <li key={index}>{step.text}{step.critical !== null && <span className="critical"> <strong>{criticalText(step.critical, habits)}</strong></span>}</li>)}
        </ol>
      )}
    </>
  );
}

/** "165 °F, 15 seconds". */
export function criticalText({ degrees, scale, held }: NonNullable<RecipeStep["critical"]>, habits: Habits): string {
  return `${printNumber(toDecimal(degrees), habits)} °${scale}${held === "" ? "" : `, ${held}`}`;
}
