/** Every package that runs has a licence we may use, and docs/licences.md says which. */
import fs from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { licencesPage, notAllowed, pageFile, readLock, runtimePackages } from "./licences.mjs";

const lock = readLock();
const packages = runtimePackages(lock);

test("every licence is one that asks for no more than its notice, or is dealt with by name", () => {
  expect(packages.map(({ name, licence }) => [name, notAllowed(name, licence)] as const).filter(([, missing]) => missing.length > 0)).toEqual([]);
});

test("docs/licences.md is what package-lock.json says: `npm run licences` writes it", () => {
  expect(fs.readFileSync(pageFile, "utf8")).toBe(licencesPage(lock));
});

test("the packages that are installed say the same of themselves as the lock file does", () => {
  for (const { place, name, version } of packages) {
    const file = path.join(import.meta.dirname, "../..", place, "package.json");
    if (!fs.existsSync(file)) continue;
    const own = JSON.parse(fs.readFileSync(file, "utf8")) as { version: string; license?: string };
    expect([name, own.version, own.license]).toEqual([name, version, lock.packages[place]?.license]);
  }
});

test("expressions are read as they are meant", () => {
  expect(notAllowed("a", "MIT AND ISC")).toEqual([]);
  expect(notAllowed("a", "(MIT OR GPL-3.0-only)")).toEqual([]);
  expect(notAllowed("a", "MIT AND GPL-3.0-only")).toEqual(["GPL-3.0-only"]);
  expect(notAllowed("a", "LGPL-3.0-or-later")).toEqual(["LGPL-3.0-or-later"]);
  expect(notAllowed("a", "SEE LICENSE IN LICENSE")).toEqual(["SEE LICENSE IN LICENSE"]);
  expect(notAllowed("a", undefined)).toEqual(["no licence named"]);
});

test("what runs is found through every level, and what only builds, tests or could be added is not", () => {
  const small = { packages: {
    "": { dependencies: { a: "1" }, devDependencies: { t: "1" } },
    "node_modules/a": { version: "1.0.0", license: "MIT", dependencies: { b: "1" }, optionalDependencies: { "o-win": "1" }, peerDependencies: { p: "1", q: "1" }, peerDependenciesMeta: { q: { optional: true } } },
    "node_modules/b": { version: "2.0.0", license: "ISC" },
    "node_modules/a/node_modules/b": { version: "1.0.0", license: "ISC", dependencies: { c: "1" } },
    "node_modules/c": { version: "1.0.0", license: "0BSD" },
    "node_modules/o-win": { version: "1.0.0", license: "MIT", optional: true },
    "node_modules/p": { version: "1.0.0", license: "MIT", peer: true },
    "node_modules/q": { version: "1.0.0", license: "MIT" },
    "node_modules/t": { version: "1.0.0", license: "MIT", dev: true },
  } };
  expect(runtimePackages(small).map(({ place }) => place).sort()).toEqual(["node_modules/a", "node_modules/a/node_modules/b", "node_modules/c", "node_modules/o-win", "node_modules/p"]);
});
