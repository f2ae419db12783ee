/**
 * Where store tests get their databases: each its own, on whichever kind the suite is for. The suite `store-embedded`
 * opens folders under the system's temporary directory; `store-server` makes databases on the PostgreSQL server that
 * TEST_DATABASE_URL names (`npm test` starts one) and drops them afterwards.
 */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { PrismaPg } from "@prisma/adapter-pg";
import { inject } from "vitest";
import type { DatabaseChoice } from "@/lib/store/database";

export type Kind = "embedded" | "server";
export const kind: Kind = process.env.TEST_DATABASE === "server" ? "server" : "embedded";

export interface TestDatabase {
  readonly choice: DatabaseChoice;
  /** Takes the database away; whoever opened it has closed it by then. */
  remove(): Promise<void>;
}

/** A database with nothing in it, not even tables. */
export async function emptyDatabase(of: Kind = kind): Promise<TestDatabase> {
  return of === "server" ? onServerFrom("template1") : emptyFolder();
}

/** A database with the tables of the app and no rows: what a store test wants. */
export async function migratedDatabase(): Promise<TestDatabase> {
  const template = inject("databaseTemplate");
  if (kind === "server") return onServerFrom(new URL(template).pathname.slice(1));
  const place = emptyFolder();
  await fs.promises.cp(path.join(template, "postgres"), path.join(place.choice.folder, "postgres"), { recursive: true });
  return place;
}

export function emptyFolder(): TestDatabase & { readonly choice: { readonly folder: string } } {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-test-"));
  return { choice: { folder }, remove: () => fs.promises.rm(folder, { recursive: true, force: true }) };
}

let made = 0;

async function onServerFrom(template: string): Promise<TestDatabase> {
  const server = process.env.TEST_DATABASE_URL;
  if (!server) throw new Error("TEST_DATABASE_URL names no PostgreSQL server. `npm test -- store-server` starts one of its own.");
  made += 1;
  const name = `trimledger_test_${process.pid}_${Date.now().toString(36)}_${made}`;
  const url = new URL(server);
  url.pathname = `/${name}`;
  await onServer(server, `CREATE DATABASE ${name} TEMPLATE ${template}`);
  return { choice: { url: url.href }, remove: () => onServer(server, `DROP DATABASE IF EXISTS ${name} WITH (FORCE)`) };
}

/** Runs one statement on the server, outside any database of ours. */
async function onServer(url: string, sql: string): Promise<void> {
  const adapter = await new PrismaPg({ connectionString: url, max: 1 }).connect();
  try {
    await adapter.executeRaw({ sql, args: [], argTypes: [] });
  } finally {
    await adapter.dispose();
  }
}
