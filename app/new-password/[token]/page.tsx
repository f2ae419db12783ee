/** The page behind a link to a new password. */
import type { Metadata } from "next";
import { connection } from "next/server";
import { openAccess } from "@/lib/access";
import { ButtonLink, PlainForm, TextField } from "@/components/form";
import { PageTop } from "@/components/sheet/PageTop";
import { setNewPassword } from "./actions";

export const metadata: Metadata = { title: "A new password", referrer: "no-referrer", robots: { index: false } };

export default async function NewPassword({ params }: { readonly params: Promise<{ token: string }> }) {
  await connection();
  const { token } = await params;
  const link = await (await openAccess()).invitationBehind(token);
  const good = link?.purpose === "new password";
  return (
    <main className="sheet alone" id="page" tabIndex={-1}>
      {good
        ? <PageTop title="A new password" of={`for ${link.name}`} answer="Set it here; the link works this once. Wherever you are signed in now, you will have to sign in again." />
        : <PageTop title="This link is used up" answer="It has been used, was withdrawn, or is older than a week. Ask the owner of the kitchen for a new one." />}
      {good
        ? (
          <PlainForm id="new-password" action={setNewPassword} submit="Set this password" hidden={{ token }}>
            <div className="fields"><TextField name="password" label="New password" hint="At least 10 characters; a few words in a row do well" required secret autoComplete="new-password" /></div>
          </PlainForm>
        )
        : <p><ButtonLink href="/">Sign in</ButtonLink></p>}
    </main>
  );
}
