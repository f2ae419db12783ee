/** Somebody's own account: what they may do here, where they are signed in, their password. */
import type { Metadata } from "next";
import { ROLE_WORDS, deedsOf, openAccess } from "@/lib/access";
import { ButtonLink, PlainForm, TextField } from "@/components/form";
import { SignOut } from "@/components/people/SignOut";
import { PageTop } from "@/components/sheet/PageTop";
import { signOut } from "../../kitchens/actions";
import { printMoment } from "../moment";
import { openKitchen } from "../open-kitchen";
import { changePassword, endSession } from "./actions";

export const metadata: Metadata = { title: "My account" };

export default async function Account() {
  const { kitchen, visitor, standing } = await openKitchen("read the book");
  const sessions = await (await openAccess()).sessions(visitor);
  const others = sessions.filter(({ here }) => !here);
  return (
    <>
      <PageTop title={visitor.name} of={`signs in as ${visitor.username}`} answer={<>In {kitchen.name} you are <strong>{standing.role}</strong>: {ROLE_WORDS[standing.role]}.</>}>
        <ButtonLink href="/kitchens" plain>My kitchens</ButtonLink>
        <SignOut action={signOut} />
      </PageTop>
      <p>You may: {deedsOf(standing).join("; ")}.</p>
      <section aria-labelledby="password">
        <h2 id="password">Change the password</h2>
        <PlainForm id="change-password" action={changePassword} submit="Change the password">
          <div className="fields">
            <TextField name="now" label="Password now" required secret autoComplete="current-password" />
            <TextField name="next" label="New password" hint="At least 10 characters; a few words in a row do well" required secret autoComplete="new-password" />
          </div>
        </PlainForm>
      </section>
      <section aria-labelledby="sessions">
        <h2 id="sessions">Where you are signed in</h2>
        <ul className="plain-list">
          {sessions.map((session) => (
            <li key={session.id}>
              <p>{session.here ? <strong>Here</strong> : "Elsewhere"}, since {printMoment(session.since, kitchen)} <span className="quiet">· {session.address} · {session.device.slice(0, 120)}</span></p>
              {!session.here && <PlainForm id={`end-${session.id}`} action={endSession} submit="Sign that device out" plain hidden={{ session: session.id }} />}
            </li>
          ))}
        </ul>
        {others.length > 1 && <PlainForm id="end-others" action={endSession} submit="Sign out everywhere else" plain hidden={{ session: "" }} />}
      </section>
    </>
  );
}
