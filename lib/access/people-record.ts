/** The record of people in a kitchen: who let whom do what, when. Only ever added to, and numbered without gaps. */
import type { Database, Transaction } from "@/lib/store";
import type { PeopleDeed, PeopleEntry } from "./contract";
import type { Standing } from "./roles";

export interface NewPeopleEntry {
  readonly kitchenId: string;
  readonly at: Date;
  readonly by: { readonly name: string; readonly personId: string | null };
  readonly what: PeopleDeed;
  readonly whom: { readonly name: string; readonly personId: string | null };
  readonly before?: Standing | null;
  readonly after?: Standing | null;
}

/** Takes the kitchen for this transaction, so that its people change one after another. */
export async function lockPeople(tx: Transaction, kitchenId: string): Promise<void> {
  const rows = await tx.$queryRaw<unknown[]>`SELECT id FROM kitchen WHERE id = ${kitchenId} FOR UPDATE`;
  if (rows.length === 0) throw new Error(`expected a kitchen "${kitchenId}", there is none`);
}

/** Belongs in a transaction that holds the kitchen's lock. */
export async function writePeopleEntry(tx: Transaction, { kitchenId, at, by, what, whom, before = null, after = null }: NewPeopleEntry): Promise<void> {
  const last = await tx.peopleRecord.aggregate({ where: { kitchenId }, _max: { no: true } });
  await tx.peopleRecord.create({
    data: {
      kitchenId, no: (last._max.no ?? 0) + 1, at, by: by.name, byPerson: by.personId, what, whom: whom.name, whomId: whom.personId,
      before: before === null ? null : standingWords(before), after: after === null ? null : standingWords(after),
    },
  });
}

/** "cook, sees no money". */
export function standingWords({ role, seesMoney }: Standing): string {
  return role === "cook" ? `cook, ${seesMoney ? "sees money" : "sees no money"}` : role;
}

export async function readPeopleRecord(database: Database, kitchenId: string, limit: number): Promise<readonly PeopleEntry[]> {
  const rows = await database.prisma.peopleRecord.findMany({ where: { kitchenId }, orderBy: { no: "desc" }, take: limit });
  return rows.map(({ no, at, by, what, whom, before, after }) => ({ no, at: at.toISOString(), by, what: what as PeopleDeed, whom, before, after }));
}
