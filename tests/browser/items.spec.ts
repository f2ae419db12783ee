/**
 * Items in the office: found on the list, opened with their price over the year, repriced, corrected, quoted by several
 * dealers and bought from one of them; each change tried first, and the bad input of a price list refused with a sentence.
 */
import type { Locator, Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways, recordSurely, tryIt, withoutScripts } from "./steps";

test.use({ installation: "items" });
test.beforeEach(async ({ page }) => { await demoKitchen(page, "Chef"); });

const told = (scope: Page | Locator) => scope.getByRole("alert").filter({ hasText: "Nothing was saved" });
const answer = (page: Page) => page.locator(".say").first();
const recorded = (scope: Page | Locator) => scope.getByRole("region", { name: "What this change did" });

async function openItem(page: Page, name: string): Promise<void> {
  await page.goto("/items");
  await page.getByRole("link", { name, exact: true }).click();
  await expect(page.getByRole("heading", { level: 1, name, exact: true })).toBeVisible();
}

/** The form that asks "If a pound costs … →". */
const priceForm = (page: Page) => page.locator("form", { has: page.getByLabel(/^New price for/) });
const field = (scope: Page | Locator, label: string) => scope.getByLabel(label, { exact: true });

test("the list says dealer, pack and price, and finds by name, shelf or dealer @phone", async ({ page }) => {
  await page.goto("/items");
  await expect(page.locator(".of")).toContainText("dealers · as of");
  const striploin = page.locator("tbody tr").filter({ hasText: "Beef striploin, boneless" });
  await expect(striploin).toContainText("Tarrow Meat & Poultry");
  await expect(striploin).toContainText("catch weight");
  await expectAccessible(page);
  await expectNoSideways(page);

  await page.getByLabel("Find an item").fill("skerry fish");
  await page.getByRole("button", { name: "Find" }).click();
  await expect(page.getByRole("status").filter({ hasText: "skerry fish" })).toContainText("answer to “skerry fish”");
  await expect(page.getByRole("link", { name: "Cod fillet", exact: true })).toBeVisible();
  await expect(striploin).toHaveCount(0);
  await page.getByLabel("Find an item").fill("unicorn");
  await page.getByRole("button", { name: "Find" }).click();
  await expect(page.getByRole("status").filter({ hasText: "unicorn" })).toContainText("None of");
  await page.getByRole("link", { name: "Show all" }).click();
  await expect(striploin).toBeVisible();
});

test("an item tells its price a pound and an ounce, its year, and the dishes its price reaches @phone", async ({ page }) => {
  await openItem(page, "Atlantic salmon, whole");
  await expect(answer(page)).toContainText(/\$[\d.]+\sa pound, \$[\d.]+\san ounce, since/);
  await expect(page.getByRole("img", { name: /^Price of Atlantic salmon, whole at Skerry Lane Fish/ })).toBeVisible();
  await page.getByText(/^\d+ prices as a table$/).click();
  await expect(page.getByRole("table", { name: /prices of Skerry Lane Fish/ })).toBeVisible();
  await expect(page.getByText("Through these its price reaches")).toBeVisible();
  await expect(page.getByRole("link", { name: "Salmon, leeks, white wine butter" })).toBeVisible();
  await expect(page.getByRole("link", { name: "Record a test" }).first()).toHaveAttribute("href", "/tests/new?item=salmon");
  await expectAccessible(page);
  await expectNoSideways(page);
  await expect(page).toHaveTitle(/Atlantic salmon, whole/);
});

test("a price behind a newer one moves nothing, tried and recorded alike", async ({ page }) => {
  await openItem(page, "Cod fillet");
  const before = await answer(page).innerText();
  const form = priceForm(page);
  await form.getByLabel(/^New price for/).fill("400");
  await form.getByLabel("From which day").fill("2026-02-10");
  const ripple = await tryIt(form);
  await expect(ripple.locator(".say")).toContainText("No dish moves");
  await expect(ripple.locator(".say")).toContainText("so today’s costs stay as they are");
  await recordSurely(form);
  await expect(recorded(form).locator(".say")).toContainText("No dish moves");
  expect(await answer(page).innerText()).toBe(before);
});

test("a wrong price of the past is corrected where it stood; the one that counts today moves dishes", async ({ page }) => {
  await openItem(page, "Chicken, whole");
  const before = await answer(page).innerText();
  await page.getByText(/^\d+ prices as a table$/).click();
  const links = page.getByRole("link", { name: /^Correct the price from/ });
  await links.last().click();
  await expect(page.getByRole("heading", { level: 1 })).toContainText("Chicken, whole: correct the price from");
  await expect(page.getByLabel("Applies from")).toHaveCount(0);
  await expectAccessible(page);
  await field(page, "Price").fill("9.99");
  await expect((await tryIt(page)).locator(".say")).toContainText("No dish moves");
  await page.getByRole("button", { name: "Record the correction" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Chicken, whole", exact: true })).toBeVisible();
  expect(await answer(page).innerText()).toBe(before);
  await page.getByText(/^\d+ prices as a table$/).click();
  await expect(page.getByRole("table", { name: /prices of/ }).getByRole("row").last()).toContainText("9.99");

  await links.first().click();
  await field(page, "Price").fill("4.90");
  await expect((await tryIt(page)).getByRole("table")).toContainText("Roast chicken breast, puree");
  await page.getByRole("button", { name: "Record the correction" }).click();
  await expect(answer(page)).toContainText("$4.90 a pound");
});

test("a price written with its unit says for how much it is; a unit of another kind is refused", async ({ page }) => {
  await openItem(page, "Lamb leg, bone-in");
  const form = priceForm(page);
  await form.getByLabel(/^New price for/).fill("7 / qt");
  await form.getByRole("button", { name: "Record this price" }).click();
  await expect(told(form)).toContainText("“7 / qt” is a price per qt, which measures volume; the price is needed per lb or another unit of weight.");
  await form.getByLabel(/^New price for/).fill("17.40 / kg");
  await expect(form.getByText("reads as $17.40 / kg")).toBeVisible();
  await form.getByRole("button", { name: "Record this price" }).click();
  await expect(recorded(form)).toBeVisible();
  await page.reload();
  await expect(form).toContainText("If a kilo costs $17.40");
  await expect(form.getByLabel(/^New price for/)).toHaveValue("17.40");
  await expect(answer(page)).toContainText("$7.89 a pound");
});

test("another dealer quotes it, it is bought there, and the dealer's price is changed and dropped", async ({ page }) => {
  await openItem(page, "Red beets");
  await page.getByRole("link", { name: "Add another dealer’s price" }).click();
  const form = page.locator("#quote form");
  await field(form, "Dealer").selectOption("new");
  await form.getByLabel("Name of the new dealer").fill("Blackbarn Roots");
  await field(form, "Pack").fill("20 lb");
  await field(form, "Price").fill("0");
  await form.getByRole("button", { name: "Record this price" }).click();
  await expect(told(form)).toContainText("The price must be above zero.");
  await expect(form.getByLabel("Name of the new dealer")).toHaveValue("Blackbarn Roots");
  await expect(field(form, "Pack")).toHaveValue("20 lb");
  await field(form, "Price").fill("24");
  await form.getByRole("button", { name: "Record this price" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Red beets", exact: true })).toBeVisible();
  await expect(page.getByRole("table", { name: /other price/ })).toContainText("1.20");

  await page.getByText("Buy it from another dealer").click();
  const from = page.locator("form", { has: page.getByLabel("Buy it from") });
  await from.getByLabel("Buy it from").selectOption({ label: "Blackbarn Roots" });
  await expect((await tryIt(from)).getByRole("table")).toContainText("Beets, apple, alpine cheese");
  await from.getByRole("button", { name: "Record the dealer" }).click();
  await expect(recorded(from)).toBeVisible();
  await expect(answer(page)).toContainText("$1.20 a pound");

  await page.getByRole("link", { name: "Change the pack, the code or the unit of Blackbarn Roots’s price" }).click();
  await expectAccessible(page);
  await field(page, "Pack").fill("4 bags of 5 lb");
  await field(page, "Price").fill("30");
  await expect((await tryIt(page.locator("#quote form"))).getByRole("heading", { name: "Prices of items" })).toBeVisible();
  await recordSurely(page);
  await expect(answer(page)).toContainText("$1.50 a pound");

  await page.getByRole("link", { name: "Change the pack, the code or the unit of Blackbarn Roots’s price" }).click();
  await page.getByText("Blackbarn Roots does not offer it any more").click();
  await page.getByRole("button", { name: "Take the price off" }).click();
  await expect(answer(page)).toContainText("The dealer it is bought from has no price for it: what rests on it is only known as “at least”.");
  await page.goto("/items?find=beets");
  await expect(page.locator("tbody tr").filter({ hasText: "Red beets" })).toContainText("no price");
  await expect(answer(page)).toContainText("1 item has no price");
});

test("a new item: what does not fit together is said, nothing typed is lost, and it may come without a price @phone", async ({ page, isMobile }) => {
  const name = `Walnut oil ${isMobile ? "small" : "large"}`;
  await page.goto("/items/new");
  await field(page, "Pack").fill("6/1 L");
  await field(page, "Price").fill("-80");
  await field(page, "Dealer").selectOption({ label: "Millrace Grocers’ Supply" });
  await page.getByRole("button", { name: "Record this item" }).click();
  await expect(told(page)).toContainText("is below zero");
  await expect(told(page)).toContainText(/name/i);
  await expect(field(page, "Pack")).toHaveValue("6/1 L");
  await expect(field(page, "Dealer").locator("option:checked")).toHaveText("Millrace Grocers’ Supply");

  await page.getByLabel("Name of the item").fill(name);
  await field(page, "Price").fill("82.50");
  await page.getByRole("button", { name: "Record this item" }).click();
  await expect(told(page)).toContainText("is costed by weight, but this price is told in L");
  await page.getByLabel("by volume").check();
  await page.getByLabel("Purchase specification").fill("x".repeat(100_000));
  await page.getByRole("button", { name: "Record this item" }).click();
  await expect(told(page)).toContainText("100,000 characters long");
  await page.getByLabel("Purchase specification").fill("Cold pressed");
  await expectNoSideways(page);
  await page.getByRole("button", { name: "Record this item" }).click();
  await expect(page.getByRole("heading", { level: 1, name, exact: true })).toBeVisible();
  await expect(answer(page)).toContainText("$13.01 a quart");

  await page.goto("/items/new");
  await page.getByLabel("Name of the item").fill(`${name}, second`);
  await page.getByRole("button", { name: "Record this item" }).click();
  await expect(answer(page)).toContainText("Nobody has recorded a price for it yet");
  await page.getByText(/^Take .* off the book$/).click();
  await page.getByRole("button", { name: "Take it off" }).click();
  await expect(page).toHaveURL(/\/items$/);
  await expect(page.getByRole("link", { name: `${name}, second` })).toHaveCount(0);
});

test("an item cannot be costed by another kind of quantity than its price is told in", async ({ page }) => {
  await openItem(page, "Heavy cream");
  await page.getByRole("link", { name: "Change the item" }).click();
  const form = page.locator("form", { has: page.getByLabel("Name of the item") });
  await form.getByLabel("by count").check();
  await form.getByRole("button", { name: "Record the change" }).click();
  await expect(told(form)).toContainText("Heavy cream is costed by count, but this price is told in qt");
  await form.getByLabel("by volume").check();
  await form.getByLabel("Grams in a millilitre").fill("0");
  await form.getByRole("button", { name: "Record the change" }).click();
  await expect(told(form)).toContainText(/above zero/);
});

test("without a script a new dealer can still be named", async ({ browser, app }) => {
  const page = await withoutScripts(browser, app.url, "Chef");
  await page.goto("/items/new");
  await page.getByLabel("Name of the item").fill("Horseradish root");
  await field(page, "Pack").fill("5 lb");
  await field(page, "Price").fill("21");
  await page.getByLabel("Name, if it is a new dealer").fill("Fernhill Growers");
  await page.getByRole("button", { name: "Record this item" }).click();
  await page.goto("/items?find=horseradish");
  await expect(page.locator("tbody tr").filter({ hasText: "Horseradish root" })).toContainText("Fernhill Growers");
  await page.context().close();
});

test("items, prices and revisions that are not there", async ({ page }) => {
  for (const path of ["/items/nowhere", "/items/nowhere/edit", "/items/butter/edit?quote=nowhere", "/items/butter/edit?correct=999999", "/items/butter/edit?correct=zero"]) {
    expect((await page.goto(path))?.status(), path).toBe(404);
    await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
  }
});
