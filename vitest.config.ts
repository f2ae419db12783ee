/**
 * Test projects, each one suite of `npm test`: `unit` (the pure rooms, the lint rules, the seed: examples and
 * properties), `published` (figures printed in textbooks and tables), `store-embedded` and `store-server` (the same
 * store tests on the embedded database and on a PostgreSQL server named by TEST_DATABASE_URL). Run one with
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
          exclude: ["tests/{published,store,database,browser}/**"],
          testTimeout: 30_000,
        },
      },
      { extends: true, test: { name: "published", include: ["tests/published/**/*.test.ts"], testTimeout: 30_000 } },
      { extends: true, test: { name: "store-embedded", ...storeTests, exclude: ["tests/database/server.test.ts"], env: { TEST_DATABASE: "embedded" } } },
      { extends: true, test: { name: "store-server", ...storeTests, exclude: ["tests/database/{embedded,lock,power-cut}.test.ts"], env: { TEST_DATABASE: "server" } } },
    ],
  },
});
