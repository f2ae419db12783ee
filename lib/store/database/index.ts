/** The database under the store: how it is opened, kept safe, migrated and closed. Used by lib/store and the server's start. */
export { chosenDatabase, closeDatabase, database, DatabaseGone, openDatabase } from "./open";
export type { Database, DatabaseChoice, OpenOptions, Transaction } from "./open";
export { FolderInUse } from "./lock";
export type { LockOwner } from "./lock";
export { MigrationRefused } from "./migrations";
