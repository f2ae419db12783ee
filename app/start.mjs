/**
 * `npm start`: from a fresh checkout to a running app, and every time after that in seconds. It sets up what is missing
 * (setup.mjs), starts the server (server/serve.mjs) and says where it is. PORT (3000), HOST (every address of this
 * machine, so that a tablet at the block reaches it; HOST=127.0.0.1 keeps it to this machine), DATA_DIR (./data),
 * DATABASE_URL and what server/settings.mjs reads are honoured. Ctrl-C or SIGTERM stops it and closes the database.
 */
import net from "node:net";
import os from "node:os";
import { readSettings, SettingProblem } from "./server/settings.mjs";
import { build, checkNode, generate, install, quiet, root, SetupProblem } from "./setup.mjs";

const say = (line) => console.log(line);
/** `npm run dev`: pages are made from the sources as they stand, and again when these change. */
const dev = process.argv.includes("--dev");

try {
  checkNode();
  const { port, host } = whereToListen();
  const settings = readSettings(process.env, { terminal: process.stdout.isTTY });
  await portIsFree(port, host);
  await install(say);
  await generate(say);
  if (!dev) await build(say);
  await serve(port, host, settings);
} catch (error) {
  if (!(error instanceof SetupProblem || error instanceof SettingProblem)) throw error;
  console.error(error.message);
  process.exit(1);
}

function whereToListen() {
  const text = process.env.PORT?.trim() || "3000";
  const port = Number(text);
  if (!/^\d+$/.test(text) || port < 1 || port > 65_535) {
    throw new SetupProblem(`PORT is "${text}", and should be a number from 1 to 65535.`);
  }
  return { port, host: process.env.HOST?.trim() || undefined };
}

/** Asks before the work of building rather than after it. */
function portIsFree(port, host) {
  return new Promise((resolve, reject) => {
    const probe = net.createServer();
    probe.once("error", (error) => {
      const why = {
        EADDRINUSE: `Port ${port} is taken, perhaps by a Trimledger that is already running. Stop that, or choose another: PORT=${port + 1} npm start`,
        EACCES: `Port ${port} may not be opened by this user. Choose one above 1023: PORT=3000 npm start`,
        EADDRNOTAVAIL: `HOST is "${host}", which is not an address of this machine.`,
        ENOTFOUND: `HOST is "${host}", which is not an address of this machine.`,
      };
      reject(new SetupProblem(why[error.code] ?? `Port ${port} could not be opened: ${error.message}`));
    });
    probe.listen({ port, host, exclusive: true }, () => probe.close(() => resolve()));
  });
}

/** Starts the server in this process, with all that it and the tools under it are told by the environment. */
async function serve(port, host, settings) {
  say("Starting");
  Object.assign(process.env, quiet, { NODE_ENV: dev ? "development" : "production" });
  process.chdir(root);
  // Not at the top: its packages may have been installed just now.
  const { serve: startServer } = await import("./server/serve.mjs");
  await startServer({ root, port, host, dev, settings });
  // The database is open by now (instrumentation.ts has said where the data is), and the app can answer.
  for (const line of [...addresses(port, host, settings.publicUrl), "Ctrl-C stops it."]) say(line);
}

function addresses(port, host, publicUrl) {
  const everywhere = host === undefined || host === "0.0.0.0" || host === "::";
  const here = `http://${everywhere ? "localhost" : host.includes(":") ? `[${host}]` : host}:${port}`;
  if (publicUrl !== null) return [`Trimledger is at ${publicUrl.origin}, and listens on ${here}`];
  if (!everywhere) return [`Trimledger is at ${here}`];
  const outside = Object.values(os.networkInterfaces())
    .flat()
    .filter((address) => address !== undefined && !address.internal && address.family === "IPv4")
    .map((address) => `From other devices on this network: http://${address.address}:${port}`);
  return [`Trimledger is at ${here}`, ...outside];
}
