/** Making an account: what is asked of a name, and its rows. */
import { randomBytes } from "node:crypto";
import { z } from "zod";
import { type Checked, type Problem, good } from "@/lib/measure";
import type { Transaction } from "@/lib/store";
import type { NewPerson } from "./contract";
import { hashPassword, passwordProblems } from "./password";

/** Letters and digits of any script, with dots, dashes and underscores between them. */
const USERNAME = /^[\p{L}\p{N}](?:[\p{L}\p{N}._-]*[\p{L}\p{N}])?$/u;
const PRINTABLE = /^[^\p{Cc}\p{Cs}\p{Co}\p{Cn}]*$/u;

/** What the record calls somebody. */
export const NAME = z.string().transform((text) => text.normalize("NFC").trim().replace(/\s+/g, " ")).pipe(
  z.string().min(1, "Give a name that the record can call them by.").max(120, "A name of at most 120 characters, please.").regex(PRINTABLE, "The name holds a character that cannot be shown. Type it anew."),
);

const SHAPE = z.object({
  name: NAME,
  username: z.string().transform(signInName).pipe(
    z.string().min(2, "A name to sign in with has at least 2 characters.").max(40, "A name to sign in with has at most 40 characters.")
      .regex(USERNAME, "A name to sign in with is made of letters and digits, with dots, dashes or underscores between them: jo.miller."),
  ),
  password: z.string(),
});

/** A sign-in name as it is kept: one form for however it was typed. */
export function signInName(typed: string): string {
  return typed.normalize("NFKC").trim().toLowerCase();
}

export interface CheckedPerson {
  readonly name: string;
  readonly username: string;
  readonly passwordHash: string;
}

/** Checks and hashes. Takes a good part of a second, so it is done before any transaction. */
export async function checkPerson(person: NewPerson): Promise<Checked<CheckedPerson>> {
  const read = SHAPE.safeParse(person);
  const problems: Problem[] = read.success ? [] : read.error.issues.map((issue) => ({ path: issue.path.join("."), code: "not-a-name", sentence: issue.message }));
  if (typeof person.password === "string") problems.push(...passwordProblems(person.password, person));
  if (problems.length > 0 || !read.success) return { ok: false, problems: firstOfEach(problems) };
  return good({ name: read.data.name, username: read.data.username, passwordHash: await hashPassword(read.data.password) });
}

const firstOfEach = (problems: readonly Problem[]): readonly Problem[] => problems.filter((problem, index) => problems.findIndex((other) => other.path === problem.path) === index);

/** The rows of a new account. The id; null when somebody else has that sign-in name. */
export async function insertPerson(tx: Transaction, { name, username, passwordHash }: CheckedPerson, now: Date): Promise<string | null> {
  const id = `person-${randomBytes(15).toString("base64url")}`;
  const inserted = await tx.$executeRaw`
    INSERT INTO person (id, name, username, display_username, email, email_verified, created_at, updated_at)
    VALUES (${id}, ${name}, ${username}, ${username}, ${`${id}@people.invalid`}, false, ${now.toISOString()}::timestamptz, ${now.toISOString()}::timestamptz)
    ON CONFLICT (username) DO NOTHING`;
  if (inserted === 0) return null;
  await tx.credential.create({ data: { id: `credential-${randomBytes(15).toString("base64url")}`, accountId: id, providerId: "credential", userId: id, password: passwordHash, createdAt: now, updatedAt: now } });
  return id;
}

export const NAME_TAKEN: Problem = { path: "username", code: "taken", sentence: "Somebody signs in with that name already. Choose another." };
