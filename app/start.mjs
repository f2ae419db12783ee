/**
 * `npm start`: from a fresh checkout to a running app, and every time after that in seconds. It sets up what is missing
 * (setup.mjs), starts the server and says where it is. PORT (3000), HOST (every address of this machine, so that a
 * tablet at the block reaches it; HOST=127.0.0.1 keeps it to this machine), DATA_DIR (./data) and DATABASE_URL are
 * honoured. Ctrl-C or SIGTERM stops it and closes the database.
 */
import { spawn } from "node:child_process";
import net from "node:net";
import os from "node:os";
import { stripVTControlCharacters } from "node:util";
import { build, checkNode, generate, install, quiet, root, SetupProblem } from "./setup.mjs";

const say = (line) => console.log(line);

try {
  checkNode();
  const { port, host } = whereToListen();
  await portIsFree(port, host);
  await install(say);
  await generate(say);
  await build(say);
  serve(port, host);
} catch (error) {
  if (!(error instanceof SetupProblem)) throw error;
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

function serve(port, host) {
  say("Starting");
  const args = ["node_modules/next/dist/bin/next", "start", "--port", String(port), ...(host === undefined ? [] : ["--hostname", host])];
  const env = {
    ...process.env,
    ...quiet,
    NODE_ENV: "production",
    // The app closes its database before it goes (instrumentation.ts); Next would not wait for that.
    NEXT_MANUAL_SIG_HANDLE: "true",
  };
  const server = spawn(process.execPath, args, { cwd: root, env, stdio: ["ignore", "pipe", "inherit"] });

  // Next's own banner comes before the database is open; the address is given once the app can answer (the line that
  // says where the data is comes from instrumentation.ts).
  let rest = "";
  server.stdout.on("data", (piece) => {
    const lines = (rest + piece).split("\n");
    rest = lines.pop() ?? "";
    for (const line of lines.map(stripVTControlCharacters)) {
      if (/^\s*(▲|- Local|- Network|✓|$)/.test(line)) continue;
      say(line);
      if (line.startsWith("The data is ")) for (const address of [...addresses(port, host), "Ctrl-C stops it."]) say(address);
    }
  });

  // A terminal's Ctrl-C reaches the server by itself; a signal sent to this process alone is passed on.
  process.on("SIGINT", () => server.kill("SIGINT"));
  process.on("SIGTERM", () => server.kill("SIGTERM"));
  server.once("close", (status, signal) => {
    process.exit(status ?? (signal === null ? 0 : 1));
  });
}

function addresses(port, host) {
  if (host !== undefined && host !== "0.0.0.0" && host !== "::") return [`Trimledger is at http://${host.includes(":") ? `[${host}]` : host}:${port}`];
  const outside = Object.values(os.networkInterfaces())
    .flat()
    .filter((address) => address !== undefined && !address.internal && address.family === "IPv4")
    .map((address) => `From other devices on this network: http://${address.address}:${port}`);
  return [`Trimledger is at http://localhost:${port}`, ...outside];
}
