/**
 * A way back for an owner who has lost the password and whom nobody else can give a link: whoever keeps the machine makes
 * one by a command. It is a one-time link like any other, and the record of people tells of it.
 */
import { type Checked, bad, good } from "@/lib/measure";
import type { Clock, Database } from "@/lib/store";
import { makeLink } from "./links";
import { signInName } from "./new-person";
import { lockPeople } from "./people-record";

/** What the record calls whoever made it. */
export const KEEPER = { name: "whoever keeps the machine", personId: null } as const;

/** The token of a link to a new password for the account with this name to sign in with. Code: no-such-person. */
export async function wayBackFor(database: Database, clock: Clock, username: string): Promise<Checked<{ readonly token: string; readonly name: string }>> {
  const person = await database.prisma.person.findUnique({ where: { username: signInName(username) }, include: { memberships: { orderBy: { since: "asc" } } } });
  const stands = person?.memberships.find(({ role }) => role === "owner") ?? person?.memberships[0];
  if (person === null || stands === undefined) return bad("", "no-such-person", `Nobody in a kitchen here signs in as ${JSON.stringify(username)}.`);
  const standing = { role: "owner", seesMoney: true, name: person.name, personId: person.id } as const;
  return database.transaction(async (tx) => {
    await lockPeople(tx, stands.kitchenId);
    return good({ token: await makeLink(tx, KEEPER, stands.kitchenId, { ...standing, purpose: "new password" }, new Date(clock.now())), name: person.name });
  });
}
