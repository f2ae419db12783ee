/** A new recipe. */
import type { Metadata } from "next";
import { basedOn, newId } from "@/lib/store";
import { RecipeForm } from "@/components/recipe/RecipeForm";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../../open-kitchen";
import { saveRecipe } from "../actions";

export const metadata: Metadata = { title: "Add a recipe" };

export default async function NewRecipe() {
  const { live } = await openKitchen("change recipes");
  const id = newId("recipe");
  return (
    <>
      <PageTop title="Add a recipe" trail={[{ name: "Recipes", href: "/recipes" }]} answer="Write what goes in and what came out of the pot, measured. The cost follows." />
      <RecipeForm action={saveRecipe} basedOn={basedOn(live, [{ kind: "recipe", id }])} recordLabel="Record this recipe" hidden={{ id }} values={{ name: "", section: "", method: "" }} rows={[{}, {}, {}]} />
    </>
  );
}
