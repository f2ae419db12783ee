/** Photos of the trim: of a test and at the block, with a script and without; refused with a sentence; removed and put back; nobody else's. */
import type { Page } from "@playwright/test";
import sharp from "sharp";
import { expect, expectAccessible, test } from "./app";
import { comeIn, demoKitchen, emptyKitchen, expectNoSideways, withoutScripts } from "./steps";

test.use({ installation: "photos" });

const TEST = "/tests/salmon-2025-12-04";
/** A photo as a phone sends it: on its side, with the place it was taken at. */
const photo = async () => ({
  name: "IMG_0042.JPG", mimeType: "image/jpeg",
  buffer: await sharp({ create: { width: 640, height: 480, channels: 3, background: "#c98" } }).jpeg().withExif({ IFD3: { GPSLatitudeRef: "N", GPSLatitude: "51/1 30/1 0/1" } }).withMetadata({ orientation: 6 }).toBuffer(),
});
const DRAWING = { name: "trim.jpg", mimeType: "image/jpeg", buffer: Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>') };

const field = (page: Page) => page.getByLabel("Photo of what was cut away");
const shown = (page: Page) => page.locator(".photos img");
const keep = (page: Page) => page.getByRole("button", { name: "Keep this photo" }).click();

test("kept with a test, upright and without its place; removed, and put back @phone", async ({ page }) => {
  await demoKitchen(page);
  await page.goto(TEST);
  const before = await shown(page).count();
  await field(page).setInputFiles(await photo());
  await page.getByLabel("What it shows").fill("Belly and pin bones");
  await keep(page);
  await expect(shown(page)).toHaveCount(before + 1);
  const image = page.getByRole("img", { name: "Belly and pin bones" }).last();
  await image.scrollIntoViewIfNeeded();
  await expect.poll(() => image.evaluate((element) => [(element as HTMLImageElement).naturalWidth, (element as HTMLImageElement).naturalHeight])).toEqual([480, 640]);
  await expect(page.getByLabel("What it shows")).toHaveValue("");
  await expectAccessible(page);
  await expectNoSideways(page);

  const address = await image.getAttribute("src") ?? "";
  const answer = await page.request.get(address);
  expect(answer.headers()).toMatchObject({ "content-type": "image/jpeg", "x-content-type-options": "nosniff", "cache-control": "private, no-cache" });
  const sent = await sharp(await answer.body()).metadata();
  expect([sent.exif, sent.orientation]).toEqual([undefined, undefined]);
  expect((await page.request.get(address, { headers: { "If-None-Match": answer.headers()["etag"] ?? "" } })).status()).toBe(304);

  await page.getByRole("button", { name: "Remove the photo: Belly and pin bones" }).last().click();
  await expect(shown(page)).toHaveCount(before);
  await expect(page.locator(".removed").last()).toContainText("“Belly and pin bones” was removed by Chef");
  expect((await page.request.get(address)).status()).toBe(404);
  await page.getByRole("button", { name: "Put it back" }).last().click();
  await expect(shown(page)).toHaveCount(before + 1);
  expect((await page.request.get(address)).status()).toBe(200);
});

test("what is no photo is refused in a sentence, and what was written stays", async ({ page, app }) => {
  await demoKitchen(page);
  await page.goto("/tests/carrots-2025-12-03");
  await page.getByLabel("What it shows").fill("Peel");
  await keep(page);
  const wrong = page.locator(".photo-form .wrong");
  await expect(wrong).toHaveText("Choose a photo, or take one.");
  await field(page).setInputFiles(DRAWING);
  await keep(page);
  await expect(wrong).toContainText("has to be a JPEG, PNG, WebP or AVIF");
  await field(page).setInputFiles({ name: "huge.jpg", mimeType: "image/jpeg", buffer: Buffer.alloc(12 * 1024 * 1024 + 1, 0xff) });
  await keep(page);
  await expect(wrong).toContainText("12 MiB at most");
  await expect(page.getByLabel("What it shows")).toHaveValue("Peel");
  await expectAccessible(page);
  await page.reload();
  await expect(shown(page)).toHaveCount(0);

  const send = (test: string, buffer: Buffer) => page.request.post("/photos", { headers: { Origin: app.url, Accept: "application/json" }, multipart: { test, photo: { name: "x.jpg", mimeType: "image/jpeg", buffer } } });
  expect((await send("carrots-2025-12-03", Buffer.alloc(13 * 1024 * 1024))).status()).toBe(413);
  for (const nowhere of ["", "nowhere", "test-nowhere", "../x", "a\0b"]) expect((await send(nowhere, DRAWING.buffer)).status(), nowhere).toBe(404);
});

test("without a script the form sends itself, and comes back with what was wrong", async ({ page, browser, app }) => {
  await demoKitchen(page);
  const plain = await withoutScripts(browser, app.url, "Chef");
  await plain.goto("/tests/tomatoes-2025-12-04");
  await field(plain).setInputFiles(DRAWING);
  await keep(plain);
  await expect(plain).toHaveURL(/\/tests\/tomatoes-2025-12-04\?photo=not-a-picture#photos$/);
  await expect(plain.getByRole("alert")).toContainText("This file is not a photo that can be kept");
  await field(plain).setInputFiles(await photo());
  await plain.getByLabel("What it shows").fill("Juice");
  await keep(plain);
  await expect(plain).toHaveURL(/\/tests\/tomatoes-2025-12-04#photos$/);
  await expect(plain.getByRole("img", { name: "Juice" })).toBeVisible();
  await plain.getByRole("button", { name: "Remove the photo: Juice" }).click();
  await expect(plain.getByRole("img", { name: "Juice" })).toHaveCount(0);
  await plain.getByRole("button", { name: "Put it back" }).click();
  await expect(plain.getByRole("img", { name: "Juice" })).toBeVisible();
  await plain.context().close();
});

test("taken at the block, it stays with the test that the sheet becomes @phone", async ({ page, app }) => {
  await demoKitchen(page);
  await page.goto("/block");
  await page.getByLabel("What is being worked").selectOption({ label: "Carrots, jumbo" });
  await page.getByRole("button", { name: "To the scale" }).click();
  await expect(page).toHaveURL(/\/block\/test-/);
  const sheet = new URL(page.url()).pathname;
  await page.goto(`${sheet}/photos`);
  await field(page).setInputFiles(await photo());
  await page.getByLabel("What it shows").fill("Peel of today");
  await keep(page);
  await expect(page.getByRole("img", { name: "Peel of today" })).toBeVisible();
  await expectAccessible(page);
  await expectNoSideways(page);
  const reading = (key: string, amount: string, unit: string) => ({ id: `photo-spec-${key.replace("@", "")}`, at: new Date().toISOString(), body: { kind: "reading", key, gross: { amount, unit }, tare: null, piece: false } });
  const kept = await page.request.post(`${sheet}/entries`, { headers: { Origin: app.url }, data: { since: 0, entries: [reading("@billed", "50", "lb"), reading("peeled", "41", "lb"), reading("peel", "8.5", "lb")] } });
  expect(kept.status()).toBe(200);
  await page.goto(`${sheet}/result`);
  await page.getByRole("button", { name: "Record this test" }).click();
  await expect(page).toHaveURL(/\/tests\/test-[^/]+$/);
  await expect(page.getByRole("img", { name: "Peel of today" })).toBeVisible();
});

test("another kitchen's photo is not there, nor anybody's for whoever is not signed in; a reader looks on", async ({ page, browser, app }) => {
  await demoKitchen(page);
  await page.goto("/tests/shrimp-2026-05-12");
  await field(page).setInputFiles(await photo());
  await keep(page);
  await expect(shown(page)).toHaveCount(1);
  const address = await shown(page).getAttribute("src") ?? "";
  const stranger = await browser.newContext({ baseURL: app.url });
  expect((await stranger.request.get(address)).status()).toBe(401);
  expect((await stranger.request.post("/photos", { headers: { Origin: app.url, Accept: "application/json" }, multipart: { test: "shrimp-2026-05-12", photo: await photo() } })).status()).toBe(401);
  const guest = await stranger.newPage();
  await comeIn(guest, "Reader", "reader");
  await guest.goto("/tests/shrimp-2026-05-12");
  await expect(shown(guest)).toHaveCount(1);
  await expect(field(guest)).toHaveCount(0);
  await expect(guest.getByRole("button", { name: /^Remove the photo/ })).toHaveCount(0);
  expect((await guest.request.post("/photos", { headers: { Origin: app.url, Accept: "application/json" }, multipart: { test: "shrimp-2026-05-12", photo: await photo() } })).status()).toBe(403);
  await stranger.close();

  await emptyKitchen(page, "The other house");
  expect((await page.request.get(address)).status()).toBe(404);
  expect((await page.request.post("/photos", { headers: { Origin: app.url, Accept: "application/json" }, multipart: { test: "shrimp-2026-05-12", photo: await photo() } })).status()).toBe(404);
});
