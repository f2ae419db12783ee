/**
 * Test projects, each one suite of `npm test`: `unit` (the pure rooms, the lint rules, the seed: examples and
 * properties), `published` (figures printed in textbooks and tables), `store-embedded` and `store-server` (the same
 * store tests on the embedded database and on a PostgreSQL server named by TEST_DATABASE_URL), `doors` (every way into the
 * built app, as every kind of person), `durability` (the app killed under people who save), `fuzz`. Run one with
 * `npx vitest run --project unit`; `npm test -- store-server` starts a server for it.
 */
import { defineConfig } from "vitest/config";

const root = import.meta.dirname;

/** Store tests open databases on disk, and so are given time. */
const storeTests = {
  include: ["tests/store/**/*.test.ts", "tests/database/**/*.test.ts"],
  globalSetup: "tests/database/template.ts",
  testTimeout: 120_000,
  hookTimeout: 120_000,
};

export default defineConfig({
  resolve: { alias: { "@": root } },
  test: {
    environment: "node",
    projects: [
      {
        extends: true,
        test: {
          name: "unit",
          include: ["tests/**/*.test.{ts,tsx}"],
          exclude: ["tests/{published,store,database,browser,doors,fuzz,durability}/**"],
          testTimeout: 30_000,
        },
      },
      { extends: true, test: { name: "published", include: ["tests/published/**/*.test.ts"], testTimeout: 30_000 } },
      { extends: true, test: { name: "store-embedded", ...storeTests, exclude: ["tests/database/server.test.ts"], env: { TEST_DATABASE: "embedded" } } },
      { extends: true, test: { name: "store-server", ...storeTests, exclude: ["tests/database/{embedded,lock,power-cut}.test.ts"], env: { TEST_DATABASE: "server" } } },
      // The built app, started on a folder of its own and walked through over HTTP.
      { extends: true, test: { name: "doors", include: ["tests/doors/**/*.test.ts"], globalSetup: "tests/browser/set-up.ts", testTimeout: 600_000, hookTimeout: 300_000 } },
      // The built app, killed and restarted under people who save: files one after another, each with servers of its own.
      { extends: true, test: { name: "durability", include: ["tests/durability/**/*.test.ts"], globalSetup: "tests/browser/set-up.ts", testTimeout: 600_000, hookTimeout: 300_000, fileParallelism: false } },
      // One file after another: what is measured there is time.
      { extends: true, test: { name: "fuzz", ...storeTests, include: ["tests/fuzz/**/*.test.ts"], env: { TEST_DATABASE: "embedded" }, fileParallelism: false } },
    ],
  },
});
