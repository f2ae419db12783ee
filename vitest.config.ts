/**
 * Test projects, each one suite of `npm test`: `unit` (the pure rooms and the lint rules: examples and properties),
 * `published` (figures printed in textbooks and tables), `store-embedded` and `store-server` (the same store tests on
 * the embedded database and on a PostgreSQL server named by TEST_DATABASE_URL). Run one with
 * `npx vitest run --project unit`.
 */
import { defineConfig } from "vitest/config";

const root = import.meta.dirname;
const alias = { "@": root };

/** Store tests open databases on disk: given time, and one file after the other on the server they share. */
const storeTests = { include: ["tests/store/**/*.test.ts", "tests/database/**/*.test.ts"], testTimeout: 60_000, hookTimeout: 60_000 };

export default defineConfig({
  resolve: { alias },
  test: {
    environment: "node",
    projects: [
      {
        extends: true,
        test: {
          name: "unit",
          include: ["tests/{measure,yield,book,cascade,menu,buying,exchange,lint,app,components}/**/*.test.{ts,tsx}"],
          testTimeout: 30_000,
        },
      },
      { extends: true, test: { name: "published", include: ["tests/published/**/*.test.ts"], testTimeout: 30_000 } },
      { extends: true, test: { name: "store-embedded", ...storeTests, env: { TEST_DATABASE: "embedded" }, maxWorkers: 2 } },
      { extends: true, test: { name: "store-server", ...storeTests, env: { TEST_DATABASE: "server" }, fileParallelism: false } },
    ],
  },
});
