/**
 * One way to a database, whichever it is: opened, migrated and ready, with Prisma's client on it. `database()` is the
 * app's own, opened once a process on first use (never while the app is being built) and kept on globalThis, because
 * Next bundles this module several times over; `openDatabase` opens any other, for tests and commands.
 */
import path from "node:path";
import { PrismaClient } from "@/prisma/generated/client";
import type { Prisma } from "@/prisma/generated/client";
import { openEmbedded } from "./embedded";
import { insideTransaction, refuseInsideTransaction } from "./inside";
import { applyMigrations } from "./migrations";
import { openServer } from "./server";

/** The client inside a transaction: the only one to use there. */
export type Transaction = Prisma.TransactionClient;

export interface Database {
  readonly kind: "embedded" | "server";
  /** The data folder, or host, port and database: for messages. */
  readonly where: string;
  /** For reading outside a transaction. Refuses to work inside one. */
  readonly prisma: PrismaClient;
  /** Names of the migrations applied on opening. */
  readonly migrated: readonly string[];
  /**
   * Runs `work` in one transaction: all of what it writes through `tx`, or nothing. Nothing slow belongs inside: on
   * the embedded database transactions run one after another; on a server they run side by side under READ COMMITTED.
   * `tx` becomes void when `work` ends. Does not nest. `timeout`: how long it may take, in milliseconds, where that is more
   * than a minute.
   */
  transaction<T>(work: (tx: Transaction) => Promise<T>, more?: { readonly timeout?: number }): Promise<T>;
  /** Syncs that reached the disk so far, embedded; null on a server. */
  syncs(): number | null;
  close(): Promise<void>;
}

/** The database has died under us and the process is about to end: what was acknowledged is safe, what was not is not. */
export class DatabaseGone extends Error {
  override readonly name = "DatabaseGone";
  constructor(cause: Error) {
    super("The database stopped working. Nothing that was saved is lost. The app is stopping; start it again.", { cause });
  }
}

export type DatabaseChoice = { readonly folder: string } | { readonly url: string };

/** What the environment asks for: DATABASE_URL, a server; else DATA_DIR, a folder; else ./data. */
export function chosenDatabase(env: Readonly<Record<string, string | undefined>> = process.env): DatabaseChoice {
  const url = env.DATABASE_URL?.trim();
  if (url) return { url };
  return { folder: path.resolve(env.DATA_DIR?.trim() || "data") };
}

export interface OpenOptions {
  /** Called once when the embedded instance dies. The app ends the process; tests look on. */
  readonly onFatal?: (error: Error) => void;
}

/** How long a transaction may wait for its turn, and how long it may take, in milliseconds. */
const patience = { maxWait: 30_000, timeout: 60_000 };

/** Opens and migrates. Throws FolderInUse, MigrationRefused, or an Error whose sentence says what would be right. */
export async function openDatabase(choice: DatabaseChoice, { onFatal = endProcess }: OpenOptions = {}): Promise<Database> {
  return "url" in choice ? openOnServer(choice.url) : openInFolder(choice.folder, onFatal);
}

async function openOnServer(url: string): Promise<Database> {
  const server = await openServer(url);
  const migrated = await applyMigrations(server.adapter);
  const prisma = new PrismaClient({ adapter: server.adapter });
  return {
    kind: "server",
    where: server.where,
    prisma,
    migrated,
    transaction: (work, more) => transaction(prisma, work, more),
    syncs: () => null,
    close: () => prisma.$disconnect(),
  };
}

async function openInFolder(folder: string, onFatal: (error: Error) => void): Promise<Database> {
  let gone: DatabaseGone | null = null;
  const embedded = await openEmbedded(folder, {
    onFatal: (error) => {
      if (gone !== null) return;
      gone = new DatabaseGone(error);
      onFatal(gone);
    },
  });
  try {
    const migrated = await applyMigrations(embedded.adapter);
    const prisma = new PrismaClient({ adapter: embedded.adapter });
    return {
      kind: "embedded",
      where: embedded.folder,
      prisma,
      migrated,
      transaction: async (work, more) => {
        if (gone !== null) throw gone;
        try {
          return await transaction(prisma, work, more);
        } catch (error) {
          throw gone ?? error;
        }
      },
      syncs: embedded.syncs,
      close: async () => {
        await prisma.$disconnect();
        await embedded.close();
      },
    };
  } catch (error) {
    await embedded.close();
    throw error;
  }
}

async function transaction<T>(prisma: PrismaClient, work: (tx: Transaction) => Promise<T>, more: { readonly timeout?: number } = {}): Promise<T> {
  refuseInsideTransaction();
  return prisma.$transaction((tx) => insideTransaction(() => work(tx)), { ...patience, ...more });
}

/**
 * Says so and ends the process with a failure, leaving requests under way a moment to show their page. Whoever asks in
 * that moment is told why (app/server/handle.mjs).
 */
function endProcess(error: Error): void {
  (globalThis as { trimledgerGone?: string }).trimledgerGone = error.message;
  console.error(`${error.message} (${String(error.cause)})`);
  process.exitCode = 70;
  setTimeout(() => process.exit(70), 2_000);
}

const home = globalThis as { trimledgerDatabase?: Promise<Database> };

/** The app's database. An opening that failed may be tried again. */
export function database(): Promise<Database> {
  if (process.env.NEXT_PHASE === "phase-production-build") {
    throw new Error("The database is not opened while the app is being built: a page that needs it must be rendered on request.");
  }
  home.trimledgerDatabase ??= openDatabase(chosenDatabase()).catch((error: unknown) => {
    delete home.trimledgerDatabase;
    throw error;
  });
  return home.trimledgerDatabase;
}

/** Closes the app's database, if it was opened: the last thing a process does. */
export async function closeDatabase(): Promise<void> {
  const opened = home.trimledgerDatabase;
  delete home.trimledgerDatabase;
  if (opened !== undefined) await (await opened).close();
}
