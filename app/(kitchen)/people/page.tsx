/** The people of the kitchen: who they are, what each may do, who is invited, and what was done about them. */
import type { Metadata } from "next";
import { ROLES, ROLE_WORDS, openAccess, standingWords } from "@/lib/access";
import { PlainForm, TextField } from "@/components/form";
import { type RoleChoice, RoleFields } from "@/components/people/RoleFields";
import { PageTop } from "@/components/sheet/PageTop";
import { Table } from "@/components/table/Table";
import { printMoment } from "../moment";
import { openKitchen } from "../open-kitchen";
import { invite, linkToNewPassword, removePerson, setStanding, withdrawInvitation } from "./actions";

export const metadata: Metadata = { title: "People" };

const CHOICES: readonly RoleChoice[] = ROLES.map((role) => ({ value: role, label: role, words: ROLE_WORDS[role] }));

export default async function People() {
  const { kitchen, kitchenId, visitor } = await openKitchen("look after people");
  const access = await openAccess();
  const [members, invitations, record] = await Promise.all([access.members(kitchenId), access.invitations(kitchenId), access.peopleRecord(kitchenId, 50)]);
  return (
    <>
      <PageTop title="People" of={`${members.length} ${members.length === 1 ? "person" : "people"} in ${kitchen.name}`}
        answer={<>Each comes in by a link that you hand over, and may do what you say here. What they record stays under their name.</>} />
      <section aria-labelledby="invite">
        <h2 id="invite">Invite somebody</h2>
        <PlainForm id="invite-form" action={invite} submit="Make a link">
          <div className="fields"><TextField name="name" label="Whom it is for" required /><RoleFields roles={CHOICES} role="cook" seesMoney={false} /></div>
        </PlainForm>
      </section>
      {invitations.length > 0 && (
        <section aria-labelledby="open-links">
          <h2 id="open-links">Links not used yet</h2>
          <ul className="plain-list">
            {invitations.map((link) => (
              <li key={link.id}>
                <p>{link.name}, {link.purpose === "join" ? `as ${standingWords(link)}` : "a new password"}; made by {link.createdBy}, good until {printMoment(link.expiresAt, kitchen)}.</p>
                <PlainForm id={`withdraw-${link.id}`} action={withdrawInvitation} submit={`Withdraw the link for ${link.name}`} plain hidden={{ invitation: link.id }} />
              </li>
            ))}
          </ul>
        </section>
      )}
      <section aria-labelledby="members">
        <h2 id="members">Who belongs here</h2>
        {members.map((member) => (
          <details className="person" key={member.personId}>
            <summary><strong>{member.name}</strong>{member.personId === visitor.personId && " (you)"}, {standingWords(member)} <span className="quiet">· signs in as {member.username} · here since {printMoment(member.since, kitchen)}{member.lastSeen !== null && ` · last signed in ${printMoment(member.lastSeen, kitchen)}`}</span></summary>
            <PlainForm id={`standing-${member.personId}`} action={setStanding} submit={`Change what ${member.name} may do`} plain hidden={{ person: member.personId }}>
              <div className="fields"><RoleFields roles={CHOICES} role={member.role} seesMoney={member.seesMoney} /></div>
            </PlainForm>
            <PlainForm id={`password-${member.personId}`} action={linkToNewPassword} submit={`Link to a new password for ${member.name}`} plain hidden={{ person: member.personId }} />
            <PlainForm id={`remove-${member.personId}`} action={removePerson} submit={`Take ${member.name} out of this kitchen`} plain hidden={{ person: member.personId }} />
          </details>
        ))}
      </section>
      <section aria-labelledby="people-record">
        <h2 id="people-record">What was done about people</h2>
        <Table caption={`The last ${record.length} entries, newest first`} rows={record} rowKey={({ no }) => String(no)} columns={[
          { key: "at", head: "When", cell: ({ at }) => printMoment(at, kitchen) },
          { key: "by", head: "Who", fold: "phone", label: "by", cell: ({ by }) => by },
          { key: "what", head: "What", width: 12, cell: ({ what, whom }) => `${what}${what === "opened the kitchen" || what === "joined" || what === "set a new password" ? "" : `: ${whom}`}` },
          { key: "change", head: "Before → after", fold: "narrow", label: "", cell: ({ before, after }) => before === null && after === null ? "" : `${before ?? "nobody here"} → ${after ?? "nobody here"}` },
        ]} />
      </section>
    </>
  );
}
