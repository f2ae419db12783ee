/**
 * The app under test. Each worker starts its own, by the same command a user types, on a free port and a data folder of
 * its own, and takes both away afterwards; `baseURL` points there, so tests say `page.goto("/dishes")`. It begins with
 * Chef's demo kitchen, or, where the first day is what is told, with nothing: `test.use({ begins: "empty" })`. Spec
 * files that need an installation of their own name it at the top: `test.use({ installation: "items" })`; files that
 * name the same one, or none, may share it.
 */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import AxeBuilder from "@axe-core/playwright";
import { test as base, expect } from "@playwright/test";
import type { Page } from "@playwright/test";
import { type RunningApp, startApp } from "../running-app";

/** Names the folder that installations begin as a copy of (template.ts) to the workers, which are processes of their own. */
export const TEMPLATE = "TRIMLEDGER_TEST_TEMPLATE";

export { expect };
export { startApp };
export type { RunningApp };

interface Options {
  /** Name of the installation a spec file wants; files that name the same one may share it. */
  installation: string;
  begins: "demo" | "empty";
}

export const test = base.extend<object, Options & { app: RunningApp }>({
  installation: ["shared", { option: true, scope: "worker" }],
  begins: ["demo", { option: true, scope: "worker" }],
  app: [
    // The installation is asked for so that Playwright gives each its own worker, and so its own app.
    async ({ installation, begins }, use) => {
      const folder = fs.mkdtempSync(path.join(os.tmpdir(), `trimledger-browser-${installation.replace(/\W/g, "-")}-`));
      const template = process.env[TEMPLATE];
      if (begins === "demo" && template !== undefined) fs.cpSync(template, folder, { recursive: true });
      const app = await startApp(folder);
      await use(app);
      await app.stop();
      fs.rmSync(folder, { recursive: true, force: true });
    },
    { scope: "worker", timeout: 120_000 },
  ],
  baseURL: async ({ app }, use) => {
    await use(app.url);
  },
});

/** Fails with axe's own words when the page breaks a rule of WCAG 2.2 A or AA that a machine can see. */
export async function expectAccessible(page: Page): Promise<void> {
  // The title comes a moment after the page where one was led here by a link.
  await expect(page).toHaveTitle(/./);
  const { violations } = await new AxeBuilder({ page }).withTags(["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]).analyze();
  const told = violations.map((violation) => `${violation.id}: ${violation.help}\n  ${violation.nodes.map((node) => node.target.join(" ")).join("\n  ")}`);
  expect(told.join("\n")).toBe("");
}
