/** Who belongs to a kitchen, and changing what they may do. A kitchen is never left without an owner. */
import { type Checked, bad, good } from "@/lib/measure";
import type { Clock, Database, Transaction } from "@/lib/store";
import type { Member, Membership, Visitor } from "./contract";
import { withdrawPasswordLinks } from "./links";
import { lockPeople, writePeopleEntry } from "./people-record";
import { type Role, type Standing, isRole } from "./roles";

interface Row {
  readonly role: string;
  readonly seesMoney: boolean;
}

function standingOf({ role, seesMoney }: Row): Standing {
  if (!isRole(role)) throw new Error(`expected a role, found "${role}"`);
  return { role, seesMoney: role !== "cook" || seesMoney };
}

export async function kitchensOf(database: Database, personId: string): Promise<readonly Membership[]> {
  const rows = await database.prisma.membership.findMany({ where: { personId }, orderBy: [{ since: "asc" }, { kitchenId: "asc" }] });
  return rows.map((row) => ({ ...standingOf(row), kitchenId: row.kitchenId }));
}

export async function standingIn(database: Database, personId: string, kitchenId: string): Promise<Standing | null> {
  const row = await database.prisma.membership.findUnique({ where: { kitchenId_personId: { kitchenId, personId } } });
  return row === null ? null : standingOf(row);
}

export async function membersOf(database: Database, clock: Clock, kitchenId: string): Promise<readonly Member[]> {
  const rows = await database.prisma.membership.findMany({
    where: { kitchenId }, orderBy: [{ since: "asc" }, { personId: "asc" }],
    include: { person: { include: { sessions: { where: { expiresAt: { gt: new Date(clock.now()) } }, orderBy: { createdAt: "desc" }, take: 1 } } } },
  });
  return rows.map((row) => ({
    ...standingOf(row), personId: row.personId, name: row.person.name, username: row.person.username, since: row.since.toISOString(),
    lastSeen: row.person.sessions[0]?.createdAt.toISOString() ?? null,
  }));
}

/** The row of a member, within a transaction that holds the kitchen's lock. */
export async function findMember(tx: Transaction, kitchenId: string, personId: string) {
  const row = await tx.membership.findUnique({ where: { kitchenId_personId: { kitchenId, personId } }, include: { person: true } });
  return row === null ? null : { ...standingOf(row), name: row.person.name, personId };
}

export async function addMember(tx: Transaction, kitchenId: string, personId: string, { role, seesMoney }: Standing, now: Date): Promise<void> {
  await lockPerson(tx, personId);
  await withdrawPasswordLinks(tx, personId, now);
  await tx.membership.create({ data: { kitchenId, personId, role, seesMoney, since: now } });
}

/** Takes a person for this transaction, after the kitchen: so that nobody joins a kitchen while a link to their password is made. */
export async function lockPerson(tx: Transaction, personId: string): Promise<void> {
  await tx.$queryRaw`SELECT id FROM person WHERE id = ${personId} FOR UPDATE`;
}

/** Whether somebody belongs to a kitchen that `by` does not own: then their account is not `by`'s to open. */
export async function belongsBeyond(tx: Transaction, by: Visitor, personId: string): Promise<boolean> {
  const [theirs, owned] = await Promise.all([
    tx.membership.findMany({ where: { personId }, select: { kitchenId: true } }),
    tx.membership.findMany({ where: { personId: by.personId, role: "owner" }, select: { kitchenId: true } }),
  ]);
  return theirs.some(({ kitchenId }) => !owned.some((one) => one.kitchenId === kitchenId));
}

export const NOT_HERE = bad("", "not-here", "That person does not belong to this kitchen any more.");
const LAST_OWNER = bad("role", "last-owner", "This is the only owner of the kitchen. Make somebody else an owner first.");

async function isLastOwner(tx: Transaction, kitchenId: string, role: Role): Promise<boolean> {
  return role === "owner" && await tx.membership.count({ where: { kitchenId, role: "owner" } }) === 1;
}

export async function setStanding(database: Database, clock: Clock, by: Visitor, kitchenId: string, personId: string, standing: Standing): Promise<Checked<null>> {
  return database.transaction(async (tx) => {
    await lockPeople(tx, kitchenId);
    const member = await findMember(tx, kitchenId, personId);
    if (member === null) return NOT_HERE;
    if (standing.role !== "owner" && await isLastOwner(tx, kitchenId, member.role)) return LAST_OWNER;
    const seesMoney = standing.role !== "cook" || standing.seesMoney;
    if (member.role === standing.role && member.seesMoney === seesMoney) return good(null);
    await tx.membership.update({ where: { kitchenId_personId: { kitchenId, personId } }, data: { role: standing.role, seesMoney } });
    await writePeopleEntry(tx, { kitchenId, at: new Date(clock.now()), by, what: "changed what they may do", whom: member, before: member, after: { role: standing.role, seesMoney } });
    return good(null);
  });
}

export async function removeMember(database: Database, clock: Clock, by: Visitor, kitchenId: string, personId: string): Promise<Checked<null>> {
  return database.transaction(async (tx) => {
    await lockPeople(tx, kitchenId);
    const member = await findMember(tx, kitchenId, personId);
    if (member === null) return NOT_HERE;
    if (await isLastOwner(tx, kitchenId, member.role)) return LAST_OWNER;
    const now = new Date(clock.now());
    await tx.membership.delete({ where: { kitchenId_personId: { kitchenId, personId } } });
    await withdrawPasswordLinks(tx, personId, now);
    await writePeopleEntry(tx, { kitchenId, at: now, by, what: "removed", whom: member, before: member });
    return good(null);
  });
}
