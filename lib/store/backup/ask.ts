/**
 * Asking a database for one text. Backups ask nothing else: whatever is wanted, a page of rows or the whole catalogue,
 * is put together by the database as one JSON document, so that Prisma's client, the embedded database and a server
 * can all be asked alike and no driver gets to read a figure or a moment in its own way.
 */
import type { SqlQueryable } from "@prisma/driver-adapter-utils";
import type { Transaction } from "../database";

/** Runs a SELECT of one text column, "text", and one row. */
export type Ask = (sql: string) => Promise<string>;

export function askAdapter(connection: Pick<SqlQueryable, "queryRaw">): Ask {
  return async (sql) => {
    const { rows } = await connection.queryRaw({ sql, args: [], argTypes: [] });
    return oneText(rows[0]?.[0]);
  };
}

export function askPrisma(client: Pick<Transaction, "$queryRawUnsafe">): Ask {
  return async (sql) => {
    const [row] = await client.$queryRawUnsafe<{ text: unknown }[]>(sql);
    return oneText(row?.text);
  };
}

function oneText(value: unknown): string {
  if (typeof value !== "string") throw new Error(`expected one text from the database, got ${value === null ? "null" : typeof value}`);
  return value;
}

/** A name as SQL wants it. */
export function quoted(name: string): string {
  return `"${name.replaceAll('"', '""')}"`;
}

/** What makes the text of every value the same whatever a server's own settings are; the time zone is UTC already. */
export const plainText = "SET LOCAL datestyle = 'ISO, YMD'; SET LOCAL intervalstyle = 'postgres'; SET LOCAL bytea_output = 'hex'; SET LOCAL extra_float_digits = 1";
