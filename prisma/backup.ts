/**
 * `npm run backup -- <file>`: writes everything recorded in the app's database into one file, while the app runs or
 * not. DATABASE_URL and DATA_DIR name the database as they do for the app. A file that exists is left as it is unless
 * `--over` is given.
 */
import { backUp } from "../lib/store/backup";
import { chosenDatabase } from "../lib/store/database";

const over = process.argv.includes("--over");
const [file, ...more] = process.argv.slice(2).filter((word) => word !== "--over");
if (file === undefined || more.length > 0 || file.startsWith("-")) {
  console.error("Name the file to write the backup into: npm run backup -- trimledger.backup (with --over to replace a file that is there)");
  process.exit(2);
}
// An interrupted backup takes its unfinished file with it.
for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => process.exit(130));

try {
  const { where, asked, header, closing } = await backUp(chosenDatabase(), file, { over });
  console.log(`Backed up ${where}${asked ? ", asking the app that is running," : ""} as of ${header.at} into ${file}: ${closing.tables} tables (rows: ${closing.rows}), read back and found whole.`);
  console.log("It holds everything recorded, the hashes of passwords and the installation's own secret: keep it where only you can read it.");
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  console.error("No backup was written.");
  process.exitCode = 1;
}
