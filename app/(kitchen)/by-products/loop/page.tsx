/** A part that is worth what it earns in something: tried here, with the way round and the ways out where it goes in a circle. */
import type { Metadata } from "next";
import { byProducts } from "@/lib/buying";
import { basedOn } from "@/lib/store";
import { WorthForm } from "@/components/byproduct/ByProductForms";
import { PageTop } from "@/components/sheet/PageTop";
import type { Asked } from "../../find";
import { openKitchen } from "../../open-kitchen";
import { valueAt } from "../actions";

export const metadata: Metadata = { title: "Worth what it earns" };

export default async function LoopPage({ searchParams }: { readonly searchParams: Promise<Asked> }) {
  const asked = await searchParams;
  const { live } = await openKitchen("change tests and cuts");
  const { book } = live;
  const { house, elsewhere, nowhere, unvalued } = byProducts(live.cascade);
  const parts = [...house.flatMap(({ from }) => from), ...nowhere, ...elsewhere, ...unvalued];
  const part = parts.find((one) => one.testId === asked["test"] && one.key === asked["part"]) ?? parts[0];
  const recipes = [...book.shelves.recipe.values()].map(({ id, name }) => ({ value: `recipe:${id}`, label: name })).sort((a, b) => (a.label < b.label ? -1 : 1));
  const earns = typeof asked["earns"] === "string" ? asked["earns"] : recipes[0]?.value ?? "";
  return (
    <>
      <PageTop title="Worth what it earns" trail={[{ name: "By-products", href: "/by-products" }]}
        answer="A part may be worth what a recipe costs that it goes into. Where that recipe is made, by some way, of the very cut that the part comes off, nothing in the circle has a cost: then a price inside the house is needed, and there are three ways to find one." />
      {part === undefined || recipes.length === 0 ? <p className="quiet">There is no by-product of a test, or no recipe, in the book yet.</p> : (
        <WorthForm action={valueAt} basedOn={basedOn(live, [...new Set(parts.map(({ testId }) => testId))].map((id) => ({ kind: "test", id })))} values={{ part: `${part.testId} ${part.key}`, earns }}
          parts={parts.map((one) => ({ value: `${one.testId} ${one.key}`, label: `${one.name} off ${one.cuts.map(({ name }) => name).join(", ")}` }))} earners={recipes} />
      )}
    </>
  );
}
