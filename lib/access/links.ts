/**
 * One-time links: the owner makes one and hands it over, on paper or by whatever means; no mail is sent. What stands in
 * the link is 256 bits of chance, and only its hash is kept, so that a copy of the database opens no door. A link is
 * used once, and is good for a week.
 */
import { createHash, randomBytes } from "node:crypto";
import { type Checked, bad, good } from "@/lib/measure";
import { type Clock, type Database, type Transaction } from "@/lib/store";
import type { Invitation, Visitor } from "./contract";
import { lockPeople, writePeopleEntry } from "./people-record";
import { type Role, type Standing, isRole } from "./roles";

const DAYS = 7;

const hashOf = (token: string): string => createHash("sha256").update(token).digest("base64url");

export interface NewLink extends Standing {
  readonly purpose: Invitation["purpose"];
  readonly name: string;
  readonly personId: string | null;
}

/** Makes a link and records it. Belongs in a transaction that holds the kitchen's lock. */
export async function makeLink(tx: Transaction, by: Pick<Visitor, "name"> & { readonly personId: string | null }, kitchenId: string, link: NewLink, now: Date): Promise<string> {
  const token = randomBytes(32).toString("base64url");
  await tx.invitation.create({
    data: {
      tokenHash: hashOf(token), kitchenId, id: `link-${randomBytes(15).toString("base64url")}`, purpose: link.purpose, name: link.name, role: link.role, seesMoney: link.seesMoney,
      personId: link.personId, createdBy: by.name, createdAt: now, expiresAt: new Date(now.getTime() + DAYS * 24 * 3_600_000),
    },
  });
  const joins = link.purpose === "join";
  await writePeopleEntry(tx, { kitchenId, at: now, by, what: joins ? "invited" : "gave a link to a new password", whom: link, after: joins ? link : null });
  return token;
}

type Row = NonNullable<Awaited<ReturnType<Database["prisma"]["invitation"]["findUnique"]>>>;

function fromRow(row: Row): Invitation {
  const role: Role = row.role !== null && isRole(row.role) ? row.role : "reader";
  return {
    id: row.id, kitchenId: row.kitchenId, purpose: row.purpose === "join" ? "join" : "new password", name: row.name, role, seesMoney: row.seesMoney, personId: row.personId,
    createdBy: row.createdBy, createdAt: row.createdAt.toISOString(), expiresAt: row.expiresAt.toISOString(),
  };
}

/** The links of a kitchen that can still be used, newest first. */
export async function openLinks(database: Database, clock: Clock, kitchenId: string): Promise<readonly Invitation[]> {
  const rows = await database.prisma.invitation.findMany({
    where: { kitchenId, usedAt: null, withdrawnAt: null, expiresAt: { gt: new Date(clock.now()) } }, orderBy: { createdAt: "desc" },
  });
  return rows.map(fromRow);
}

/** The link with this in it; null when it cannot be used (any more). */
export async function linkBehind(database: Database, clock: Clock, token: string): Promise<Invitation | null> {
  const row = await database.prisma.invitation.findUnique({ where: { tokenHash: hashOf(token) } });
  return row === null || row.usedAt !== null || row.withdrawnAt !== null || row.expiresAt.getTime() <= clock.now() ? null : fromRow(row);
}

/** Uses a link up; false when somebody else just did. */
export async function useLink(tx: Transaction, token: string, now: Date): Promise<boolean> {
  const used = await tx.invitation.updateMany({ where: { tokenHash: hashOf(token), usedAt: null, withdrawnAt: null, expiresAt: { gt: now } }, data: { usedAt: now } });
  return used.count === 1;
}

export async function withdrawLink(database: Database, clock: Clock, by: Visitor, kitchenId: string, id: string): Promise<Checked<null>> {
  return database.transaction(async (tx) => {
    await lockPeople(tx, kitchenId);
    const now = new Date(clock.now());
    const row = await tx.invitation.findUnique({ where: { kitchenId_id: { kitchenId, id } } });
    const done = row === null ? { count: 0 } : await tx.invitation.updateMany({ where: { kitchenId, id, usedAt: null, withdrawnAt: null }, data: { withdrawnAt: now } });
    if (row === null || done.count === 0) return bad("", "no-such-link", "That link has been used or withdrawn already.");
    await writePeopleEntry(tx, { kitchenId, at: now, by, what: "withdrew the invitation", whom: { name: row.name, personId: row.personId } });
    return good(null);
  });
}

/**
 * Withdraws whatever would set a new password for somebody: they belong to another kitchen from now on, or to this one no
 * more, and a link that its owner still holds would open what is not that owner's to open.
 */
export async function withdrawPasswordLinks(tx: Transaction, personId: string, now: Date): Promise<void> {
  await tx.invitation.updateMany({ where: { purpose: "new password", personId, usedAt: null, withdrawnAt: null }, data: { withdrawnAt: now } });
}

export const LINK_OVER = bad("", "link-over", "This link has been used, was withdrawn, or is older than a week. Ask the owner of the kitchen for a new one.");
