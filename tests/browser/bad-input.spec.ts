/** Bad input a kitchen really produces: a clear sentence with what would be right, nothing saved, nothing lost. */
import type { Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, lineField, part } from "./steps";

test.use({ installation: "bad-input" });

const changes = async (page: Page): Promise<string> => {
  await page.goto("/record");
  return page.locator(".of").innerText();
};

async function butcher(page: Page): Promise<void> {
  await page.goto("/items");
  await page.getByRole("link", { name: "Pork loin, bone-in", exact: true }).click();
  await page.getByRole("link", { name: "Record a test" }).first().click();
  await page.getByLabel("Billed weight").fill("18 lb 6 oz");
  await part(page, 1).getByLabel("Weight").fill("10 lb");
}

async function refused(page: Page, sentence: RegExp | string, button: RegExp | string = /^Record/): Promise<void> {
  await page.getByRole("button", { name: button }).first().click();
  const alert = page.getByRole("alert").filter({ hasText: "Nothing was saved" });
  await expect(alert).toContainText(sentence);
}

test.beforeEach(async ({ page }) => { await demoKitchen(page); });

test("parts heavier than the whole", async ({ page }) => {
  const before = await changes(page);
  await butcher(page);
  await part(page, 2).getByLabel("Weight").fill("9 lb");
  await expect(page.locator(".left-to-account")).toContainText("10 oz more than the billed weight of 18 lb 6 oz");
  await refused(page, /Parts add to 19 lb but the piece weighed 18 lb 6 oz/);
  await expect(part(page, 2).getByLabel("Weight")).toHaveValue("9 lb");
  await expect(page.getByLabel("Billed weight")).toHaveValue("18 lb 6 oz");
  expect(await changes(page)).toBe(before);
});

test("a price so low that the by-products are worth more than the whole", async ({ page }) => {
  await page.goto("/items");
  await page.getByRole("link", { name: "Beef striploin, boneless", exact: true }).click();
  await page.getByLabel("New price for a pound").fill("0.10");
  await refused(page, "would cost less than nothing", "Record this price");
});

test("the price of the case typed as the price of a pound, and a jump: asked about, and recorded by who is sure", async ({ page }) => {
  const before = await changes(page);
  await page.goto("/items");
  await page.getByRole("link", { name: "Beef striploin, boneless", exact: true }).click();
  const price = page.getByLabel("New price for a pound");
  const now = Number(await price.inputValue());
  await price.fill((now * 1.4).toFixed(2));
  await page.getByRole("button", { name: "Record this price" }).click();
  const asked = page.getByText("One thing to be sure of first.");
  await expect(asked).toBeVisible();
  await expect(page.getByRole("link", { name: /above the last price of .* per lb: confirm it, or correct it/ })).toBeVisible();
  await expect(price).toHaveValue((now * 1.4).toFixed(2));
  await expectAccessible(page);
  expect(await changes(page)).toBe(before);

  await page.goBack();
  await price.fill((now * 1.4).toFixed(2));
  await page.getByRole("button", { name: "Record this price" }).click();
  await page.getByRole("button", { name: "It is right: record it" }).click();
  await expect(page.getByRole("region", { name: "What this change did" })).toBeVisible();
  // It stands now, so a price near it is no jump.
  await price.fill((now * 1.45).toFixed(2));
  await page.getByRole("button", { name: "Record this price" }).click();
  await expect(page.getByRole("region", { name: "What this change did" })).toContainText("Recorded as change");
});

test("zero and negative weights and prices", async ({ page }) => {
  await butcher(page);
  await page.getByLabel("Billed weight").fill("0 lb");
  await part(page, 2).getByLabel("Weight").fill("-2 lb");
  await page.getByRole("button", { name: /^Record/ }).first().click();
  const alert = page.getByRole("alert").filter({ hasText: "Nothing was saved" });
  await expect(alert).toContainText("must be above zero");
  await expect(alert).toContainText("is below zero");

  await page.goto("/items");
  await page.getByRole("link", { name: "Beef striploin, boneless", exact: true }).click();
  await page.getByLabel("New price for a pound").fill("0");
  await refused(page, "The price must be above zero.", "Record this price");
  await page.getByLabel("New price for a pound").fill("-4");
  await refused(page, /below zero|above zero/, "Record this price");
});

test("a unit of the wrong kind", async ({ page }) => {
  await butcher(page);
  await part(page, 2).getByLabel("Weight").fill("2 qt");
  await refused(page, /qt.*weight|weight.*qt/);
  await page.goto("/items");
  await page.getByRole("link", { name: "Beef striploin, boneless", exact: true }).click();
  await page.getByLabel("New price for a pound").fill("7 / qt");
  await refused(page, /./, "Record this price");
});

test("a recipe that contains itself, with the way round named", async ({ page }) => {
  await page.goto("/recipes/new");
  await page.getByLabel("Name of the recipe").fill("Round stock");
  await page.getByLabel("Yield", { exact: true }).fill("4 qt");
  await lineField(page, 1).fill("1 lb Butter, unsalted");
  await page.getByRole("button", { name: "Record this recipe" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Round stock" })).toBeVisible();
  await page.getByRole("link", { name: "Change this recipe" }).click();
  await page.getByRole("button", { name: "Add a line" }).click();
  await lineField(page, 2).fill("1 qt Round stock");
  await refused(page, "Round stock → Round stock");
  await expect(lineField(page, 2)).toHaveValue("1 qt Round stock");
});

test("a name that is not in the book, and a quantity without a unit", async ({ page }) => {
  await page.goto("/recipes/new");
  await page.getByLabel("Name of the recipe").fill("Guesswork");
  await page.getByLabel("Yield", { exact: true }).fill("4 qt");
  await lineField(page, 1).fill("5 butter, unsalted");
  await lineField(page, 2).fill("5 lb butter");
  await page.getByRole("button", { name: "Record this recipe" }).click();
  const alert = page.getByRole("alert").filter({ hasText: "Nothing was saved" });
  await expect(alert).toContainText("“5” has no unit");
  await expect(alert).toContainText("Did you mean");
});

test("a target of 320 % and a note of 100,000 characters", async ({ page }) => {
  await page.goto("/dishes");
  await page.getByRole("link", { name: "Steak frites", exact: true }).click();
  await page.getByRole("link", { name: "Change the price" }).click();
  await page.getByLabel("Target food cost").fill("320 %");
  await refused(page, "“320 %” is more than the whole: write a number from 0 to 100, such as 32.", "Record this price");
  await expect(page.getByLabel("Target food cost")).toHaveValue("320 %");

  await page.goto("/dishes");
  await page.getByRole("link", { name: "Steak frites", exact: true }).click();
  await page.getByRole("link", { name: "Change the plate" }).click();
  await page.getByLabel("Note").last().fill("x".repeat(100_000));
  await refused(page, "100,000 characters long; at most 2,000 fit", "Record the change");
});

test("a page of something that is not there", async ({ page }) => {
  for (const path of ["/dishes/nowhere", "/recipes/nowhere", "/items/nowhere", "/cuts/nowhere", "/specs/nowhere", "/tests/nowhere", "/record/999999", "/figure/dish/nowhere", "/figure/nonsense/x"]) {
    const answer = await page.goto(path);
    expect(answer?.status(), path).toBe(404);
    await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
  }
});

test("something still used cannot be taken off, and says by what", async ({ page }) => {
  await page.goto("/items");
  await page.getByRole("link", { name: "Butter, unsalted", exact: true }).click();
  await page.getByText(/^Take .* off the book$/).click();
  await page.getByRole("button", { name: "Take it off" }).click();
  await expect(page.getByRole("alert").filter({ hasText: "cannot be taken off the book while it is used by" })).toBeVisible();
});
