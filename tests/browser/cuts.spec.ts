/** Cuts and portions: what they cost and by which tests, tried at another size before it is recorded, and bad input. */
import type { Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways, part, tryIt, withoutScripts } from "./steps";

test.use({ installation: "cuts" });
test.beforeEach(async ({ page }) => { await demoKitchen(page, "Sous chef"); });

const told = (page: Page) => page.getByRole("alert").filter({ hasText: "Nothing was saved" });

test("the list says what each costs, its yield, and the tests behind it @phone", async ({ page }) => {
  await page.goto("/cuts");
  const striploin = page.locator("tbody tr").filter({ hasText: "Striploin, trimmed" });
  await expect(striploin).toContainText("15.26");
  await expect(striploin).toContainText("67.3");
  await expect(striploin).toContainText("2 tests, newest Tue 13 Oct 2026");
  await expect(page.locator("tbody tr").filter({ hasText: "Strip steak 10 oz" })).toContainText("9.75");
  await expectAccessible(page);
  await expectNoSideways(page);
  await striploin.getByRole("link", { name: "Striploin, trimmed:" }).click();
  await expect(page).toHaveURL(/\/figure\/cut\/striploin$/);
});

test("a cut without a test is only “at least”, until one is adopted", async ({ page }) => {
  await page.goto("/cuts/new");
  await page.getByLabel("Name of the cut").fill("Duck leg, boned");
  await page.getByLabel("Made from").selectOption({ label: "Duck legs" });
  await page.getByRole("button", { name: "Record this cut" }).click();
  await expect(page.locator(".say").first()).toContainText("at least");
  await expect(page.locator(".say").first()).toContainText("a yield of Duck leg, boned");
  await expect(page.getByText("No yield test stands behind this cut yet")).toBeVisible();
  await expectAccessible(page);
  await page.goto("/cuts");
  await expect(page.locator(".say").first()).toContainText("1 cut has no yield test behind it");
  await expect(page.locator("tbody tr").filter({ hasText: "Duck leg, boned" })).toContainText("no test yet");

  await page.getByRole("link", { name: "Duck leg, boned", exact: true }).click();
  await page.getByRole("link", { name: "Record a new test" }).click();
  await expect(page.getByLabel("Made from")).toHaveValue(/^item:/);
  await page.getByLabel("Billed weight").fill("10 lb");
  await part(page, 1).getByLabel("Weight").fill("6 lb");
  await page.getByLabel("Adopt for").selectOption({ label: "Duck leg, boned" });
  await page.getByRole("button", { name: "Record this test" }).click();
  await page.getByRole("link", { name: "Duck leg, boned", exact: true }).first().click();
  await expect(page.locator(".say").first()).toContainText("at a yield of 60.0 %");
});

test("how a price reaches a cut, and which tests it stands on, are tried first", async ({ page }) => {
  await page.goto("/cuts/chicken-breast");
  await expect(page.getByText("By the factor it would cost $4.20 a pound today, with by-products at their own price $4.22 a pound.")).toBeVisible();
  await page.getByLabel("How a new dealer’s price reaches it").selectOption("by-factor");
  await expect(await tryIt(page)).toContainText("Chicken breast 9 1/2 oz");
  await page.getByRole("button", { name: "Record the change" }).click();
  await expect(page.getByText("by the factor, as chosen here")).toBeVisible();
  await expect(page.locator(".say").first()).toContainText("4.20");

  await page.goto("/cuts/striploin");
  await page.getByRole("checkbox", { name: "Butcher test, Tue 2 Dec 2025" }).uncheck();
  await expect(await tryIt(page)).toContainText("Strip steak 10 oz");
});

test("a portion counts whole portions from each piece; another size is tried before it is recorded @phone", async ({ page }) => {
  await page.goto("/specs/strip-steak-10");
  await expect(page.getByText("41 portions from 3 pieces as tested, 14 oz left over in all.")).toBeVisible();
  await expect(page.getByText("By weight alone a portion would cost $9.54")).toBeVisible();
  await expectAccessible(page);
  await expectNoSideways(page);
  await page.getByLabel("Size, before cooking").fill("9 1/2");
  await expect(page.getByText("reads as 9 1/2 oz")).toBeVisible();
  const ripple = await tryIt(page);
  await expect(ripple.getByRole("table", { name: /dishes that move/ })).toContainText("Strip steak, fries, herb butter");
  await expectAccessible(page);
  await expectNoSideways(page);
  await page.reload();
  await expect(page.locator(".of").first()).toContainText("10 oz ± 1/2 oz");
});

test("a new portion, by weight and then by whole portions", async ({ page }) => {
  await page.goto("/cuts/striploin/specs/new");
  await page.getByLabel("Name of the portion").fill("Strip steak 12 oz");
  await page.getByLabel("Size, before cooking").fill("12");
  await page.getByLabel("May be under or over by").fill("3/4 oz");
  await page.getByRole("button", { name: "Record this portion" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Strip steak 12 oz" })).toBeVisible();
  const byWeight = await page.locator(".say").first().innerText();
  await page.getByRole("radio", { name: /^By whole portions/ }).check();
  await page.getByRole("button", { name: "Record the change" }).click();
  await expect(page.locator(".say").first()).toContainText("counted in whole portions");
  expect(await page.locator(".say").first().innerText()).not.toBe(byWeight);
});

const BAD: readonly { readonly what: string; readonly fields: Readonly<Record<string, string>>; readonly says: string }[] = [
  { what: "a portion larger than the piece", fields: { "Size, before cooking": "24 lb" }, says: "A 24 lb portion cannot come from a 8 lb 15 oz piece of Striploin, trimmed, the largest in its tests: give a smaller portion." },
  { what: "a quart of meat", fields: { "Size, before cooking": "1 qt" }, says: "Striploin, trimmed is told by weight, so a portion of it cannot be 1 qt: give its weight." },
  { what: "a portion of nothing", fields: { "Size, before cooking": "0 oz" }, says: "The size of a portion must be above zero." },
  { what: "a tolerance as large as the portion", fields: { "May be under or over by": "11 oz" }, says: "A portion of 10 oz cannot be 11 oz more or less" },
  { what: "a name of 100,000 characters", fields: { "Name of the portion": "x".repeat(100_000) }, says: "A name has at most 120 characters" },
];

test("bad input: a sentence, nothing saved, nothing lost", async ({ page }) => {
  for (const { what, fields, says } of BAD) {
    await test.step(what, async () => {
      await page.goto("/cuts/striploin/specs/new");
      await page.getByLabel("Name of the portion").fill("Not to be");
      await page.getByLabel("Size, before cooking").fill("10 oz");
      for (const [label, text] of Object.entries(fields)) await page.getByLabel(label).fill(text);
      await page.getByRole("button", { name: "Record this portion" }).click();
      await expect(told(page)).toContainText(says);
      for (const [label, text] of Object.entries(fields)) await expect(page.getByLabel(label)).toHaveValue(text);
    });
  }
  await page.goto("/cuts/striploin");
  await page.getByLabel("Cutting specification").fill("x".repeat(100_000));
  await page.getByRole("button", { name: "Record the change" }).first().click();
  await expect(told(page)).toContainText("The cutting specification is 100,000 characters long; at most 2,000 fit. Shorten it.");
  await page.goto("/cuts");
  await expect(page.locator("tbody")).not.toContainText("Not to be");
});

test("what is used cannot be taken off, and says by what", async ({ page }) => {
  await page.goto("/specs/strip-steak-10");
  await page.getByText("Take this portion off the book").click();
  await page.getByRole("button", { name: "Take it off" }).click();
  await expect(page.getByRole("alert").filter({ hasText: "Strip steak 10 oz cannot be taken off the book while it is used by: dish" })).toBeVisible();
});

test("a cut or a portion that is not there", async ({ page }) => {
  for (const path of ["/cuts/nowhere", "/cuts/nowhere/specs/new", "/specs/nowhere"]) {
    expect((await page.goto(path))?.status(), path).toBe(404);
    await expect(page.getByRole("heading", { level: 1 })).toHaveText("That is not in this book");
  }
});

test("without a script a portion is still tried, and what was typed comes back", async ({ browser, app }) => {
  const page = await withoutScripts(browser, app.url, "Sous chef");
  await page.goto("/specs/salmon-6");
  await page.getByLabel("Size, before cooking").fill("5 1/2 oz");
  await page.getByRole("button", { name: "Try it" }).last().click();
  await expect(page.getByText("What this would do")).toBeVisible();
  await expect(page.getByLabel("Size, before cooking")).toHaveValue("5 1/2 oz");
  await page.context().close();
});
