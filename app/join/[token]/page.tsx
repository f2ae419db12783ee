/** The page behind an invitation. */
import type { Metadata } from "next";
import { connection } from "next/server";
import { openAccess } from "@/lib/access";
import { openStore } from "@/lib/store";
import { ButtonLink, PlainForm } from "@/components/form";
import { PersonFields } from "@/components/people/PersonFields";
import { PageTop } from "@/components/sheet/PageTop";
import { readVisitor } from "../../visit";
import { join, joinAs } from "./actions";

export const metadata: Metadata = { title: "An invitation", referrer: "no-referrer", robots: { index: false } };

export default async function Join({ params }: { readonly params: Promise<{ token: string }> }) {
  await connection();
  const { token } = await params;
  const link = await (await openAccess()).invitationBehind(token);
  if (link?.purpose !== "join") {
    return (
      <main className="sheet alone" id="page" tabIndex={-1}>
        <PageTop title="This link is used up" answer="It has been used, was withdrawn, or is older than a week. Ask the owner of the kitchen for a new one." />
        <p><ButtonLink href="/">Sign in</ButtonLink></p>
      </main>
    );
  }
  const kitchen = (await (await openStore()).kitchens()).find(({ id }) => id === link.kitchenId);
  const visitor = await readVisitor();
  return (
    <main className="sheet alone" id="page" tabIndex={-1}>
      <PageTop title={`Come into ${kitchen?.name ?? "the kitchen"}`} of={`as ${link.role}, invited by ${link.createdBy}`}
        answer={visitor === null ? "Make yourself an account. The link works this once." : `You are signed in as ${visitor.name}. Come in as yourself, or make a new account.`} />
      {visitor !== null && (
        <section aria-labelledby="as-me"><h2 id="as-me">As {visitor.name}</h2><PlainForm id="join-as" action={joinAs} submit={`Come in as ${visitor.name}`} hidden={{ token }} /></section>
      )}
      <section aria-labelledby="new-account">
        <h2 id="new-account">With a new account</h2>
        <PlainForm id="join" action={join} submit="Make the account and come in" busy="Making the account…" hidden={{ token }} plain={visitor !== null}><PersonFields name={link.name} /></PlainForm>
      </section>
    </main>
  );
}
