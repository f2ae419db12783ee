/** The first page of an installation: begin with the demo kitchen or with an empty one. */
import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { connection } from "next/server";
import { openStore } from "@/lib/store";
import { StartForms } from "@/components/kitchen/StartForms";
import { PageTop } from "@/components/sheet/PageTop";
import { openDemo, openEmpty } from "./actions";

export const metadata: Metadata = { title: "Begin" };

export default async function Start() {
  await connection();
  if ((await (await openStore()).kitchens()).length > 0) redirect("/dishes");
  return (
    <main className="sheet alone" id="page" tabIndex={-1}>
      <PageTop title="Trimledger" of="The kitchen’s ledger of yields and costs"
        answer="From the dealer’s price over the cutting board to the plate: what a usable pound really costs, what each dish costs, and which dishes stand over their target." />
      <StartForms demo={openDemo} empty={openEmpty} today={new Date().toISOString().slice(0, 10)} />
    </main>
  );
}
