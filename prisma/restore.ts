/**
 * `npm run restore -- <file>`: puts a backup into an empty installation, the one that DATABASE_URL or DATA_DIR name.
 * All of it or nothing.
 */
import { restore } from "../lib/store/backup";
import { chosenDatabase } from "../lib/store/database";

const [file, ...more] = process.argv.slice(2);
if (file === undefined || more.length > 0 || file.startsWith("-")) {
  console.error("Name the backup to restore: npm run restore -- trimledger.backup");
  process.exit(2);
}

try {
  const { where, header, closing } = await restore(chosenDatabase(), file);
  console.log(`Restored ${file} into ${where}: ${closing.tables} tables (rows: ${closing.rows}), as of ${header.at}. Start the app; everybody signs in anew.`);
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  console.error("Nothing was restored.");
  process.exitCode = 1;
}
