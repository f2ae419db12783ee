/** A recipe's cost sheet on paper: every line at its price of the day, allowances, the batch and a unit of it; with ?make=… at another size. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { explain } from "@/lib/cascade";
import { printDay, ratio } from "@/lib/measure";
import { PrintBar } from "@/components/paper/PrintBar";
import { CostSheet } from "@/components/recipe/CostSheet";
import { MakeForm } from "@/components/recipe/MakeForm";
import { ONE_BATCH } from "@/components/recipe/scaled";
import { TakeAway } from "@/components/out/TakeAway";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../../../open-kitchen";
import { type PrintProps, recipePrint } from "../printed";

export const metadata: Metadata = { title: "Cost sheet" };

export default async function CostSheetPage(props: PrintProps) {
  const open = await openKitchen("see money");
  const { live, kitchen } = open;
  const print = await recipePrint(props, open);
  const { recipe, address, query, paper } = print;
  const opened = explain(live.cascade, { kind: "recipe", id: recipe.id });
  if (opened === null) notFound();
  return (
    <>
      <div className="no-print">
        <PageTop title={`${recipe.name}, the cost sheet`} trail={[{ name: "Recipes", href: "/recipes" }, { name: recipe.name, href: `${address}${query()}` }]} of="For the office" />
        <MakeForm action={`${address}/cost-sheet`} asked={print.asked} carried={{ paper }} />
        <PrintBar paper={paper} href={(one) => `${address}/cost-sheet${query(one)}`} />
        <TakeAway name="The cost sheet" href="/out/cost-sheet" ask={{ of: recipe.id, ...(print.asked.text === "" ? {} : { make: print.asked.text }), paper }}>Take this sheet away</TakeAway>
      </div>
      <CostSheet name={recipe.name} kitchen={kitchen} opened={opened} lines={print.lines} times={ratio.toDecimal(ratio.fromExact(print.asked.make?.factor ?? ONE_BATCH))}
        yields={print.yields} size={print.size} care={print.care} asOf={printDay(live.today, kitchen)} printed={print.printed} paper={paper} />
    </>
  );
}
