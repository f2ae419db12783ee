/**
 * Everything out and in again: a list taken away as a file, the whole kitchen as one document and opened again from it, a
 * program that comes in with its key until the key is ended.
 */
import fs from "node:fs";
import type { Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { comeIn, demoKitchen, expectNoSideways, withoutScripts } from "./steps";

test.use({ installation: "files-out" });

async function taken(page: Page, press: () => Promise<void>): Promise<{ readonly name: string; readonly bytes: Buffer }> {
  const waited = page.waitForEvent("download");
  await press();
  const download = await waited;
  return { name: download.suggestedFilename(), bytes: fs.readFileSync(await download.path()) };
}

test("lists are taken away, the whole kitchen is and is opened again from its file @phone @tablet", async ({ page, browser }) => {
  await demoKitchen(page, "Chef");
  await page.goto("/items");
  const csv = await taken(page, () => page.getByRole("link", { name: "Items as CSV" }).click());
  expect(csv.name).toMatch(/^items-.*-\d{4}-\d\d-\d\d\.csv$/);
  const lines = csv.bytes.toString("utf8").split("\r\n");
  expect(lines[0]).toMatch(/^\uFEFFItem,Shelf,Specification,/);
  expect(lines.some((line) => line.startsWith("\"Beef striploin, boneless\",Beef,"))).toBe(true);

  await page.goto("/out");
  await expectAccessible(page);
  await expectNoSideways(page);
  const xlsx = await taken(page, () => page.getByRole("link", { name: "Dishes as XLSX" }).click());
  expect([xlsx.name.endsWith(".xlsx"), xlsx.bytes.subarray(0, 2).toString()]).toEqual([true, "PK"]);

  const whole = await taken(page, () => page.getByRole("link", { name: "Take the whole kitchen away" }).click());
  expect(whole.name).toMatch(/whole-kitchen-\d{4}-\d\d-\d\d\.json$/);
  const text = whole.bytes.toString("utf8");
  await page.goto("/dishes");
  const dishes = await page.getByRole("table").first().locator("tbody tr").allTextContents();

  await page.goto("/kitchens/new");
  const file = page.getByLabel("The kitchen’s file");
  await page.getByRole("button", { name: "Open the kitchen of this file" }).click();
  await expect(page.getByRole("alert").filter({ hasText: "nothing was saved" })).toContainText("Choose the file of a kitchen");
  await file.setInputFiles({ name: "half.json", mimeType: "application/json", buffer: Buffer.from(text.slice(0, text.length / 2)) });
  await page.getByRole("button", { name: "Open the kitchen of this file" }).click();
  await expect(page.getByRole("alert").filter({ hasText: "nothing was saved" })).toContainText("ends in the middle");
  const spoilt = JSON.parse(text) as { changes: { revisions: { kind: string; fact: { price: { amount: string } } }[] }[] };
  const quote = spoilt.changes[0]?.revisions.find(({ kind }) => kind === "quote");
  if (quote === undefined) throw new Error("expected a quote");
  quote.fact.price.amount = "-3";
  await file.setInputFiles({ name: "spoilt.json", mimeType: "application/json", buffer: Buffer.from(JSON.stringify(spoilt)) });
  await page.getByRole("button", { name: "Open the kitchen of this file" }).click();
  await expect(page.getByRole("alert").filter({ hasText: "nothing was saved" })).toContainText("The price must be above zero.");
  await expectAccessible(page);
  await expectNoSideways(page);

  await file.setInputFiles({ name: whole.name, mimeType: "application/json", buffer: whole.bytes });
  await page.getByRole("button", { name: "Open the kitchen of this file" }).click();
  await expect(page).toHaveURL(/\/dishes$/, { timeout: 30_000 });
  expect(await page.getByRole("table").first().locator("tbody tr").allTextContents()).toEqual(dishes);
  await page.goto("/kitchens");
  await expect(page.getByText(/You belong to [2-9] kitchens/)).toBeVisible();
  // The file of the opened kitchen is the file it was opened from.
  await page.goto("/out");
  const again = await taken(page, () => page.getByRole("link", { name: "Take the whole kitchen away" }).click());
  const same = (one: string): string => one.replace(/"exportedAt":"[^"]*"/, "").replace(/"kitchen":\{"id":"[^"]*"/, "");
  expect(same(again.bytes.toString("utf8")) === same(text)).toBe(true);

  // A plain form does it too.
  const bare = await withoutScripts(browser, new URL(page.url()).origin, "Chef");
  await bare.goto("/kitchens/new");
  await bare.getByLabel("The kitchen’s file").setInputFiles({ name: whole.name, mimeType: "application/json", buffer: whole.bytes });
  await bare.getByRole("button", { name: "Open the kitchen of this file" }).click();
  await expect(bare.getByRole("heading", { level: 1, name: "Dishes" })).toBeVisible();
  await bare.context().close();
});

test("a program comes in with its key, reads and writes, until the key is ended @phone", async ({ page }) => {
  await demoKitchen(page, "Chef");
  await page.goto("/programs");
  await page.getByRole("button", { name: "Make a key" }).click();
  await expect(page.getByRole("alert").filter({ hasText: "Say which program" })).toContainText("Say which program the key is for");
  await page.getByLabel("Which program it is for").fill("Till export");
  await page.getByLabel("May", { exact: true }).selectOption("write");
  await page.getByRole("button", { name: "Make a key" }).click();
  const key = await page.locator(".handover").textContent() ?? "";
  expect(key).toMatch(/^tlk_[\w-]{43}$/);
  await expectAccessible(page);
  await expectNoSideways(page);

  const { origin } = new URL(page.url());
  const ask = (path: string, init: RequestInit = {}): Promise<Response> => fetch(`${origin}/api/v1${path}`, { ...init, headers: { ...(key === "" ? {} : { authorization: `Bearer ${key}` }), ...init.headers } });
  const start = await (await ask("")).json() as { program: { name: string }; facts: { dish: number } };
  expect([start.program.name, start.facts.dish > 0]).toEqual(["Till export (program)", true]);
  const { facts } = await (await ask("/book/dealer")).json() as { facts: { id: string; fact: { name: string; note: string } }[] };
  const [dealer] = facts;
  if (dealer === undefined) throw new Error("expected a dealer");
  const send = (body: unknown, headers: Readonly<Record<string, string>> = {}): Promise<Response> => ask("/changes", { method: "POST", headers: { "content-type": "application/json", ...headers }, body: JSON.stringify(body) });
  const change = { why: "by the till", entries: [{ kind: "dealer", id: dealer.id, fact: { ...dealer.fact, note: "Written by a program" } }] };
  expect((await send({ ...change, try: true })).status).toBe(200);
  const recorded = await send(change, { "idempotency-key": "one" });
  expect(recorded.status).toBe(201);
  expect((await send(change, { "idempotency-key": "one" })).headers.get("idempotency-replayed")).toBe("true");
  const refused = await send({ entries: [{ kind: "dealer", id: dealer.id, fact: { name: "" } }] });
  expect([refused.status, refused.headers.get("content-type")]).toEqual([422, "application/problem+json"]);
  // Neither a cookie nor an origin stands in for the key, and the key for neither.
  expect((await page.request.get("/api/v1/dishes")).status()).toBe(401);
  expect((await page.request.post("/api/v1/changes", { data: change, headers: { authorization: `Bearer ${key}` } })).status()).toBe(403);
  expect(await (await fetch(`${origin}/out/items?as=csv`, { headers: { authorization: `Bearer ${key}` } })).text()).toContain("Sign in");
  expect((await (await fetch(`${origin}/api/v1/openapi.json`)).json() as { openapi: string }).openapi).toBe("3.1.0");
  const nowhere = await ask("/nowhere");
  expect([nowhere.status, nowhere.headers.get("content-type")]).toEqual([404, "application/problem+json"]);

  await page.goto("/record");
  await expect(page.getByRole("table")).toContainText("Till export (program)");
  await page.goto("/programs");
  await expect(page.getByText(/Till export.*last used/)).toBeVisible();
  await page.getByRole("button", { name: "End the key of Till export" }).click();
  await expect(page.getByRole("table", { name: "Keys that open nothing any more" })).toContainText("Till export");
  const ended = await ask("");
  expect([ended.status, (await ended.json() as { code: string }).code]).toEqual([401, "wrong-key"]);

  // For owners alone.
  await comeIn(page, "Reader", "reader");
  expect((await page.goto("/programs"))?.status()).toBe(403);
  expect((await page.goto("/out"))?.status()).toBe(200);
  await expect(page.getByText("It is for the owner and the chef to take away.")).toBeVisible();
});
