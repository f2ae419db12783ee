/**
 * The keys by which programs come in: a till, an accountant's script. An owner makes one and hands it over; it is 256 bits
 * of chance, shown once, and only its hash is kept, so that a copy of the database opens no door. A key is for one kitchen
 * and says whether it may write; it is never for people, and never for other keys. What a program records stands in the
 * record under its key's name.
 */
import { createHash, randomBytes } from "node:crypto";
import { type Checked, bad, good } from "@/lib/measure";
import type { Clock, Database } from "@/lib/store";
import type { Program, ProgramKey, Visitor } from "./contract";
import { NAME } from "./new-person";
import { lockPeople } from "./people-record";

/** So that a key that strays into a file or a chat is known for what it is. */
const BEGINS = "tlk_";
const SHAPE = /^tlk_[\w-]{43}$/;
/** Keys in force at once in a kitchen. */
const MOST_KEYS = 50;
const LONGEST_NAME = 80;
/** When a key was last used is told to the minute, and written no oftener. */
const USED_EVERY = 60_000;

const hashOf = (key: string): string => createHash("sha256").update(key).digest("hex");

type Row = NonNullable<Awaited<ReturnType<Database["prisma"]["programKey"]["findUnique"]>>>;

function keyOf(row: Row): ProgramKey {
  return {
    id: row.id, name: row.name, may: row.may === "write" ? "write" : "read", createdAt: row.createdAt.toISOString(), createdBy: row.createdBy,
    lastUsedAt: row.lastUsedAt?.toISOString() ?? null, ended: row.endedAt === null ? null : { at: row.endedAt.toISOString(), by: row.endedBy ?? "" },
  };
}

/** The keys of a kitchen, those in force first, the newest first. */
export async function programKeys({ prisma }: Database, kitchenId: string): Promise<readonly ProgramKey[]> {
  const rows = await prisma.programKey.findMany({ where: { kitchenId }, orderBy: [{ createdAt: "desc" }, { id: "asc" }] });
  const keys = rows.map(keyOf);
  return [...keys.filter(({ ended }) => ended === null), ...keys.filter(({ ended }) => ended !== null)];
}

export async function makeProgramKey(database: Database, clock: Clock, by: Visitor, kitchenId: string, { name, may }: Pick<ProgramKey, "name" | "may">): Promise<Checked<{ readonly key: string; readonly id: string }>> {
  const read = NAME.safeParse(name);
  if (!read.success || read.data.length > LONGEST_NAME) return bad("name", "not-a-name", read.success ? `A name of at most ${LONGEST_NAME} characters, please.` : "Say which program the key is for: the record will call it by that name.");
  const key = `${BEGINS}${randomBytes(32).toString("base64url")}`;
  const id = `program-${randomBytes(15).toString("base64url")}`;
  return database.transaction(async (tx) => {
    await lockPeople(tx, kitchenId);
    const inForce = await tx.programKey.findMany({ where: { kitchenId, endedAt: null }, select: { name: true } });
    if (inForce.length >= MOST_KEYS) return bad("", "too-many", `There are ${MOST_KEYS} keys already. End one that no program uses any more.`);
    if (inForce.some((one) => one.name.toLowerCase() === read.data.toLowerCase())) return bad("name", "name-taken", "Another key has that name already, and the record could not tell them apart. Give it another.");
    await tx.programKey.create({ data: { kitchenId, id, name: read.data, hash: hashOf(key), may, createdAt: new Date(clock.now()), createdBy: by.name } });
    return good({ key, id });
  });
}

/** Ends a key: from its next request on it opens nothing. False when it was ended already, or is not there. */
export async function endProgramKey({ prisma }: Database, clock: Clock, by: Visitor, kitchenId: string, id: string): Promise<boolean> {
  const ended = await prisma.programKey.updateMany({ where: { kitchenId, id, endedAt: null }, data: { endedAt: new Date(clock.now()), endedBy: by.name } });
  return ended.count === 1;
}

/** Whose key this is; null for one that was ended or never was. */
export async function programBehind({ prisma }: Database, clock: Clock, key: string): Promise<Program | null> {
  if (!SHAPE.test(key)) return null;
  const row = await prisma.programKey.findUnique({ where: { hash: hashOf(key) } });
  if (row === null || row.endedAt !== null) return null;
  const now = clock.now();
  if (row.lastUsedAt === null || now - row.lastUsedAt.getTime() >= USED_EVERY) {
    await prisma.programKey.updateMany({ where: { kitchenId: row.kitchenId, id: row.id }, data: { lastUsedAt: new Date(now) } });
  }
  return { kitchenId: row.kitchenId, id: row.id, name: `${row.name} (program)`, may: row.may === "write" ? "write" : "read" };
}
