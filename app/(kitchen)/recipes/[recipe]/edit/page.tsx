/** A recipe changed: its lines, its yield, its method; the ripple is shown before it is recorded. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { isAllEdible } from "@/lib/book";
import { basedOn } from "@/lib/store";
import { RecipeForm } from "@/components/recipe/RecipeForm";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { allowanceValues } from "../../../read-allowances";
import { lineValues } from "../../../read-lines";
import { quantityInput } from "../../../tests/sheet-props";
import { saveRecipe } from "../../actions";
import { stepValues } from "../../read-steps";

export const metadata: Metadata = { title: "Change a recipe" };

export default async function EditRecipe({ params }: { readonly params: Promise<{ readonly recipe: string }> }) {
  const id = pathId((await params).recipe);
  const { live, kitchen } = await openKitchen("change recipes");
  const recipe = live.book.shelves.recipe.get(id);
  if (recipe === undefined) notFound();
  const yields = Object.fromEntries(recipe.yields.map((one, at) => [`yields.${at}`, quantityInput(one)]));
  return (
    <>
      <PageTop title={`Change ${recipe.name}`} trail={[{ name: "Recipes", href: "/recipes" }, { name: recipe.name, href: `/recipes/${encodeURIComponent(id)}` }]}
        answer="Change a line or the yield and try it: every recipe and dish that moves is shown before anything is saved." />
      <RecipeForm action={saveRecipe} basedOn={basedOn(live, [{ kind: "recipe", id }])} recordLabel="Record the change" hidden={{ id }}
        values={{ name: recipe.name, section: recipe.section, method: recipe.method, ...yields }} rows={recipe.lines.map((line) => lineValues(live.book, line, kitchen))}
        allowances={recipe.allowances.map((one) => allowanceValues(one, kitchen.locale))} steps={recipe.steps.map(stepValues)} allEdible={isAllEdible(recipe)} />
    </>
  );
}
