/** One recipe: what goes in at what it costs today, what the batch and a unit of it cost, and where it goes. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { explain, usersOf } from "@/lib/cascade";
import { oneOf, printDay, printMoney, quantityText } from "@/lib/measure";
import { basedOn } from "@/lib/store";
import { ChangeForm } from "@/components/change/ChangeForm";
import { ExplanationLedger, RecordedBy } from "@/components/explanation/ExplanationLedger";
import { RestsOnBorrowed } from "@/components/figure/Borrowed";
import { Figure, figureHref } from "@/components/figure/Figure";
import { Missing } from "@/components/figure/Missing";
import { UsedBy } from "@/components/figure/UsedBy";
import { ButtonLink } from "@/components/form";
import { IfMay } from "@/components/kitchen/IfMay";
import { PageTop } from "@/components/sheet/PageTop";
import { currencySign } from "../../change-flow/ripple-view";
import { openKitchen } from "../../open-kitchen";
import { pathId } from "../../path-id";
import { withdrawRecipe } from "../actions";

type Params = { readonly params: Promise<{ readonly recipe: string }> };

export async function generateMetadata({ params }: Params): Promise<Metadata> {
  const { live } = await openKitchen("see money");
  return { title: live.book.shelves.recipe.get(pathId((await params).recipe))?.name ?? "Recipe" };
}

export default async function RecipePage({ params }: Params) {
  const id = pathId((await params).recipe);
  const { live, kitchen } = await openKitchen("see money");
  const { book, cascade } = live;
  const recipe = book.shelves.recipe.get(id);
  const opened = recipe && explain(cascade, { kind: "recipe", id });
  if (!recipe || !opened) notFound();
  const batch = printMoney(opened.cost.amount, kitchen);
  return (
    <>
      <PageTop title={recipe.name} trail={[{ name: "Recipes", href: "/recipes" }]} of={<>{recipe.section !== "" && <>{recipe.section} · </>}a batch of {recipe.yields.map((one) => quantityText(one, kitchen)).join(", or ")} · as of {printDay(live.today, kitchen)}</>}
        answer={opened.cost.missing.length > 0 ? <>A batch costs <Missing atLeast={batch} missing={opened.cost.missing} />.<RestsOnBorrowed borrowed={opened.cost.borrowed} /></>
          : <>A batch costs <Figure of={{ figure: batch, unit: "" }} href={figureHref({ kind: "recipe", id })} strong />{opened.costOf.map((one) => <span key={one.quantity.unit}>, {oneOf(one.quantity.unit)} <strong>{printMoney(one.amount, kitchen)}</strong></span>)}.<RestsOnBorrowed borrowed={opened.cost.borrowed} /></>}>
        <IfMay deed="change recipes"><ButtonLink href={`/recipes/${encodeURIComponent(id)}/edit`}>Change this recipe</ButtonLink></IfMay>
      </PageTop>
      <ExplanationLedger explanation={opened} kitchen={kitchen} currency={currencySign(kitchen)} on={null} />
      <h2>Where it goes</h2>
      <UsedBy users={usersOf(book, { kind: "recipe", id })} nothing="No other recipe and no dish uses it yet." />
      {recipe.method !== "" && <><h2>Method</h2><p className="prose">{recipe.method}</p></>}
      <p className="quiet">Cook, cool and hold to the temperatures of your local food code. Check the labels for allergens: this page does not know them.</p>
      <RecordedBy provenance={opened.provenance} kitchen={kitchen} />
      <details>
        <summary>Take this recipe off the book</summary>
        <p>It stays in the record. It cannot be taken off while something uses it.</p>
        <ChangeForm action={withdrawRecipe} basedOn={basedOn(live, [{ kind: "recipe", id }])} hidden={{ id }} recordLabel="Take it off" id="withdraw"><></></ChangeForm>
      </details>
    </>
  );
}
