/**
 * A dish put together, changed, priced and taken off: components by their part on the plate, a menu price with tax and
 * target, what passing a dearer plate on would ask; and the input that is refused.
 */
import type { Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways, line, lineField, recordSurely, tryIt } from "./steps";

test.use({ installation: "dishes-edit" });
test.beforeEach(async ({ page }) => { await demoKitchen(page, "Chef"); });

const told = (page: Page) => page.getByRole("alert").filter({ hasText: "Nothing was saved" });
const answer = (page: Page) => page.locator(".say").first();

async function fillLine(page: Page, number: number, quantity: string, of: string, role: string): Promise<void> {
  await lineField(page, number).fill(`${quantity} ${of}`);
  await line(page, number).getByLabel("What it is").selectOption({ label: role });
}

async function record(page: Page, name: string): Promise<void> {
  await page.getByRole("button", { name }).click();
}

test("a new dish, refused once and recorded whole @phone", async ({ page, isMobile }) => {
  const name = `Steak sandwich ${isMobile ? "small" : "large"}`;
  await page.goto("/dishes/new");
  await expectAccessible(page);
  await page.getByLabel("Name of the dish").fill(name);
  await page.getByLabel("Menu price").fill("0");
  await page.getByLabel("Target food cost").fill("320 %");
  // A bare number counts portions where portions are counted, and nothing else.
  await fillLine(page, 1, "1", "Strip steak 6 oz", "main");
  await fillLine(page, 2, "6", "Mixed greens", "side");
  await fillLine(page, 3, "1 portion", "No such pickle", "garnish");
  await record(page, "Record this dish");
  await expect(told(page)).toContainText("“320 %” is more than the whole: write a number from 0 to 100, such as 32.");
  await expect(told(page)).toContainText("“6” has no unit");
  await expect(told(page)).toContainText("Nothing in the book is called “No such pickle”");
  await expect(told(page)).toContainText("above zero");
  await expect(line(page, 2).getByLabel("What it is").locator("option:checked")).toHaveText("side");
  await expect(line(page, 3).getByLabel("What it is").locator("option:checked")).toHaveText("garnish");
  await expectNoSideways(page);

  await page.getByLabel("Menu price").fill("24");
  await page.getByLabel("Target food cost").fill("28.25");
  await expect(page.getByText("reads as 28.25 %")).toBeVisible();
  await fillLine(page, 2, "1 portion", "Fries", "side");
  await fillLine(page, 3, "1 each", "Soft buns, 4 1/2 in", "with every cover");
  const ripple = await tryIt(page);
  await expect(ripple.getByRole("table")).toContainText("new,");
  await record(page, "Record this dish");
  await expect(page.getByRole("heading", { level: 1, name, exact: true })).toBeVisible();
  await expect(page.getByText("$24.00").first()).toBeVisible();

  // What stands in the fields is what was recorded, to the last decimal.
  await page.getByRole("link", { name: "Change the price" }).click();
  await expect(page.getByLabel("Target food cost")).toHaveValue("28.25 %");
});

test("the plate is changed with its parts kept, and a dish without lines is allowed", async ({ page }) => {
  await page.goto("/dishes/strip-steak/edit");
  await expect(page).toHaveTitle(/Change a plate/);
  await expect(lineField(page, 1)).toHaveValue("1 portion Strip steak 10 oz");
  await fillLine(page, 1, "2 portions", "Strip steak 6 oz", "main");
  const ripple = await tryIt(page);
  await expect(ripple.getByRole("table")).toContainText("Strip steak, fries, herb butter");
  await page.getByLabel("Note").last().fill("x".repeat(100_000));
  await record(page, "Record the change");
  await expect(told(page)).toContainText("100,000 characters long; at most 2,000 fit");
  await expect(lineField(page, 1)).toHaveValue("2 portions Strip steak 6 oz");
  await page.getByLabel("Note").last().fill("Two small steaks");
  await record(page, "Record the change");
  await expect(page.getByRole("heading", { level: 1, name: "Strip steak, fries, herb butter" })).toBeVisible();
  await expect(page.getByRole("table").first()).toContainText("Strip steak 6 oz");
});

test("a menu price is tried against its target, recorded, and its tax is not rounded @phone", async ({ page, isMobile }) => {
  const dish = isMobile ? "lamb-steak" : "pork-chop";
  await page.goto(`/dishes/${dish}/price`);
  await expect(answer(page)).toContainText(/Its plate costs \$[\d.]+\. At \$[\d.]+ on the menu the food is [\d.]+ % of the price and \$[\d.]+ is left over\. At \$[\d.]+ it would stand at its target of \d+ %\./);
  await expectAccessible(page);
  await expectNoSideways(page);
  for (const [typed, sentence] of [["-4", "below zero"], ["0", "above zero"], ["twenty", "is not a price"]] as const) {
    await page.getByLabel("Menu price").fill(typed);
    await record(page, "Record this price");
    await expect(told(page)).toContainText(sentence);
    await expect(page.getByLabel("Menu price")).toHaveValue(typed);
  }
  await page.getByLabel("Menu price").fill("12");
  await page.getByLabel("Tax within the price").fill("8.875");
  await expect(page.getByText("reads as 8.875 %")).toBeVisible();
  const ripple = await tryIt(page);
  await expect(ripple.locator(".say")).toContainText("1 dish crosses over target.");
  await expect(ripple.getByRole("table")).toContainText("12.00");
  await record(page, "Record this price");
  await expect(page.getByText("without the tax in it", { exact: true })).toBeVisible();
  await page.goto(`/dishes/${dish}/price`);
  await expect(page.getByLabel("Tax within the price")).toHaveValue("8.875 %");
  await expect(answer(page)).toContainText("of the net price");
  // Saved once more without a touch, it says the same.
  await record(page, "Record this price");
  await page.goto(`/dishes/${dish}/price`);
  await expect(page.getByLabel("Tax within the price")).toHaveValue("8.875 %");
});

test("a dearer plate: the price that keeps the percentage and the one that keeps the margin", async ({ page }) => {
  await page.goto("/items/duck-legs");
  await page.getByLabel(/^New price for/).fill("130");
  await recordSurely(page);
  await expect(page.getByRole("region", { name: "What this change did" })).toBeVisible();
  await page.goto("/dishes/duck-leg/price");
  await expect(page.getByRole("heading", { name: "To pass the last move on" })).toBeVisible();
  const asked = async (name: string): Promise<number> => Number(await page.getByRole("table", { name: /^What passing the last move on asks/ }).getByRole("row", { name }).locator("strong").first().innerText());
  const [percentage, margin] = [await asked("Keep the percentage"), await asked("Keep the margin")];
  const now = Number(await page.getByLabel("Menu price").inputValue());
  expect(margin).toBeGreaterThan(now);
  // Keeping the share asks for the move over the share, keeping the money only for the move.
  expect(percentage).toBeGreaterThan(margin);
  await expectAccessible(page);
});

test("a dish is taken off the menu and stays in the record; dishes that are not there", async ({ page }) => {
  await page.goto("/dishes/chilled-shrimp");
  const name = await page.getByRole("heading", { level: 1 }).innerText();
  await page.getByText("Take this dish off the menu").click();
  await record(page, "Take it off");
  await expect(page).toHaveURL(/\/dishes$/);
  await expect(page.getByRole("link", { name, exact: true })).toHaveCount(0);
  for (const path of ["/dishes/chilled-shrimp", "/dishes/chilled-shrimp/edit", "/dishes/chilled-shrimp/price", "/dishes/nowhere/edit", "/dishes/nowhere/price"]) {
    expect((await page.goto(path))?.status(), path).toBe(404);
    await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
  }
  await page.goto("/record");
  await expect(page.getByRole("table").first()).toContainText(name);
});

test("a dish taken away costs more; its tree is opened down to a price and its age; lines keep the way they go @phone @tablet", async ({ page }) => {
  await page.goto("/dishes/burger");
  const both = page.getByRole("table", { name: /at the table and taken away/ });
  const cost = async (way: string): Promise<number> => Number(await both.getByRole("row", { name: new RegExp(`^${way}`) }).getByRole("cell").nth(0).innerText());
  const [table, away] = [await cost("At the table"), await cost("Taken away")];
  expect(away).toBeCloseTo(table + 0.305 + 0.25, 1);
  await expect(page.getByRole("table", { name: /largest first/ })).toContainText("packaging, taken away only");
  const tree = page.getByRole("list", { name: /^What the plate of Burger/ });
  await tree.locator("summary", { hasText: "Fries" }).click();
  await expect(tree.getByText(/Quoted by|quoted by|contract with|invoiced by/).first()).toBeVisible();
  await expect(tree.getByText(/price \d+ days? old/).first()).toBeVisible();
  await expectAccessible(page);
  await expectNoSideways(page);
  await expect(page.getByText(/food authority what the menu has to say/)).toBeVisible();
});

test("an allowance is put on a plate, refused once, and lines are sent one way only", async ({ page }) => {
  await page.goto("/dishes/bean-toast/edit");
  await line(page, 1).getByLabel("Goes with it").selectOption({ label: "at the table only" });
  await page.getByRole("button", { name: "Add an allowance" }).click();
  const allowance = page.getByRole("group", { name: "Allowances" }).getByRole("listitem").last();
  await allowance.getByLabel("For").fill("Oil and salt");
  await allowance.getByLabel("Reckoned as").selectOption({ label: "% of the whole" });
  await allowance.getByLabel("How much").fill("100");
  await expectAccessible(page);
  await record(page, "Record the change");
  await expect(told(page)).toContainText("nothing would be left to serve");
  await allowance.getByLabel("How much").fill("2");
  const ripple = await tryIt(page);
  await expect(ripple.getByRole("table")).toContainText("White beans on toast");
  await record(page, "Record the change");
  await expect(page.getByRole("heading", { level: 1, name: "White beans on toast" })).toBeVisible();
  await expect(page.getByRole("table", { name: /largest first/ })).toContainText("an allowance, 2 % of the whole plate");
  await expect(page.getByRole("table", { name: /at the table and taken away/ })).toBeVisible();
  // Opened again it says what was recorded; saved without a touch it says the same.
  await page.goto("/dishes/bean-toast/edit");
  await expect(line(page, 1).getByLabel("Goes with it").locator("option:checked")).toHaveText("at the table only");
  await expect(allowance.getByLabel("How much")).toHaveValue("2 %");
});
