/** One recipe: what goes in at what it costs today, what the batch and a unit of it cost, and where it goes. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { allergensOf, isAllEdible } from "@/lib/book";
import { type Explanation, explain, usersOf } from "@/lib/cascade";
import { oneOf, printDay, printMoney, quantityText, ratio } from "@/lib/measure";
import { basedOn } from "@/lib/store";
import { AllergensOf } from "@/components/allergen/AllergensOf";
import { ChangeForm } from "@/components/change/ChangeForm";
import { ExplanationLedger, RecordedBy } from "@/components/explanation/ExplanationLedger";
import { RestsOnBorrowed } from "@/components/figure/Borrowed";
import { Figure, figureHref } from "@/components/figure/Figure";
import { Missing } from "@/components/figure/Missing";
import { UsedBy } from "@/components/figure/UsedBy";
import { ButtonLink } from "@/components/form";
import { IfMay } from "@/components/kitchen/IfMay";
import { MakeForm } from "@/components/recipe/MakeForm";
import { ScaledLines } from "@/components/recipe/ScaledLines";
import { Steps } from "@/components/recipe/Steps";
import { type AskedMake, askedMake, careWords, linesAtSize, timesText, yieldsAtSize } from "@/components/recipe/scaled";
import { PageTop } from "@/components/sheet/PageTop";
import { currencySign } from "../../change-flow/ripple-view";
import { openKitchen } from "../../open-kitchen";
import { pathId } from "../../path-id";
import { withdrawRecipe } from "../actions";

interface Params {
  readonly params: Promise<{ readonly recipe: string }>;
  readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>>;
}

export async function generateMetadata({ params }: Pick<Params, "params">): Promise<Metadata> {
  const { live } = await openKitchen("see money");
  return { title: live.book.shelves.recipe.get(pathId((await params).recipe))?.name ?? "Recipe" };
}

export default async function RecipePage({ params, searchParams }: Params) {
  const id = pathId((await params).recipe);
  const { live, kitchen } = await openKitchen("see money");
  const { book, cascade } = live;
  const recipe = book.shelves.recipe.get(id);
  const opened = recipe && explain(cascade, { kind: "recipe", id });
  if (!recipe || !opened) notFound();
  const batch = printMoney(opened.cost.amount, kitchen);
  const { make } = await searchParams;
  const asked = askedMake(typeof make === "string" ? make : "", recipe, kitchen);
  const at = encodeURIComponent(id);
  const so = asked.make === null ? "" : `?${new URLSearchParams({ make: asked.text }).toString()}`;
  return (
    <>
      <PageTop title={recipe.name} trail={[{ name: "Recipes", href: "/recipes" }]} of={<>{recipe.section !== "" && <>{recipe.section} · </>}a batch of {recipe.yields.map((one) => quantityText(one, kitchen)).join(", or ")} · as of {printDay(live.today, kitchen)}</>}
        answer={opened.cost.missing.length > 0 ? <>A batch costs <Missing atLeast={batch} missing={opened.cost.missing} />.<RestsOnBorrowed borrowed={opened.cost.borrowed} /></>
          : <>A batch costs <Figure of={{ figure: batch, unit: "" }} href={figureHref({ kind: "recipe", id })} strong />{opened.costOf.map((one) => <span key={one.quantity.unit}>, {oneOf(one.quantity.unit)} <strong>{printMoney(one.amount, kitchen)}</strong></span>)}.<RestsOnBorrowed borrowed={opened.cost.borrowed} /></>}>
        <IfMay deed="change recipes"><ButtonLink href={`/recipes/${at}/edit`}>Change this recipe</ButtonLink></IfMay>
        <ButtonLink href={`/recipes/${at}/card${so}`} plain>Card</ButtonLink>
        <ButtonLink href={`/recipes/${at}/cost-sheet${so}`} plain>Cost sheet</ButtonLink>
      </PageTop>
      <MakeForm action={`/recipes/${at}`} asked={asked} />
      {asked.make !== null && <AtSize asked={asked} make={asked.make} opened={opened} />}
      <ExplanationLedger explanation={opened} kitchen={kitchen} currency={currencySign(kitchen)} on={null} />
      {isAllEdible(recipe) && recipe.allowances.some((one) => one.kind === "share") && <p><strong>Every line is edible portion:</strong> what is lost stands in its yield already. A share for waste on top of it counts it twice.</p>}
      <h2>Where it goes</h2>
      <UsedBy users={usersOf(book, { kind: "recipe", id })} nothing="No other recipe and no dish uses it yet." />
      {(recipe.method !== "" || recipe.steps.length > 0) && <><h2>Method</h2><Steps recipe={recipe} habits={kitchen} /></>}
      <p className="quiet">Cook, cool and hold to the temperatures of your local food code; those written here are this kitchen’s own words.</p>
      <AllergensOf found={allergensOf(book, { kind: "recipe", id })} what="this recipe" />
      <RecordedBy provenance={opened.provenance} kitchen={kitchen} />
      <details>
        <summary>Take this recipe off the book</summary>
        <p>It stays in the record. It cannot be taken off while something uses it.</p>
        <ChangeForm action={withdrawRecipe} basedOn={basedOn(live, [{ kind: "recipe", id }])} hidden={{ id }} recordLabel="Take it off" id="withdraw"><></></ChangeForm>
      </details>
    </>
  );
}

/** The lines at the size asked for, what they come to, and what does not go by multiplying. */
async function AtSize({ asked, make, opened }: { readonly asked: AskedMake; readonly make: NonNullable<AskedMake["make"]>; readonly opened: Explanation }) {
  const { live, kitchen } = await openKitchen("see money");
  const recipe = live.book.shelves.recipe.get(opened.ref.id);
  if (recipe === undefined) return null;
  const care = careWords(make.factor);
  const cost = opened.cost.amount.mul(ratio.toDecimal(ratio.fromExact(make.factor)));
  return (
    <section aria-label={`Made as ${asked.text}`}>
      <h2>Made as {asked.text}</h2>
      <p className="say">{timesText(make.factor, kitchen)} times the batch: {yieldsAtSize(recipe, make.factor, kitchen)}, for {opened.cost.missing.length > 0 && "at least "}<strong>{printMoney(cost, kitchen)}</strong>.</p>
      {care !== null && <p className="caution"><strong>With care.</strong> {care}</p>}
      <ScaledLines caption={`${recipe.lines.length} lines, each times ${timesText(make.factor, kitchen)}`} lines={linesAtSize(live.book, recipe, make.factor, kitchen)}
        through={new Map(opened.steps.flatMap((step) => (step.converted === null ? [] : [[step.key, step.converted.through] as const])))} kitchen={kitchen} />
      <p className="quiet">“About” stands where an amount was rounded to what a scale or a spoon shows; costs are reckoned on the exact amount. The whole of it below is for the batch as it was measured.</p>
    </section>
  );
}
