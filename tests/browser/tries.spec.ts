/**
 * The office tries price, portion and menu price together, keeps them by name, hands on the address, is told when the book
 * changes underneath, and makes them real in one change; tries others, lays them side by side, and drops one.
 */
import type { Page } from "@playwright/test";
import { expect, expectAccessible, test } from "./app";
import { comeIn, demoKitchen, expectNoSideways, signIn, tryIt } from "./steps";

test.use({ installation: "tries" });

const facts = (page: Page) => page.locator(".tried-facts");
const moves = (page: Page) => page.locator(".moves > li");

async function begin(page: Page): Promise<void> {
  await page.goto("/tries");
  await page.getByRole("button", { name: "Begin a try-out" }).click();
  await expect(page.getByText("Nothing yet.")).toBeVisible();
}

test("tried together, kept, handed on, overtaken, made real in one change @phone", async ({ page, browser, baseURL }) => {
  test.slow();
  await demoKitchen(page, "Chef");
  await comeIn(page, "Sous chef", "sous chef");
  await comeIn(page, "Chef");
  await begin(page);
  const address = page.url();

  // The figures follow as one types; nothing is kept yet.
  await page.getByLabel("Prices of").fill("strip");
  await expect(page.locator("datalist option[value='Beef striploin, boneless']")).toBeAttached();
  await page.getByLabel("Prices of").fill("Beef striploin, boneless");
  await page.getByLabel("Dearer or cheaper by").fill("+8 %");
  await expect(page.getByText("Beef striploin, boneless 8 % dearer")).toBeVisible();
  await expect(facts(page)).toContainText("Food, a week");
  const dearer = await facts(page).innerText();
  await page.getByLabel("A portion", { exact: true }).fill("Strip steak 10 oz");
  await page.getByLabel("At a size of").fill("8 oz");
  await page.getByLabel("A dish", { exact: true }).fill("Strip steak, fries, herb butter");
  await page.getByLabel("At a menu price of").fill("37.50");
  await expect(page.getByText(/Strip steak, fries, herb butter at \$37\.50 on the menu/)).toBeVisible();
  expect(await facts(page).innerText()).not.toBe(dearer);
  await expect(moves(page)).toHaveCount(0);
  await page.getByRole("button", { name: "Keep what is tried" }).last().click();
  await expect(page.getByText("3 moves kept. The book is as it was.")).toBeVisible();
  await expect(moves(page)).toHaveCount(3);
  await expect(page.getByLabel("Prices of")).toHaveValue("");
  await expectAccessible(page);
  await expectNoSideways(page);

  // A figure is typed over: 8 % becomes 6 %, and a move nobody wants is not kept.
  await page.getByLabel("Beef striploin, boneless: dearer or cheaper by").fill("6 %");
  await page.getByLabel("At a size of").fill("much");
  await page.getByLabel("A portion", { exact: true }).fill("Strip steak 10 oz");
  await page.getByRole("button", { name: "Keep what is tried" }).last().click();
  await expect(page.getByRole("alert").filter({ hasText: "Nothing was saved" })).toBeVisible();
  await expect(page.getByLabel("At a size of")).toHaveValue("much");
  await page.getByLabel("At a size of").fill("");
  await page.getByLabel("A portion", { exact: true }).fill("");
  await page.getByRole("button", { name: "Keep what is tried" }).last().click();
  await expect(moves(page).first().locator(".move")).toContainText("6 % dearer");
  await page.getByLabel("Name", { exact: true }).fill("Beef in December");
  await page.getByRole("button", { name: "Rename" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Beef in December" })).toBeVisible();

  // The sous chef opens the address, and may try and keep, but not make it real.
  const other = await (await browser.newContext({ baseURL: baseURL ?? "" })).newPage();
  expect(await signIn(other, "Sous chef")).toBe(true);
  await other.goto(address);
  await expect(moves(other)).toHaveCount(3);
  await expect(other.getByRole("button", { name: "Make it real" })).toHaveCount(0);
  await expect(other.getByText("That is for the owner or chef of this kitchen.")).toBeVisible();
  await other.getByLabel("The price of").fill("Butter");
  await other.getByLabel("At", { exact: true }).fill("4.10 / lb");
  await other.getByRole("button", { name: "Keep what is tried" }).last().click();
  await expect(moves(other)).toHaveCount(4);

  // Two at once: the chef is told, loses nothing typed, and goes on from what stands.
  await page.getByLabel("A dish", { exact: true }).fill("Steak frites");
  await page.getByLabel("At a menu price of").fill("31");
  await page.getByRole("button", { name: "Keep what is tried" }).last().click();
  await expect(page.getByRole("alert").filter({ hasText: "Sous chef changed “Beef in December”" })).toBeVisible();
  await expect(page.getByLabel("At a menu price of")).toHaveValue("31");
  await page.getByRole("button", { name: "Keep what is tried" }).last().click();
  await expect(moves(page)).toHaveCount(5);
  await page.getByRole("button", { name: /^Take off ?: Butter, unsalted/ }).click();
  await expect(moves(page)).toHaveCount(4);

  // The book changes underneath.
  await page.goto("/items");
  await page.getByRole("link", { name: "Beef striploin, boneless", exact: true }).first().click();
  await page.getByLabel(/^New price for/).first().fill("11.40");
  await page.getByRole("button", { name: /^Record this price/ }).first().click();
  await expect(page.getByText(/Recorded as change \d+\./).first()).toBeVisible();
  await page.goto(address);
  await expect(page.getByText("One move rests on something that was changed since.")).toBeVisible();
  await expect(page.locator(".overtaken")).toContainText(/Chef changed Beef striploin, boneless from .*Price: \$10\.\d+ .* → \$11\.40/);
  await expectAccessible(page);
  await page.getByRole("button", { name: "Make it real" }).click();
  await expect(page.getByRole("alert").filter({ hasText: "tick that you have seen it" }).first()).toBeVisible();
  await page.getByLabel("I have seen what was changed").check();
  const ripple = await tryIt(page, "Show what it would do");
  await expect(ripple).toContainText("Strip steak");
  await page.getByLabel("Why", { exact: true }).fill("The new beef contract");
  await page.getByRole("button", { name: "Make it real" }).click();
  await expect(page).toHaveURL(/\/record\/\d+$/);
  await expect(page.getByText("The new beef contract")).toBeVisible();
  await expect(page.getByText("$12.084").first()).toBeVisible();
  await page.goto(address);
  await expect(page.getByText(/It was made real as change \d+/)).toBeVisible();
  await expect(page.getByRole("button", { name: "Keep what is tried" })).toHaveCount(0);
  await other.close();
});

test("from an edit form, side by side, dropped and taken up", async ({ page }) => {
  await demoKitchen(page, "Chef");
  await page.goto("/dishes");
  await page.getByRole("link", { name: "Pork chop, gratin, cauliflower", exact: true }).first().click();
  await page.getByRole("link", { name: "Change the price" }).click();
  await expect(page.getByRole("heading", { level: 1, name: /^Price of Pork chop/ })).toBeVisible();
  await page.getByLabel("Menu price").fill("28");
  await tryIt(page);
  await page.getByLabel("Put it in a try-out").selectOption({ label: "a new try-out" });
  await page.getByRole("button", { name: "Put it in", exact: true }).click();
  await expect(page.getByText(/Put in “Pork chop, gratin, cauliflower at \$28\.00 on the menu”\./)).toBeVisible();
  await expect(page.getByLabel("Menu price")).toHaveValue("28");
  await page.getByRole("link", { name: /^Open “Pork chop/ }).click();
  await expect(moves(page)).toHaveCount(1);
  await page.getByRole("button", { name: "Make a copy" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toContainText(", again");
  await page.getByLabel("In place of").fill("Butter");
  await page.getByLabel("Take", { exact: true }).fill("Heavy cream");
  await expect(page.getByText(/replaced by Heavy cream in every recipe and dish/)).toBeVisible();
  await page.getByLabel("In place of").fill("");
  await page.getByLabel("Take", { exact: true }).fill("");
  await page.getByLabel("Pork chop, gratin, cauliflower: menu price").fill("26");
  await page.getByRole("button", { name: "Keep what is tried" }).last().click();
  await expect(page.getByText("Kept. The book is as it was.")).toBeVisible();

  await page.goto("/tries");
  await expectAccessible(page);
  await page.getByRole("button", { name: "Compare" }).click();
  await expect(page.getByRole("table", { name: /to the whole menu/ })).toBeVisible();
  await expect(page.getByRole("table", { name: /dish(es)? that moves?/ }).getByRole("row").filter({ has: page.getByRole("rowheader", { name: "Pork chop, gratin, cauliflower", exact: true }) })).toContainText("a week");
  await expectAccessible(page);
  await expectNoSideways(page);

  await page.goto("/tries");
  await page.getByRole("link", { name: /, again$/ }).first().click();
  await page.getByRole("button", { name: "Drop it" }).click();
  await expect(page.getByText("It was dropped by Chef")).toBeVisible();
  await page.getByRole("button", { name: "Take it up again" }).click();
  await expect(page.getByRole("button", { name: "Keep what is tried" }).last()).toBeVisible();
});
