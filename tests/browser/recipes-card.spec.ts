/**
 * A recipe beyond its lines: made at another size, its steps with their temperatures, what is reckoned on it, its card
 * without money and its cost sheet with it; what its labels say, unknown kept apart from none; the matrix of the menu.
 */
import type { Locator, Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways, tryIt, withoutScripts } from "./steps";

test.use({ installation: "recipes-card" });

const told = (page: Page) => page.getByRole("alert").filter({ hasText: "Nothing was saved" });
const allergens = (page: Page): Locator => page.getByRole("region", { name: "Allergens" });
const MONEY = /\$\d+\.\d\d/;

test("a recipe is made at another size: lines to measure, what comes out broken, care beyond four times; the card without money, the sheet with it @phone", async ({ page, browser, baseURL }) => {
  await demoKitchen(page, "Sous chef");
  await page.goto("/recipes/glazed-carrots");
  await page.getByRole("textbox", { name: "Make" }).fill("16 lb");
  await page.getByRole("button", { name: "Show it so" }).click();
  const made = page.getByRole("region", { name: "Made as 16 lb" });
  await expect(made).toContainText("2 times the batch: 16 lb, or 64 portions");
  await expect(made.getByRole("row", { name: /Sugar/ })).toContainText("1 cup");
  await expect(made.getByRole("row", { name: /Sugar/ })).toContainText(/by its density \(.+\d{4}\)/);
  await expect(made).not.toContainText("With care");
  await expectAccessible(page);
  await expectNoSideways(page);

  await page.goto("/recipes/aioli?make=" + encodeURIComponent("×4 1/2"));
  const aioli = page.getByRole("region", { name: "Made as ×4 1/2" });
  await expect(aioli).toContainText("With care");
  await expect(aioli).toContainText("leavening");
  await page.goto("/recipes/aioli?make=" + encodeURIComponent("×3/4"));
  await expect(page.getByRole("region", { name: "Made as ×3/4" }).getByRole("row", { name: /Eggs/ })).toContainText("Comes out broken: take 7 or 8");
  await page.goto("/recipes/aioli?make=7+lb");
  await expect(page.getByText("A batch of it is measured as 2 qt, not by weight")).toBeVisible();
  await expect(page.getByRole("textbox", { name: "Make" })).toHaveValue("7 lb");

  await page.goto("/recipes/chicken-pie-filling?make=11+lb");
  await expect(page.getByText("165 °F, in the thickest part").first()).toBeVisible();
  await page.getByRole("link", { name: "Card", exact: true }).click();
  await expect(page).toHaveURL(/\/card\?make=/);
  const card = page.getByRole("region", { name: "The card" });
  await expect(card).toContainText("11 lb");
  await expect(card).toContainText("6 lb 8 oz");
  await expect(card).toContainText("165 °F, in the thickest part");
  await expect(card).toContainText("Check the label");
  await expect(card).toContainText(/recorded by .+ printed .+ by Sous chef/);
  await expectAccessible(page);
  await expectNoSideways(page);
  await page.goto("/recipes/cottage-filling/cost-sheet?make=2x&paper=a4");
  const sheet = page.getByRole("region", { name: "The cost sheet" });
  await expect(sheet).toContainText("18 lb");
  await expect(sheet).toContainText("1 % on the cost of the lines");
  await expect(sheet.getByRole("row", { name: /^The batch/ })).toContainText(/\d+\.\d\d/);
  await expect(sheet.getByRole("row", { name: /^One lb/ })).toContainText(MONEY);
  await expectAccessible(page);
  await expectNoSideways(page);

  const plain = await withoutScripts(browser, baseURL ?? "", "Sous chef");
  await plain.goto("/recipes/glazed-carrots");
  await plain.getByRole("textbox", { name: "Make" }).fill("×1/2");
  await plain.getByRole("button", { name: "Show it so" }).click();
  await expect(plain.getByRole("region", { name: "Made as ×1/2" })).toContainText("4 lb, or 16 portions");
  await plain.context().close();
});

test("a cook gets the card and the matrix, and no money with them", async ({ page }) => {
  await demoKitchen(page, "Cook", "cook");
  const sent = await page.goto("/recipes/cottage-filling/card?make=2x");
  expect(sent?.status()).toBe(200);
  // Nothing of it anywhere in what was sent, the page's own data included.
  expect(await sent?.text()).not.toMatch(MONEY);
  await expect(page.getByRole("region", { name: "The card" })).toContainText("155 °F, 17 seconds");
  const matrix = await page.goto("/allergens?of=recipes");
  expect(await matrix?.text()).not.toMatch(MONEY);
  await page.getByRole("link", { name: "Aioli" }).click();
  await expect(page.getByRole("region", { name: "The card" })).toContainText("Aioli");
  expect((await page.goto("/recipes/cottage-filling/cost-sheet"))?.status()).toBe(403);
});

test("allergens: through which item, unread labels apart from none; a label is written down and reaches the matrix @phone", async ({ page, isMobile }) => {
  await demoKitchen(page);
  await page.goto("/recipes/chocolate-pot");
  await expect(allergens(page)).toContainText("milk through Heavy cream");
  await expect(allergens(page)).toContainText("Nobody has read the label yet of Dark chocolate");
  await expectAccessible(page);
  await expectNoSideways(page);
  await page.goto("/recipes/herb-butter");
  await expect(allergens(page)).not.toContainText("Nobody has read");

  const item = isMobile ? "rice" : "chocolate";
  const recipe = isMobile ? "risotto" : "chocolate-pot";
  await page.goto(`/items/${item}`);
  await expect(page.getByText("Nobody has looked yet.")).toBeVisible();
  await page.getByRole("link", { name: "Write down what the label says" }).click();
  const form = page.locator("form").filter({ has: page.getByText("Allergens on its label") });
  const nuts = form.getByRole("group", { name: "Tree nuts" });
  await nuts.getByLabel("may contain").check();
  await form.getByRole("button", { name: "Record the change" }).click();
  await expect(told(page)).toContainText("tree nuts: named below, yet it says here that nobody has looked yet");
  await expect(nuts.getByLabel("may contain")).toBeChecked();
  await expectAccessible(page);
  await expectNoSideways(page);
  await form.getByLabel("Looked: the label names those ticked below").check();
  await form.getByRole("group", { name: "Soy" }).getByLabel("contains", { exact: true }).check();
  await form.getByRole("button", { name: "Record the change" }).click();
  await expect(told(page)).toContainText("Say where it stands");
  await form.getByLabel("Where it stands").fill("Label of the bag");
  await form.getByRole("button", { name: "Record the change" }).click();
  await expect(page).toHaveURL(new RegExp(`/items/${item}$`));
  await expect(page.getByText("Label of the bag")).toBeVisible();
  await page.goto(`/recipes/${recipe}`);
  await expect(allergens(page)).toContainText("soy through");
  await expect(allergens(page)).toContainText("tree nuts through");
  await expect(allergens(page)).not.toContainText("Nobody has read");

  await page.goto("/allergens?of=recipes");
  const row = page.getByRole("row").filter({ has: page.getByRole("link", { name: isMobile ? /risotto/i : /chocolate pot/i }) });
  await expect(row.getByRole("cell").nth(8)).toHaveText("Ccontains");
  await expect(row.getByRole("cell").nth(5)).toHaveText("tmay contain traces");
  await expect(row.getByRole("cell").nth(12)).toHaveText("none named");
  await page.goto("/allergens");
  await expect(page.getByRole("region", { name: "The matrix" })).toContainText("Check the label");
  await expect(page.getByText("?not known").first()).toBeVisible();
  await expectAccessible(page);
  await expectNoSideways(page);
});

test("allowances and steps are written, tried and recorded; a usual temperature fills in; what was typed stays", async ({ page }) => {
  await demoKitchen(page, "Sous chef");
  await page.goto("/recipes/peppercorn-sauce/edit");
  await page.getByRole("button", { name: "Add an allowance" }).click();
  const allowance = page.getByRole("group", { name: "allowance 1", exact: true });
  await allowance.getByLabel("For").fill("Salt, to taste");
  await allowance.getByLabel("How much").fill("100");
  await allowance.getByLabel("Reckoned as").selectOption("of-whole");
  await page.getByRole("button", { name: "Add a step" }).click();
  const step = page.getByRole("group", { name: "step 1", exact: true });
  await step.getByLabel("Held").fill("all night");
  await page.getByRole("button", { name: "Record the change" }).click();
  await expect(told(page)).toContainText("Say what is done in this step");
  await expect(told(page)).toContainText("The temperature");
  await expect(step.getByLabel("Held")).toHaveValue("all night");
  await step.getByLabel("What is done").fill("Hold for service.");
  await step.getByLabel("A usual temperature").selectOption({ label: "Holding hot: 135 °F / 57 °C, or above, all the while" });
  await expect(step.getByRole("textbox", { name: "Temperature" })).toHaveValue("135");
  await expect(step.getByLabel("Held")).toHaveValue("or above, all the while");
  await page.getByRole("button", { name: "Record the change" }).click();
  await expect(told(page)).toContainText("nothing would be left");
  await allowance.getByLabel("How much").fill("2");
  const ripple = await tryIt(page);
  await expect(ripple.locator(".say").first()).toContainText("move");
  await page.getByRole("button", { name: "Record the change" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Peppercorn sauce" })).toBeVisible();
  await expect(page.getByRole("table").last()).toBeVisible();
  await expect(page.getByText("2 % of the whole")).toBeVisible();
  await expect(page.getByText("135 °F, or above, all the while")).toBeVisible();
  await page.goto("/record");
  await page.getByRole("link", { name: /Peppercorn sauce/ }).first().click();
  await expect(page.getByText("Hold for service. (135 °F, or above, all the while)")).toBeVisible();
});
