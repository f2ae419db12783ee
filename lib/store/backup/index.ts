/** Backups: one file with everything recorded, taken while the app runs or not, restored into an empty installation. */
export { backUp } from "./backup";
export type { BackedUp } from "./backup";
export { verifyFile } from "./read-file";
export { BackupRefused } from "./refused";
export { restore } from "./restore";
export type { Restored } from "./restore";
export { answerBackups } from "./socket";
