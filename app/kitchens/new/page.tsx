/** Opening a kitchen: the demo, an empty one, or one from a file. */
import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { openAccess } from "@/lib/access";
import { LARGEST_KITCHEN_FILE } from "@/lib/exchange";
import { FromFileForm } from "@/components/kitchen/FromFileForm";
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
      <section aria-labelledby="from-file">
        <h2 id="from-file">Open a kitchen from a file</h2>
        <p>With its whole record, as it was: every change under the name and the moment it was made. People are not in the file; you will own it.</p>
        <FromFileForm largest={LARGEST_KITCHEN_FILE} />
      </section>
    </main>
  );
}
