/**
 * End-to-end tests: real pages of the built app in a real Chromium, Debian's where there is one. `npm test --
 * end-to-end` finds or installs it; `npx playwright test` runs what is there. Every test runs on a desktop's screen;
 * those marked @tablet or @phone
 * run on these as well.
 */
import fs from "node:fs";
import { defineConfig } from "@playwright/test";

const chromium = [process.env.CHROMIUM, "/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"].find((path) => path !== undefined && path !== "" && fs.existsSync(path));
const asRoot = process.getuid?.() === 0;

export default defineConfig({
  testDir: "tests/browser",
  globalSetup: ["./tests/browser/set-up.ts", "./tests/browser/template.ts"],
  outputDir: "test-results",
  timeout: 60_000,
  expect: { timeout: 10_000 },
  fullyParallel: false,
  workers: 2,
  forbidOnly: process.env.CI === "true",
  reporter: process.env.REPORT_FILE ? [["list"], ["json", { outputFile: process.env.REPORT_FILE }]] : [["list"]],
  use: {
    locale: "en-US",
    timezoneId: "America/New_York",
    screenshot: "only-on-failure",
    // A trace of every step costs a tenth of the time: TRACE=true npx playwright test keeps one of what fails.
    trace: process.env.TRACE === "true" ? "retain-on-failure" : "off",
    launchOptions: {
      ...(chromium === undefined ? {} : { executablePath: chromium }),
      args: [
        // Chromium's own sandbox does not work for root, and its calls home are neither needed nor wanted.
        ...(asRoot ? ["--no-sandbox"] : []),
        "--disable-quic",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--no-first-run",
      ],
    },
  },
  projects: [
    { name: "desktop", use: { viewport: { width: 1280, height: 900 } } },
    { name: "tablet", grep: /@tablet/, use: { viewport: { width: 820, height: 1180 }, hasTouch: true } },
    { name: "phone", grep: /@phone/, use: { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true } },
  ],
});
