/**
 * Whose work the app runs on, and under which licence: every package that `dependencies` bring along, to the last one.
 * `npm run licences` writes docs/licences.md; a test holds that page to package-lock.json and every licence to a short
 * list. The lock file alone decides, so that the page is the same on every machine: packages for other systems are in
 * it too. Plain Node.
 */
import fs from "node:fs";
import path from "node:path";

const root = path.resolve(import.meta.dirname, "../..");
export const pageFile = path.join(root, "docs/licences.md");

/** Licences that ask for no more than their notice. */
export const ALLOWED = new Set(["MIT", "ISC", "BSD-2-Clause", "BSD-3-Clause", "Apache-2.0", "0BSD", "Unlicense", "BlueOak-1.0.0", "Python-2.0", "CC-BY-4.0", "OFL-1.1"]);

/** Packages whose own file names no licence, with the one that their text is. */
const READ_FROM_THEIR_TEXT = { "seq-queue": "MIT" };

/** Licences that ask for more, each package by name, with what we do about it. Names end in * for a family. */
export const BY_NAME = [
  {
    packages: "@img/sharp-*", licences: ["LGPL-3.0-or-later"],
    why: "The decoder of photos, with libvips as a library of its own beside it: unchanged, replaceable, and loaded only when somebody sends a photo.",
  },
  { packages: "elkjs", licences: ["EPL-2.0"], why: "Comes with Prisma's own viewer of tables, a tool for developers that the app never loads: unchanged." },
];

const matches = (pattern, name) => (pattern.endsWith("*") ? name.startsWith(pattern.slice(0, -1)) : pattern === name);
export const exceptionFor = (name) => BY_NAME.find((one) => matches(one.packages, name));

/**
 * The packages that run: from the project's `dependencies` along everything they need or may use on some system. What a
 * package would merely get on with (an optional peer) counts only where something needs it.
 */
export function runtimePackages(lock) {
  const { packages } = lock;
  const found = new Map();
  const waiting = Object.keys(packages[""].dependencies).map((name) => ({ from: "", name }));
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const place = placeOf(packages, next.from, next.name);
    if (place === undefined || found.has(place)) continue;
    const entry = packages[place];
    const name = entry.name ?? place.slice(place.lastIndexOf("node_modules/") + "node_modules/".length);
    found.set(place, { name, version: entry.version, licence: entry.license ?? READ_FROM_THEIR_TEXT[name] });
    const peers = Object.keys(entry.peerDependencies ?? {}).filter((peer) => entry.peerDependenciesMeta?.[peer]?.optional !== true);
    for (const needed of [...Object.keys(entry.dependencies ?? {}), ...Object.keys(entry.optionalDependencies ?? {}), ...peers]) waiting.push({ from: place, name: needed });
  }
  return [...found].map(([place, one]) => ({ place, ...one }));
}

/** Where Node would find a package from another's place: in its own folder first, then in those around it. */
function placeOf(packages, from, name) {
  let folder = from;
  for (;;) {
    const place = path.posix.join(folder, "node_modules", name);
    if (packages[place] !== undefined) return place;
    if (folder === "") return undefined;
    folder = folder.slice(0, Math.max(0, folder.lastIndexOf("/node_modules/")));
  }
}

/** The names in a licence expression that are on neither list; [] when all is well. "MIT AND ISC" needs both, "MIT OR GPL-3.0" one. */
export function notAllowed(name, licence) {
  if (licence === undefined) return ["no licence named"];
  const known = new Set([...ALLOWED, ...(exceptionFor(name)?.licences ?? [])]);
  const choices = licence.replace(/[()]/g, "").split(/\s+or\s+/i).map((all) => all.split(/\s+and\s+/i).filter((one) => !known.has(one)));
  return choices.some((missing) => missing.length === 0) ? [] : choices[0];
}

/** The page: by licence, each package once, with its versions. */
export function licencesPage(lock) {
  const byLicence = new Map();
  for (const { name, version, licence } of runtimePackages(lock)) {
    const spelled = (licence ?? "no licence named").replace(/\band\b/g, "AND");
    const names = byLicence.get(spelled) ?? byLicence.set(spelled, new Map()).get(spelled);
    names.set(name, new Set([...(names.get(name) ?? []), version]));
  }
  const plainly = (a, b) => (a < b ? -1 : a > b ? 1 : 0);
  const sections = [...byLicence].sort(([a], [b]) => plainly(a, b)).map(([licence, names]) => [
    `## ${licence}`, "", "| package | version |", "|---|---|",
    ...[...names].sort(([a], [b]) => plainly(a, b)).map(([name, versions]) => `| ${name} | ${[...versions].sort(plainly).join(", ")} |`), "",
  ].join("\n"));
  const count = [...byLicence.values()].reduce((sum, names) => sum + names.size, 0);
  return [
    "# Whose work this runs on", "",
    `The ${count} packages that the app needs to run, all that they bring along, and packages that only some systems install. Written by`,
    "`npm run licences` from package-lock.json; a test keeps it true. Packages that only build and test are not listed. None is",
    "changed, and none is handed on with this code: an installation fetches them from where their authors publish them.", "",
    "Most licences ask for no more than their notice, which stands in each package. What asks for more:", "",
    ...BY_NAME.map(({ packages, licences, why }) => `- **${packages.replace("*", "…")}** (${licences.join(", ")}). ${why}`),
    "- **caniuse-lite** (CC-BY-4.0). Data about browsers by caniuse.com, used while the pages are built.",
    "- **The fonts** (OFL-1.1). Source Sans 3 and Source Serif 4, served unchanged by the app itself.", "",
    ...sections,
  ].join("\n").trimEnd() + "\n";
}

export const readLock = () => JSON.parse(fs.readFileSync(path.join(root, "package-lock.json"), "utf8"));

if (process.argv[1] === import.meta.filename) {
  fs.writeFileSync(pageFile, licencesPage(readLock()));
  console.log(`Wrote ${path.relative(process.cwd(), pageFile)}.`);
}
