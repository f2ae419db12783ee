/** The first page of a new installation: whoever opens it first makes the owner's account. */
import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { connection } from "next/server";
import { openAccess } from "@/lib/access";
import { PlainForm } from "@/components/form";
import { PersonFields } from "@/components/people/PersonFields";
import { PageTop } from "@/components/sheet/PageTop";
import { makeFirst } from "./actions";

export const metadata: Metadata = { title: "Begin" };

export default async function Start() {
  await connection();
  if (!await (await openAccess()).isNew()) redirect("/");
  return (
    <main className="sheet alone" id="page" tabIndex={-1}>
      <PageTop title="Trimledger" of="The kitchen’s ledger of yields and costs"
        answer="From the dealer’s price over the cutting board to the plate: what a usable pound really costs, what each dish costs, and which dishes stand over their target." />
      <section aria-labelledby="first">
        <h2 id="first">First, an account for the owner</h2>
        <p>This installation is new, and whoever opens it first owns it. Everybody else comes in by a link that the owner gives them.</p>
        <PlainForm id="first-person" action={makeFirst} submit="Make the account" busy="Making the account…"><PersonFields /></PlainForm>
      </section>
    </main>
  );
}
