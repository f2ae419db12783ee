/** The app starts on an empty folder, answers in Chromium, loads nothing from elsewhere, and starts again after a kill. */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { expect, expectAccessible, startApp, test } from "./app";

test.use({ installation: "smoke", begins: "empty" });

test("the first page of a new installation @phone", async ({ page, app }) => {
  const complaints: string[] = [];
  const elsewhere: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error") complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("request", (request) => {
    if (!request.url().startsWith(app.url) && !/^(data|blob):/.test(request.url())) elsewhere.push(request.url());
  });

  const answer = await page.goto("/");
  expect(answer?.status()).toBe(200);
  await expect(page).toHaveTitle(/Trimledger/);
  await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
  await expectAccessible(page);
  expect(complaints).toEqual([]);
  expect(elsewhere).toEqual([]);
});

test("stopped, it closes its folder; killed, it opens it again", async ({ page }) => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-browser-kill-"));
  const first = await startApp(folder);
  expect(fs.existsSync(path.join(folder, "postgres.lock"))).toBe(true);
  await first.kill();
  expect(fs.existsSync(path.join(folder, "postgres.lock"))).toBe(true);

  const second = await startApp(folder);
  expect((await page.goto(second.url))?.status()).toBe(200);
  await expect(startApp(folder)).rejects.toThrow(/in use by process \d+/);
  expect(await second.stop()).toBe(0);
  expect(fs.existsSync(path.join(folder, "postgres.lock"))).toBe(false);
  fs.rmSync(folder, { recursive: true });
});
