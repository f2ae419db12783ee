/**
 * `npm run new-password -- <name to sign in with>`: a one-time link to a new password, for an owner whom nobody else can
 * give one. An embedded database is open to one program at a time: stop the app first. With DATABASE_URL it may run on.
 */
import { wayBackFor } from "../lib/access";
import { appDatabase, openStore, systemClock } from "../lib/store";

const [username, ...more] = process.argv.slice(2);
if (username === undefined || more.length > 0 || username.startsWith("-")) {
  console.error("Name the account: npm run new-password -- maren (the name that person signs in with)");
  process.exit(2);
}

try {
  const link = await wayBackFor(await appDatabase(), systemClock, username);
  if (link.ok) {
    const at = process.env.PUBLIC_URL?.trim().replace(/\/$/, "") || `http://localhost:${process.env.PORT?.trim() || "3000"}`;
    console.log(`A new password for ${link.value.name}, once, within a week: ${at}/new-password/${link.value.token}`);
  } else {
    for (const { sentence } of link.problems) console.error(sentence);
    process.exitCode = 1;
  }
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 1;
} finally {
  await (await openStore().catch(() => null))?.close();
}
