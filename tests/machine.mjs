/**
 * What the tests need of the machine besides Node: a PostgreSQL server of their own and a Chromium. Both are looked
 * for; where there is none and we are root on a Debian system, Debian's is installed. Plain Node, like run.mjs.
 */
import { execFile, execFileSync } from "node:child_process";
import fs from "node:fs";
import net from "node:net";
import os from "node:os";
import path from "node:path";
import { promisify } from "node:util";

const execute = promisify(execFile);
const isRoot = process.getuid?.() === 0;

/**
 * A new PostgreSQL server on a free port of 127.0.0.1, in a temporary folder that `stop` removes. Where there is no
 * PostgreSQL to be had: `missing`, a sentence.
 */
export async function startPostgres() {
  const bin = findPostgres() ?? (installDebian("postgresql") ? findPostgres() : undefined);
  if (bin === undefined) return { missing: "There is no PostgreSQL on this machine." };

  // PostgreSQL refuses to run as root; Debian's package makes a user for it.
  const who = isRoot ? userIds("postgres") ?? userIds("nobody") : {};
  if (who === undefined) return { missing: "PostgreSQL does not run as root, and there is no other user to run it as." };
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-postgres-"));
  if (isRoot) fs.chownSync(folder, who.uid, who.gid);
  const data = path.join(folder, "data");
  const port = await freePort();
  const options = { ...who, cwd: folder, env: { ...process.env, HOME: folder } };
  const stop = async () => {
    await execute(path.join(bin, "pg_ctl"), ["stop", "-D", data, "-m", "immediate", "-w"], options).catch(() => undefined);
    fs.rmSync(folder, { recursive: true, force: true });
  };
  try {
    await execute(path.join(bin, "initdb"), ["-D", data, "-U", "postgres", "--auth=trust", "--encoding=UTF8", "--no-locale", "--no-sync"], options);
    fs.appendFileSync(path.join(data, "postgresql.conf"), `\nport = ${port}\nlisten_addresses = '127.0.0.1'\nunix_socket_directories = ''\nfsync = off\n`);
    await execute(path.join(bin, "pg_ctl"), ["start", "-D", data, "-l", path.join(folder, "log"), "-w"], options);
  } catch (error) {
    const log = fs.existsSync(path.join(folder, "log")) ? fs.readFileSync(path.join(folder, "log"), "utf8") : "";
    await stop();
    throw new Error(`PostgreSQL (${bin}) did not start.\n${error.message}\n${log}`, { cause: error });
  }
  const version = execFileSync(path.join(bin, "postgres"), ["--version"], { encoding: "utf8" }).trim();
  return { url: `postgresql://postgres@127.0.0.1:${port}/postgres`, version, stop };
}

/** The folder with initdb and pg_ctl: Debian's newest, or the one on PATH. */
function findPostgres() {
  const debian = "/usr/lib/postgresql";
  const versions = fs.existsSync(debian) ? fs.readdirSync(debian).sort((a, b) => Number(b) - Number(a)) : [];
  const folders = [...versions.map((version) => path.join(debian, version, "bin")), ...onPath()];
  return folders.find((folder) => ["initdb", "pg_ctl", "postgres"].every((name) => fs.existsSync(path.join(folder, name))));
}

/** A Chromium that Playwright can drive: Debian's, another system's, or Playwright's own. */
export async function findChromium() {
  const found = chromiumHere() ?? (installDebian("chromium") ? chromiumHere() : undefined);
  if (found !== undefined) return { path: found };
  // Needed only once packages are installed, hence not at the top.
  const { chromium } = await import("@playwright/test");
  if (!fs.existsSync(chromium.executablePath())) {
    console.log("Asking Playwright for its Chromium");
    await execute(process.execPath, ["node_modules/@playwright/test/cli.js", "install", "chromium"], { timeout: 5 * 60_000 }).catch(() => undefined);
  }
  return fs.existsSync(chromium.executablePath()) ? { path: chromium.executablePath() } : { missing: "There is no Chromium on this machine." };
}

function chromiumHere() {
  const named = process.env.CHROMIUM;
  const usual = onPath().flatMap((folder) => ["chromium", "chromium-browser", "google-chrome"].map((name) => path.join(folder, name)));
  return [...(named ? [named] : []), "/usr/bin/chromium", ...usual].find((file) => fs.existsSync(file));
}

/** Installs a package of Debian's, as root; false where that is not possible. */
function installDebian(name) {
  if (!isRoot || !fs.existsSync("/usr/bin/apt-get")) return false;
  console.log(`Installing Debian's ${name} for the tests`);
  const options = { stdio: ["ignore", "ignore", "inherit"], env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" }, timeout: 5 * 60_000 };
  try {
    execFileSync("apt-get", ["update", "-qq"], options);
    execFileSync("apt-get", ["install", "-y", "-qq", "--no-install-recommends", name], options);
    return true;
  } catch {
    return false;
  }
}

function userIds(name) {
  try {
    const read = (option) => Number(execFileSync("id", [option, name], { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] }));
    return { uid: read("-u"), gid: read("-g") };
  } catch {
    return undefined;
  }
}

const onPath = () => (process.env.PATH ?? "").split(path.delimiter).filter((folder) => folder !== "");

function freePort() {
  return new Promise((resolve, reject) => {
    const probe = net.createServer();
    probe.once("error", reject);
    probe.listen(0, "127.0.0.1", () => {
      const { port } = probe.address();
      probe.close(() => resolve(port));
    });
  });
}
