/**
 * Standard recipes: listed with what a batch and a unit of it cost, opened line by line, written as a kitchen writes,
 * changed with the ripple in sight; and what cannot be: a recipe within itself, a quantity without a unit.
 */
import type { Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways, line, lineField, tryIt, withoutScripts } from "./steps";

test.use({ installation: "recipes" });
test.beforeEach(async ({ page }) => { await demoKitchen(page, "Sous chef"); });

const told = (page: Page) => page.getByRole("alert").filter({ hasText: "Nothing was saved" });
const answer = (page: Page) => page.locator(".say").first();

async function record(page: Page, name: string): Promise<void> {
  await page.getByRole("button", { name }).click();
}

test("the list says what a batch yields and costs, and where it goes @phone", async ({ page }) => {
  await page.goto("/recipes");
  const row = page.locator("tbody tr").filter({ has: page.getByRole("link", { name: "Demi-glace", exact: true }) });
  await expect(row).toContainText("3 1/2 qt");
  await expect(row).toContainText("$/qt");
  await expect(row).toContainText("and 5 more");
  await expectAccessible(page);
  await expectNoSideways(page);
  await page.getByLabel("Find a recipe").fill("veloute");
  await page.getByRole("button", { name: "Find" }).click();
  await expect(page.getByRole("link", { name: "Velouté", exact: true })).toBeVisible();
  await expect(row).toHaveCount(0);
});

test("a recipe says of each line what it takes, at what rate, and its share; as purchased or edible portion @phone", async ({ page }) => {
  await page.goto("/recipes/demi-glace");
  await expect(answer(page)).toContainText(/A batch costs \$[\d.]+, a quart \$[\d.]+\./);
  const table = page.getByRole("table").first();
  await expect(table).toContainText("as purchased");
  const shares = (await table.locator("tbody tr").allInnerTexts()).flatMap((text) => [...text.matchAll(/(\d+\.\d)\s*%(?! of)/g)].map((match) => Number(match[1])));
  expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(100, 0);
  await expect(page.getByText("local food code")).toBeVisible();
  await expectAccessible(page);
  await expectNoSideways(page);
  await page.goto("/recipes/potato-puree");
  await expect(page.getByText(/edible portion|as purchased/).first()).toBeVisible();
});

test("a recipe is written as a kitchen writes; a form that comes back has lost nothing @phone", async ({ page, isMobile }) => {
  const name = `Shallot butter ${isMobile ? "small" : "large"}`;
  await page.goto("/recipes/new");
  await expectAccessible(page);
  await page.getByLabel("Name of the recipe").fill(name);
  await page.getByLabel("Yield", { exact: true }).fill("2 1/4");
  await lineField(page, 1).fill("2 butter unsalted");
  await lineField(page, 2).fill("4 oz butter");
  await record(page, "Record this recipe");
  await expect(told(page)).toContainText("“2 1/4” has no unit");
  await expect(told(page)).toContainText("“2” has no unit");
  await expect(told(page)).toContainText("“4 oz Butter, unsalted”");
  await expect(lineField(page, 1)).toHaveValue("2 butter unsalted");
  await expect(lineField(page, 2)).toHaveValue("4 oz butter");
  await expectNoSideways(page);

  await page.getByLabel("Yield", { exact: true }).fill("2 1/4 lb");
  await page.getByLabel("The same, measured another way").fill("36 portions");
  await lineField(page, 1).fill("2 lb butter, UNSALTED");
  await expect(line(page, 1).getByText("reads as 2 lb of Butter, unsalted, as purchased")).toBeVisible();
  await lineField(page, 2).fill("shallots, peeled, 4 oz");
  await expect(line(page, 2).getByText("reads as 4 oz of Shallots, peeled, as purchased")).toBeVisible();
  await record(page, "Record this recipe");
  await expect(page.getByRole("heading", { level: 1, name, exact: true })).toBeVisible();
  await expect(answer(page)).toContainText("a portion");
  await expect(page.getByText("No other recipe and no dish uses it yet.")).toBeVisible();
});

test("a recipe within itself is refused with the way round named, over two steps", async ({ page }) => {
  await page.goto("/recipes/beef-stock/edit");
  const count = await page.getByRole("group", { name: /^line \d+$/ }).count();
  await page.getByRole("button", { name: "Add a line" }).click();
  await lineField(page, count + 1).fill("1 qt Demi-glace");
  await page.getByRole("button", { name: "Try it" }).click();
  await expect(told(page)).toContainText(/Beef stock → Demi-glace → Beef stock|Demi-glace → Beef stock → Demi-glace/);
  await expect(lineField(page, count + 1)).toHaveValue("1 qt Demi-glace");
  // What is wrong leads to the line it is wrong in.
  await told(page).getByRole("link").first().click();
  await expect(page).toHaveURL(new RegExp(`#change-lines-${count}-text$`));
});

test("what cannot be measured is said, and what is not known makes the batch “at least”", async ({ page }) => {
  await page.goto("/recipes/herb-butter/edit");
  await lineField(page, 1).fill("0 lb butter, unsalted");
  await page.getByLabel("Yield", { exact: true }).fill("0 lb");
  await page.getByLabel("Method").fill("x".repeat(100_000));
  await record(page, "Record the change");
  await expect(told(page)).toContainText("above zero");
  await expect(told(page)).toContainText("100,000 characters long");
  await page.reload();
  await lineField(page, 1).fill("3 each butter, unsalted");
  const ripple = await tryIt(page);
  await expect(ripple).toContainText("at least");
  await expect(ripple).toContainText("what one weighs of Butter, unsalted");
});

test("lines are added, moved and removed by keyboard alone", async ({ page }) => {
  await page.goto("/recipes/herb-butter/edit");
  const lines = page.getByRole("group", { name: /^line \d+$/ });
  const count = await lines.count();
  const first = await lineField(page, 1).inputValue();
  const second = await lineField(page, 2).inputValue();
  await lineField(page, 2).focus();
  await page.keyboard.press("Alt+ArrowUp");
  await expect(lineField(page, 1)).toHaveValue(second);
  await expect(lineField(page, 2)).toHaveValue(first);
  await page.keyboard.press("Alt+Enter");
  await expect(lines).toHaveCount(count + 1);
  // The name is begun, chosen from what answers, and taken.
  await page.keyboard.type("1 oz kosh");
  await expect(line(page, 2).getByRole("option").first()).toContainText("1 oz Kosher salt");
  await expectAccessible(page);
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("Enter");
  await expect(lineField(page, 2)).toHaveValue("1 oz Kosher salt");
  await expect(line(page, 2).getByText("reads as 1 oz of Kosher salt, as purchased")).toBeVisible();
  await expect(line(page, 2).getByRole("listbox")).toBeHidden();
  await page.keyboard.type("x");
  await page.keyboard.press("Escape");
  await expect(line(page, 2).getByRole("listbox")).toBeHidden();
  await expect(page.getByRole("region", { name: "What this change would do" })).toHaveCount(0);
});

test("an ounce of what is measured by volume is asked about, and a press answers; without a script a sentence does @phone", async ({ page, browser, baseURL }) => {
  await page.goto("/recipes/new");
  await lineField(page, 1).fill("8 oz red wine vinegar");
  await page.getByLabel("Name of the recipe").fill("Cream");
  const meant = line(page, 1).getByRole("group", { name: "Which is meant" });
  await expect(line(page, 1).getByText("are these fluid ounces, or ounces of weight?")).toBeVisible();
  await expectAccessible(page);
  await expectNoSideways(page);
  await meant.getByRole("button", { name: /8 fl oz Red wine vinegar/ }).click();
  await expect(lineField(page, 1)).toHaveValue("8 fl oz Red wine vinegar");
  await expect(line(page, 1).getByText("reads as 8 fl oz of Red wine vinegar, as purchased")).toBeVisible();
  await expect(meant).toHaveCount(0);

  const plain = await withoutScripts(browser, baseURL ?? "", "Sous chef");
  await plain.goto("/recipes/new");
  await plain.getByLabel("Name of the recipe").fill("Cream");
  await plain.getByLabel("Yield", { exact: true }).fill("1 qt");
  await lineField(plain, 1).fill("8 oz red wine vinegar");
  await plain.getByRole("button", { name: "Record this recipe" }).click();
  await expect(told(plain)).toContainText("Write “8 fl oz Red wine vinegar” or “8 oz Red wine vinegar, by weight”.");
  await expect(lineField(plain, 1)).toHaveValue("8 oz red wine vinegar");
  await plain.context().close();
});

test("a change of yield is tried and recorded; every recipe and dish above moves", async ({ page }) => {
  await page.goto("/recipes/chicken-stock/edit");
  await page.getByLabel("Yield", { exact: true }).fill("4 gal");
  const ripple = await tryIt(page);
  await expect(ripple.getByRole("heading", { name: "Recipes" })).toBeVisible();
  await expect(ripple.getByRole("table")).toBeVisible();
  const before = await ripple.locator(".say").innerText();
  await page.getByLabel("Why").fill("Reduced further");
  await record(page, "Record the change");
  await expect(page.getByRole("heading", { level: 1, name: "Chicken stock", exact: true })).toBeVisible();
  await page.goto("/record");
  await page.getByRole("link", { name: /Chicken stock/ }).first().click();
  await expect(page.getByText("Reduced further").first()).toBeVisible();
  expect(before).toContain("move");
});

test("a recipe in use stays and says by what; one that nothing uses is taken off", async ({ page }) => {
  await page.goto("/recipes/demi-glace");
  await page.getByText("Take this recipe off the book").click();
  await record(page, "Take it off");
  await expect(told(page)).toContainText("cannot be taken off the book while it is used by");
  await expect(told(page)).toContainText("Peppercorn sauce");

  await page.goto("/recipes/new");
  await page.getByLabel("Name of the recipe").fill("Passing fancy");
  await page.getByLabel("Yield", { exact: true }).fill("1 qt");
  await lineField(page, 1).fill("1 qt Heavy cream");
  await record(page, "Record this recipe");
  await expect(page.getByRole("heading", { level: 1, name: "Passing fancy" })).toBeVisible();
  const gone = page.url();
  await page.getByText("Take this recipe off the book").click();
  await record(page, "Take it off");
  await expect(page).toHaveURL(/\/recipes$/);
  expect((await page.goto(gone))?.status()).toBe(404);
  expect((await page.goto(`${gone}/edit`))?.status()).toBe(404);
});
