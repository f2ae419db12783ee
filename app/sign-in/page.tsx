/** Signing in: a name and a password. Whoever is in already goes on. */
import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { openAccess } from "@/lib/access";
import { PlainForm, TextField } from "@/components/form";
import { PageTop } from "@/components/sheet/PageTop";
import { localPath, readVisitor } from "../visit";
import { signIn } from "./actions";

export const metadata: Metadata = { title: "Sign in" };

export default async function SignIn({ searchParams }: { readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>> }) {
  const to = localPath((await searchParams)["to"]);
  if (await readVisitor() !== null) redirect(to);
  if (await (await openAccess()).isNew()) redirect("/start");
  return (
    <main className="sheet alone" id="page" tabIndex={-1}>
      <PageTop title="Sign in" of="Trimledger, the kitchen’s ledger of yields and costs" />
      <PlainForm id="sign-in" action={signIn} submit="Sign in" busy="Looking you up…" hidden={{ to }}>
        <div className="fields">
          <TextField name="username" label="Name to sign in with" required autoComplete="username" />
          <TextField name="password" label="Password" required secret autoComplete="current-password" />
        </div>
      </PlainForm>
      <p className="quiet">No account yet, or the password is forgotten? The owner of the kitchen can give you a link.</p>
    </main>
  );
}
