/** What is on the plate, changed. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { basedOn } from "@/lib/store";
import { DishForm } from "@/components/dish/DishForms";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { allowanceValues } from "../../../read-allowances";
import { lineValues } from "../../../read-lines";
import { saveDish } from "../../actions";

export const metadata: Metadata = { title: "Change a plate" };

export default async function EditDish({ params }: { readonly params: Promise<{ readonly dish: string }> }) {
  const id = pathId((await params).dish);
  const { live, kitchen } = await openKitchen("change dishes and menu prices");
  const dish = live.book.shelves.dish.get(id);
  if (dish === undefined) notFound();
  return (
    <>
      <PageTop title={`Change ${dish.name}`} trail={[{ name: "Dishes", href: "/dishes" }, { name: dish.name, href: `/dishes/${encodeURIComponent(id)}` }]}
        answer="Change what is on the plate and try it: where the dish will stand is shown before anything is saved." />
      <DishForm action={saveDish} basedOn={basedOn(live, [{ kind: "dish", id }])} recordLabel="Record the change" hidden={{ id }} withPrice={false}
        values={{ name: dish.name, section: dish.section, note: dish.note }} rows={dish.lines.map((line) => ({ ...lineValues(live.book, line, kitchen), role: line.role, channel: line.channel }))} allowances={dish.allowances.map((one) => allowanceValues(one, kitchen.locale))} />
    </>
  );
}
