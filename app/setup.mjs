/**
 * What must be there before the app can run or be tested, made only where it is missing or out of date: the packages,
 * Prisma's client, the built pages. Used by `npm start` and `npm test`. Plain Node: it runs before anything is
 * installed. What was made from what is remembered as a hash in .setup/.
 */
import { spawn } from "node:child_process";
import { createHash } from "node:crypto";
import fs from "node:fs";
import path from "node:path";

export const root = path.resolve(import.meta.dirname, "..");

/** What every tool is told: report nothing to anyone, and download nothing. */
export const quiet = {
  NEXT_TELEMETRY_DISABLED: "1",
  CHECKPOINT_DISABLE: "1",
  PRISMA_HIDE_UPDATE_MESSAGE: "1",
  // Generating needs no schema engine, but Prisma's command downloads one unless it is told of a file.
  PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
};

/** A sentence for whoever typed the command; anything else that goes wrong shows its stack. */
export class SetupProblem extends Error {}

export function checkNode() {
  const [major, minor] = process.versions.node.split(".").map(Number);
  if (major < 20 || (major === 20 && minor < 19)) {
    throw new SetupProblem(`Trimledger needs Node.js 20.19 or later, and this is ${process.versions.node}. Install a newer one from nodejs.org or your system's packages.`);
  }
}

/** Installs the packages of package-lock.json, unless exactly those are there. */
export async function install(say) {
  if (packagesAreThere()) return;
  say("Installing packages (a minute or two, once)");
  await run("npm", ["ci", "--include=dev", "--no-audit", "--no-fund"], { why: "The packages could not be installed. The npm registry must be reachable the first time." });
}

function packagesAreThere() {
  const wanted = readJson("package-lock.json")?.packages;
  const found = readJson("node_modules/.package-lock.json")?.packages;
  if (wanted === undefined || found === undefined) return false;
  return Object.entries(wanted).every(([place, entry]) => place === "" || entry.optional === true || found[place]?.version === entry.version);
}

/** Generates Prisma's client from prisma/schema.prisma. */
export async function generate(say) {
  const made = hashOf(["prisma/schema.prisma", "node_modules/prisma/package.json"]);
  if (remembered("generated") === made && exists("prisma/generated/client.ts")) return;
  say("Generating the database client");
  await run(process.execPath, ["node_modules/prisma/build/index.js", "generate", "--no-hints"], { why: "The database client could not be generated from prisma/schema.prisma." });
  remember("generated", made);
}

/** Everything the built pages are made from. */
const sources = ["app", "components", "lib", "seed", "prisma/schema.prisma", "instrumentation.ts", "next.config.ts", "tsconfig.json", "package-lock.json"];

/** Builds the pages, unless the ones there were built from these very sources. */
export async function build(say) {
  const made = hashOf(sources);
  if (remembered("built") === `${made} ${buildId()}`) return;
  say("Building the pages (half a minute, after each change of the sources)");
  await run(process.execPath, ["node_modules/next/dist/bin/next", "build"], { env: { NODE_ENV: "production" }, why: "The pages could not be built." });
  remember("built", `${made} ${buildId()}`);
}

function buildId() {
  try {
    return fs.readFileSync(path.join(root, ".next/BUILD_ID"), "utf8").trim();
  } catch {
    return "nothing built";
  }
}

/** Runs a command quietly; shows what it printed only if it fails. */
function run(command, args, { env = {}, why }) {
  return new Promise((resolve, reject) => {
    const child = spawn(command, args, { cwd: root, env: { ...process.env, ...quiet, ...env }, stdio: ["ignore", "pipe", "pipe"], shell: process.platform === "win32" && command === "npm" });
    const printed = [];
    child.stdout.on("data", (piece) => printed.push(piece));
    child.stderr.on("data", (piece) => printed.push(piece));
    child.once("error", (error) => reject(new SetupProblem(`${why}\n${error.message}`)));
    child.once("close", (status) => {
      if (status === 0) resolve();
      else reject(new SetupProblem(`${Buffer.concat(printed).toString().trim()}\n\n${why}`));
    });
  });
}

function hashOf(places) {
  const hash = createHash("sha256");
  const add = (place) => {
    const full = path.join(root, place);
    if (!fs.existsSync(full)) return;
    if (fs.statSync(full).isDirectory()) {
      for (const name of fs.readdirSync(full).sort()) add(`${place}/${name}`);
      return;
    }
    if (place.endsWith(".mjs")) return; // commands such as this one are not part of any page
    hash.update(`${place}\n`).update(fs.readFileSync(full)).update("\n");
  };
  for (const place of places) add(place);
  return hash.digest("hex");
}

const exists = (place) => fs.existsSync(path.join(root, place));

function readJson(place) {
  try {
    return JSON.parse(fs.readFileSync(path.join(root, place), "utf8"));
  } catch {
    return undefined;
  }
}

function remembered(what) {
  try {
    return fs.readFileSync(path.join(root, ".setup", what), "utf8");
  } catch {
    return undefined;
  }
}

function remember(what, text) {
  fs.mkdirSync(path.join(root, ".setup"), { recursive: true });
  fs.writeFileSync(path.join(root, ".setup", what), text);
}
