/**
 * Writing rows: any number into one table by one statement with one parameter, a JSON document that the database takes
 * apart by the table's own columns. A year of quotes is a handful of statements, and text becomes NUMERIC digit by
 * digit. What a row leaves out is null.
 */
import { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "./database";

type Value = string | number | boolean | null | readonly object[];

/** So many rows at once at most: a document of some megabytes. */
const BATCH = 10_000;

export async function writeRows(
  tx: Pick<Transaction, "$executeRaw">, table: string, rows: readonly Readonly<Record<string, Value>>[],
): Promise<void> {
  const name = Prisma.raw(`"${table}"`);
  for (let from = 0; from < rows.length; from += BATCH) {
    const batch = JSON.stringify(rows.slice(from, from + BATCH));
    await tx.$executeRaw`INSERT INTO ${name} SELECT * FROM json_populate_recordset(NULL::${name}, ${batch}::json)`;
  }
}

/**
 * The first text in a fact that a database cannot hold, as its path ("parts.2.name"); null when there is none. It is a
 * NUL character or half of a surrogate pair: nothing a person types, but it can arrive in a file or a forged form.
 */
export function unstorableText(value: unknown, path = ""): string | null {
  if (typeof value === "string") return /\0|\p{Surrogate}/u.test(value) ? path : null;
  if (typeof value !== "object" || value === null) return null;
  for (const [name, inner] of Object.entries(value)) {
    const found = unstorableText(inner, path === "" ? name : `${path}.${name}`);
    if (found !== null) return found;
  }
  return null;
}
