/**
 * The app under test. Each worker starts its own, by the same command a user types, on a free port and a new empty data
 * folder, and takes both away afterwards; `baseURL` points there, so tests say `page.goto("/dishes")`. Spec files that
 * need an installation of their own (an empty one, say) name it at the top: `test.use({ installation: "empty" })`;
 * files that name the same one, or none, may share it.
 */
import { spawn } from "node:child_process";
import fs from "node:fs";
import net from "node:net";
import os from "node:os";
import path from "node:path";
import AxeBuilder from "@axe-core/playwright";
import { test as base, expect } from "@playwright/test";
import type { Page } from "@playwright/test";

export { expect };

export interface RunningApp {
  readonly url: string;
  readonly dataFolder: string;
  /** Stops it as Ctrl-C would, waits until it is gone and returns its exit status. */
  stop(): Promise<number | null>;
  /** Kills it outright, as a power cut would. */
  kill(): Promise<void>;
}

/** Starts the app on `dataFolder` and waits until it answers. */
export async function startApp(dataFolder: string): Promise<RunningApp> {
  const port = await freePort();
  const url = `http://127.0.0.1:${port}`;
  const env = { ...process.env, PORT: String(port), HOST: "127.0.0.1", DATA_DIR: dataFolder, DATABASE_URL: "" };
  const child = spawn(process.execPath, ["app/start.mjs"], { env, stdio: ["ignore", "pipe", "pipe"], detached: true });
  let said = "";
  const gone = new Promise<number | null>((resolve) => child.once("close", (status) => { resolve(status); }));
  await new Promise<void>((resolve, reject) => {
    const listen = (piece: Buffer): void => {
      said += piece.toString();
      if (said.includes(url)) resolve();
    };
    child.stdout.on("data", listen);
    child.stderr.on("data", listen);
    void gone.then((status) => { reject(new Error(`The app ended with ${status} instead of starting:\n${said}`)); });
  });
  const signal = (name: NodeJS.Signals): void => {
    // The whole group: the command and the server it started.
    if (child.pid !== undefined && child.exitCode === null) process.kill(-child.pid, name);
  };
  return {
    url,
    dataFolder,
    stop: () => {
      signal("SIGTERM");
      return gone;
    },
    kill: async () => {
      signal("SIGKILL");
      await gone;
    },
  };
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = net.createServer();
    probe.once("error", reject);
    probe.listen(0, "127.0.0.1", () => {
      const address = probe.address();
      probe.close(() => { resolve(typeof address === "object" && address !== null ? address.port : 0); });
    });
  });
}

interface Options {
  /** Name of the installation a spec file wants; files that name the same one may share it. */
  installation: string;
}

export const test = base.extend<object, Options & { app: RunningApp }>({
  installation: ["shared", { option: true, scope: "worker" }],
  app: [
    // The installation is asked for so that Playwright gives each its own worker, and so its own app.
    async ({ installation }, use) => {
      const folder = fs.mkdtempSync(path.join(os.tmpdir(), `trimledger-browser-${installation.replace(/\W/g, "-")}-`));
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
  const { violations } = await new AxeBuilder({ page }).withTags(["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]).analyze();
  const told = violations.map((violation) => `${violation.id}: ${violation.help}\n  ${violation.nodes.map((node) => node.target.join(" ")).join("\n  ")}`);
  expect(told.join("\n")).toBe("");
}
