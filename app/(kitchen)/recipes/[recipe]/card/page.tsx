/** A recipe's card for the kitchen, on paper and without money; with ?make=… at another size. */
import type { Metadata } from "next";
import { allergensOf } from "@/lib/book";
import { PrintBar } from "@/components/paper/PrintBar";
import { MakeForm } from "@/components/recipe/MakeForm";
import { RecipeCard } from "@/components/recipe/RecipeCard";
import { TakeAway } from "@/components/out/TakeAway";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../../../open-kitchen";
import { type PrintProps, recipePrint } from "../printed";

export const metadata: Metadata = { title: "Recipe card" };

export default async function CardPage(props: PrintProps) {
  const open = await openKitchen("read the book");
  const { live, kitchen, may } = open;
  const print = await recipePrint(props, open);
  const { recipe, address, query, paper } = print;
  return (
    <>
      <div className="no-print">
        <PageTop title={`${recipe.name}, the card`} trail={may("see money") ? [{ name: "Recipes", href: "/recipes" }, { name: recipe.name, href: `${address}${query()}` }] : [{ name: "Allergens and cards", href: "/allergens?of=recipes" }]} of="For the kitchen, no money on it" />
        <MakeForm action={`${address}/card`} asked={print.asked} carried={{ paper }} />
        <PrintBar paper={paper} href={(one) => `${address}/card${query(one)}`} />
        <TakeAway name="The recipe card" href="/out/recipe-card" ask={{ of: recipe.id, ...(print.asked.text === "" ? {} : { make: print.asked.text }), paper }}>Take this card away</TakeAway>
      </div>
      <RecipeCard recipe={recipe} kitchen={kitchen.name} habits={kitchen} yields={print.yields} size={print.size} care={print.care} lines={print.lines}
        allergens={allergensOf(live.book, { kind: "recipe", id: recipe.id })} printed={print.printed} paper={paper} />
    </>
  );
}
