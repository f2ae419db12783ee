/** Makes a part of a test a by-product of the house: an item with a price inside the house, to which the part is linked. */
import type { Metadata } from "next";
import { type PartRow, byProducts } from "@/lib/buying";
import { customaryUnit, printDay } from "@/lib/measure";
import { basedOn, newId } from "@/lib/store";
import { MakeByProductForm } from "@/components/byproduct/ByProductForms";
import { PageTop } from "@/components/sheet/PageTop";
import type { Asked } from "../../find";
import { openKitchen } from "../../open-kitchen";
import { rateInput } from "../../tests/sheet-props";
import { makeByProduct } from "../actions";

export const metadata: Metadata = { title: "A by-product of the house" };

export default async function NewByProduct({ searchParams }: { readonly searchParams: Promise<Asked> }) {
  const asked = await searchParams;
  const { live, kitchen } = await openKitchen("change items and prices");
  const { book } = live;
  const { elsewhere, nowhere, unvalued } = byProducts(live.cascade);
  const parts = [...nowhere, ...elsewhere, ...unvalued];
  const part = parts.find((one) => one.testId === asked["test"] && one.key === asked["part"]);
  const kind = part?.kind ?? "mass";
  const alike = part === undefined ? [] : parts.filter((one) => one !== part && one.kind === part.kind && one.name.toLowerCase() === part.name.toLowerCase());
  const test = part === undefined ? undefined : book.shelves.test.get(part.testId);
  const starts: Readonly<Record<string, string>> = part?.value?.kind === "typed" ? { "transfer.kind": "fixed", "transfer.rate": rateInput(part.value.rate), "transfer.source": `typed beside the test of ${printDay(test?.on ?? live.today, kitchen)}` }
    : part?.value?.kind === "item" ? { "transfer.kind": "item", "transfer.inPlaceOf": book.shelves.item.get(part.value.id)?.name ?? "" } : { "transfer.kind": "fixed" };
  return (
    <>
      <PageTop title={part === undefined ? "A by-product of the house" : `${part.name}: a by-product of the house`} trail={[{ name: "By-products", href: "/by-products" }]}
        of={part === undefined ? undefined : `off ${part.cuts.map(({ name }) => name).join(", ")}`}
        answer="It becomes an item that is not bought: recipes and dishes take it like any other, and are charged what the cut is credited with. The test keeps its weights; from the day below on, its part is worth what the by-product is passed on at." />
      <MakeByProductForm action={makeByProduct} basedOn={basedOn(live, [part, ...alike].flatMap((one: PartRow | undefined) => (one === undefined ? [] : [{ kind: "test" as const, id: one.testId }])))}
        hidden={{ id: newId("item"), testId: part?.testId ?? "", key: part?.key ?? "", kind }} values={{ name: part?.name ?? "", section: "By-products", ...starts }}
        kind={kind} unit={customaryUnit(kind, kitchen)} items={[...book.shelves.item.values()].map(({ name }) => name)}
        alike={alike.map((one) => ({ value: `${one.testId} ${one.key}`, label: `${one.name} off ${one.cuts.map(({ name }) => name).join(", ")}` }))} />
    </>
  );
}
