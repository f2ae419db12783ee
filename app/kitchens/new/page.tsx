/** Opening a kitchen: the demo, or an empty one. */
import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { openAccess } from "@/lib/access";
import { OpenKitchenForms } from "@/components/kitchen/OpenKitchenForms";
import { PageTop } from "@/components/sheet/PageTop";
import { needVisitor } from "../../visit";
import { openDemo, openEmpty } from "../actions";

export const metadata: Metadata = { title: "Open a kitchen" };

export default async function NewKitchen() {
  const visitor = await needVisitor();
  if (!await (await openAccess()).mayOpenKitchens(visitor.personId)) redirect("/kitchens");
  return (
    <main className="sheet alone" id="page" tabIndex={-1}>
      <PageTop title="Open a kitchen" of={`You will own it, ${visitor.name}, and can invite the others.`} />
      <OpenKitchenForms demo={openDemo} empty={openEmpty} today={new Date().toISOString().slice(0, 10)} />
    </main>
  );
}
