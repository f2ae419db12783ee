/**
 * The cook at the block, with a thumb on a phone or a tablet: a whole test by nothing but the keys on the screen, counted; a
 * server that goes away in the middle and a page that is opened again without it; two devices on one sheet; slips asked
 * about; bad input; what a cook sees of the result.
 */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import type { Locator, Page } from "@playwright/test";
import { expect, expectAccessible, startApp, test } from "./app";
import { comeIn, demoKitchen, expectNoSideways } from "./steps";

test.use({ installation: "block" });

const keypad = (page: Page): Locator => page.getByRole("group", { name: "Keys" });
let taps = 0;

async function tap(target: Locator): Promise<void> {
  taps += 1;
  await target.click();
}

/** Keys in "8 lb 1 1" by the keys of the screen. */
async function keyIn(page: Page, keys: string): Promise<void> {
  for (const key of keys.split(" ")) await tap(keypad(page).getByRole("button", { name: key === "." ? "Decimal point" : key, exact: true }));
}

const goOn = (page: Page): Promise<void> => tap(keypad(page).locator(".go"));
const row = (page: Page, name: string): Locator => page.getByRole("row").filter({ has: page.getByRole("rowheader", { name: new RegExp(`^${name}`) }) });

/** Begins a sheet and settles how the scale reads, where that is asked. */
async function begin(page: Page, name = "Beef striploin, boneless"): Promise<void> {
  await page.goto("/block");
  await expect(page.getByRole("button", { name: "To the scale" })).toBeVisible();
  const lately = page.getByRole("button", { name, exact: true });
  if (await lately.isVisible()) await tap(lately);
  else {
    // Not worked lately: from the list of all that there is.
    await page.getByLabel("What is being worked").selectOption({ label: name });
    await tap(page.getByRole("button", { name: "To the scale" }));
  }
  await expect(keypad(page)).toBeVisible();
  await expect(page.locator(".now label")).toHaveText(/^(Billed weight|Weight as purchased)/);
  const ask = page.getByRole("group", { name: "How does this scale read?" });
  if (await ask.isVisible()) await tap(ask.getByRole("button", { name: /^pounds and ounces/ }));
  await expect(ask).toBeHidden();
}

const asked = (page: Page): Locator => page.locator(".asked[role=alert]");
const kept = (page: Page): Locator => page.locator(".kept");

test("nine parts, weighed by thumb: counted, and under a minute at the pace of a hand @phone @tablet", async ({ page, isMobile }) => {
  await demoKitchen(page, "Block cook");
  taps = 0;
  const began = Date.now();
  await begin(page);
  await keyIn(page, "2 6 lb 4");
  await goOn(page);
  for (const weight of ["1 7 lb 1 0", "2 lb 1 3", "4 lb 2", "1 5 oz"]) { await keyIn(page, weight); await goOn(page); }
  await keyIn(page, "6 oz");
  await goOn(page);
  // Four parts more than the last test had, each added with a tap.
  for (const [name, weight] of [["Bones", "1 oz"], ["End pieces", "1 oz"], ["Skin", "1 oz"], ["Trim", "1 oz"]] as const) {
    await tap(page.getByRole("button", { name: "Add a part" }));
    await tap(page.getByRole("group", { name: "Add a part" }).getByRole("button", { name, exact: true }));
    await keyIn(page, weight);
    await goOn(page);
  }
  await expect(page.locator(".now label")).toHaveText("All weighed");
  await expect(kept(page)).toHaveText("kept on this device and in the kitchen’s book");
  const seconds = (Date.now() - began) / 1000;
  // A gloved hand does about two taps a second.
  console.log(`nine parts ${isMobile ? "on a phone" : "on a screen"}: ${taps} taps, no other key; ${(taps / 2).toFixed(0)} s at two taps a second; this machine took ${seconds.toFixed(1)} s`);
  expect(taps / 2).toBeLessThan(60);
  await expect(row(page, "End pieces")).toContainText("1 oz");
  await expectNoSideways(page);
  await expectAccessible(page);
  for (const button of await keypad(page).getByRole("button").all()) {
    const box = await button.boundingBox();
    expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(60);
  }
  await goOn(page);
  await expect(page).toHaveURL(/\/result$/);
  await expect(page.locator(".say").first()).toContainText("% usable");
  await expectNoSideways(page);
  await expectAccessible(page);
  await page.getByRole("button", { name: "Record this test" }).click();
  await expect(page).toHaveURL(/\/tests\/test-[^/]+$/);
  await expect(page.getByRole("row").filter({ hasText: "Lean trim" }).first()).toContainText(/2\s?lb\s+13\s?oz/);
});

test("the server goes away in the middle: nothing is lost through a reload, and another device goes on", async ({ browser, contextOptions }) => {
  test.setTimeout(240_000);
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-browser-cut-"));
  const first = await startApp(folder);
  const port = new URL(first.url).port;
  const context = await browser.newContext({ ...contextOptions, baseURL: first.url });
  const page = await context.newPage();
  await demoKitchen(page, "Chef");
  await begin(page);
  await keyIn(page, "1 3 lb 8");
  await goOn(page);
  await keyIn(page, "8 lb 1 1");
  await goOn(page);
  await expect(kept(page)).toHaveText("kept on this device and in the kitchen’s book");
  // The page and what it is made of are kept by the browser before the connection is cut.
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await expect.poll(() => page.evaluate(async () => {
    const cache = await caches.open("trimledger-block-1");
    return (await cache.keys()).filter(({ url }) => url.includes("/block/")).length;
  })).toBeGreaterThan(0);

  await first.kill();
  await keyIn(page, "1 lb 1 0");
  await goOn(page);
  await keyIn(page, "2 lb 2");
  await goOn(page);
  await expect(kept(page)).toContainText("no connection: kept on this device");
  await page.reload();
  await expect(row(page, "Lean trim")).toContainText("1 lb 10 oz");
  await expect(row(page, "Fat")).toContainText("2 lb 2 oz");
  await keyIn(page, "1 0 oz");
  await goOn(page);
  await keyIn(page, "4 oz");
  await goOn(page);
  await goOn(page);
  await expect(asked(page)).toContainText("waits for the connection");

  const second = await startApp(folder, { PORT: port });
  await expect(kept(page)).toHaveText("kept on this device and in the kitchen’s book", { timeout: 40_000 });

  // The battery is empty: another device, another person.
  const elsewhere = await browser.newContext({ ...contextOptions, baseURL: second.url });
  const other = await elsewhere.newPage();
  await comeIn(other, "Sous chef", "sous chef");
  await other.goto("/block");
  await other.getByRole("link", { name: "Beef striploin, boneless" }).click();
  await expect(row(other, "Silverskin and vein end")).toContainText("10 oz");
  await expect(row(other, "Purge in the bag")).toContainText("4 oz");
  // Each sees what the other weighs.
  await other.getByRole("button", { name: "Weigh more of Fat" }).click();
  await keyIn(other, "1 oz");
  await goOn(other);
  await expect(row(page, "Fat")).toContainText("2 lb 3 oz");
  await goOn(other);
  await expect(other).toHaveURL(/\/result$/);
  await other.getByRole("button", { name: "Record this test" }).click();
  await expect(other).toHaveURL(/\/tests\/test-[^/]+$/);
  await expect(page.getByText("This sheet is recorded.")).toBeVisible();
  await Promise.all([context.close(), elsewhere.close()]);
  await second.stop();
  fs.rmSync(folder, { recursive: true, force: true });
});

test("slips are asked about and never put right by themselves; undo and again", async ({ page }) => {
  await demoKitchen(page, "Block cook");
  await begin(page);
  await keyIn(page, "1 3 lb 8");
  await goOn(page);
  // 86 for 8 lb 6: more than the whole.
  await keyIn(page, "8 6 lb");
  await goOn(page);
  const slips = page.getByRole("group", { name: "Does not add up" });
  await expect(slips).toContainText("Striploin");
  await expect(row(page, "Striploin, trimmed")).toContainText("86 lb");
  await keypad(page).getByRole("button", { name: "undo" }).click();
  await expect(slips).toBeHidden();
  await keyIn(page, "8 lb 1 1");
  await goOn(page);
  await page.getByRole("button", { name: /^Weigh Striploin, trimmed/ }).click();
  await keyIn(page, "8 lb 1 0");
  await goOn(page);
  await expect(row(page, "Striploin, trimmed")).toContainText("8 lb 10 oz");
});

test("a tub is taken off and remembered; pieces are counted; none today; a figure with two readings is asked about", async ({ page }) => {
  test.setTimeout(120_000);
  await demoKitchen(page, "Block cook");
  await begin(page);
  await keyIn(page, "1 3 lb 8");
  await goOn(page);
  await page.getByRole("button", { name: "Piece by piece" }).click();
  await keyIn(page, "4 lb 6");
  await goOn(page);
  await keyIn(page, "4 lb 5");
  await goOn(page);
  await expect(row(page, "Striploin, trimmed")).toContainText("2 pieces");
  await goOn(page);
  await page.getByRole("button", { name: "✓ Piece by piece" }).click();

  await page.getByRole("button", { name: "no tub taken off" }).click();
  await keyIn(page, "4 oz");
  await goOn(page);
  await expect(page.getByRole("button", { name: "tub 4 oz taken off" })).toBeVisible();
  await keyIn(page, "1 lb 1 4");
  await expect(page.locator("#reads")).toContainText("1 lb 10 oz without the tub");
  await goOn(page);
  await expect(row(page, "Lean trim")).toContainText("1 lb 10 oz");
  await keyIn(page, "3 oz");
  await goOn(page);
  await expect(asked(page)).toContainText("The tub weighs 4 oz, more than the 3 oz");
  for (let n = 0; n < 2; n += 1) await keypad(page).getByRole("button", { name: "undo" }).click();
  await page.getByRole("button", { name: "None today" }).click();
  await expect(row(page, "Fat")).toContainText("none today");

  // 18.6 on a scale of pounds and ounces.
  await page.getByRole("button", { name: "Weigh Billed weight again" }).click();
  await page.getByRole("button", { name: "tub 4 oz taken off" }).click();
  await page.getByRole("button", { name: "No tub, or the scale is tared" }).click();
  await keyIn(page, "1 8 . 6");
  await goOn(page);
  await expect(asked(page)).toContainText("two readings");
  await asked(page).getByRole("button", { name: "18 lb 6 oz" }).click();
  await expect(row(page, "Billed weight")).toContainText("18 lb 6 oz");
  await page.reload();
  await expect(row(page, "Billed weight")).toContainText("18 lb 6 oz");
});

test("a real keyboard does as well, and the page says nothing is keyed in", async ({ page }) => {
  await demoKitchen(page, "Block cook");
  await begin(page);
  await goOn(page);
  await expect(asked(page)).toContainText("Key in what the scale shows");
  await page.keyboard.type("13 8");
  await page.keyboard.press("Enter");
  await expect(row(page, "Billed weight")).toContainText("13 lb 8 oz");
  await page.keyboard.type("8-11");
  await expect(page.locator("#reads")).toContainText("8.6875 lb");
  await page.keyboard.press("Enter");
  await expect(row(page, "Striploin, trimmed")).toContainText("8 lb 11 oz");
});

test("a cook who sees no money records a test and is told how it compares", async ({ page, browser, app }) => {
  test.setTimeout(180_000);
  await demoKitchen(page, "Block cook");
  const context = await browser.newContext({ baseURL: app.url });
  const cook = await context.newPage();
  await comeIn(cook, "Line cook", "cook");
  const seen: string[] = [];
  cook.on("response", (answer) => { void answer.text().then((text) => { if (/\$\s?\d+\.\d\d/.test(text)) seen.push(answer.url()); }, () => undefined); });
  await begin(cook, "Carrots, jumbo");
  await keyIn(cook, "5 0 lb");
  await goOn(cook);
  await keyIn(cook, "4 1 lb");
  await goOn(cook);
  const rest = cook.locator(".now label");
  if (await rest.textContent() !== "All weighed") { await keyIn(cook, "8 lb 1 2"); await goOn(cook); }
  await expect(kept(cook)).toHaveText("kept on this device and in the kitchen’s book");
  await goOn(cook);
  await expect(cook).toHaveURL(/\/result$/);
  await expect(cook.locator(".say").first()).toContainText("82.0 % usable");
  await expect(cook.locator("main")).not.toContainText("$");
  await cook.getByRole("button", { name: "Record this test" }).click();
  await expect(cook).toHaveURL(/\/tests\/test-[^/]+$/);
  await expect(cook.locator("main")).not.toContainText("$");
  expect(seen).toEqual([]);
  await context.close();
});

test("sheets that are not there, not ours, or sent wrong", async ({ page }) => {
  await demoKitchen(page, "Block cook");
  expect((await page.goto("/block/test-nowhere"))?.status()).toBe(404);
  expect((await page.goto("/block/test-nowhere/result"))?.status()).toBe(404);
  const post = (body: string, sheet = "test-nowhere"): Promise<number> => page.evaluate(async ([where, what]) => (await fetch(`/block/${where}/entries`, { method: "POST", body: what ?? "", headers: { "Content-Type": "application/json" } })).status, [sheet, body] as const);
  expect(await post("{}")).toBe(400);
  expect(await post("not json")).toBe(400);
  expect(await post(JSON.stringify({ since: 0, entries: [] }))).toBe(404);
  expect(await post(JSON.stringify({ since: 0, entries: [{ id: "x", at: "now", body: {} }] }))).toBe(400);
});
