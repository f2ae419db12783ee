/**
 * Dealers: a new one, whose price of a can size is asked about and recorded ahead with freight and a rebate; one that asks
 * in euros, opened to what it comes to at the door; a new exchange rate; every price over time, and the season in it.
 */
import { expect, expectAccessible, test } from "./app";
import { demoKitchen, expectNoSideways, tryIt } from "./steps";

test.use({ installation: "dealers" });
test.beforeEach(async ({ page }) => { await demoKitchen(page, "Chef"); });

const day = (ahead: number): string => new Date(Date.now() + ahead * 86_400_000).toISOString().slice(0, 10);

test("a dealer is added, its price waits with freight and a rebate, and euros come to the door in dollars", async ({ page }) => {
  await page.goto("/dealers");
  await expect(page.getByRole("row").filter({ hasText: "Conservas Ribadoira" })).toContainText("600.00");
  await expectAccessible(page);
  await page.getByRole("link", { name: "Add a dealer" }).click();
  await page.getByLabel("Name of the dealer").fill("tarrow meat & poultry");
  await page.getByLabel("Least an order comes to").fill("-50");
  await page.getByLabel("How to order").fill("By mail");
  await page.getByRole("button", { name: "Record this dealer" }).click();
  const wrong = page.getByRole("alert").filter({ hasText: "Nothing was saved" });
  await expect(wrong).toContainText("Tarrow Meat & Poultry is in the book already");
  await expect(wrong).toContainText("below zero");
  await expect(page.getByLabel("How to order")).toHaveValue("By mail");
  await page.getByLabel("Name of the dealer").fill("Quillfeather Imports");
  await page.getByLabel("Least an order comes to").fill("120");
  await page.getByRole("button", { name: "Record this dealer" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Quillfeather Imports" })).toBeVisible();
  await expect(page.locator(".of").first()).toContainText("By mail · least order $120.00");

  // A can size is a question, and the usual content is there to be taken.
  await page.goto("/items/piquillos/edit");
  const form = page.locator("#quote form");
  await form.getByLabel("Dealer", { exact: true }).selectOption({ label: "Quillfeather Imports" });
  await form.getByLabel("Pack", { exact: true }).fill("6/#10");
  await form.getByLabel("Price", { exact: true }).fill("61");
  await form.getByLabel("It is", { exact: true }).selectOption({ label: "a contract" });
  await form.getByLabel("Last day of the contract").fill(day(40));
  await form.getByLabel("GTIN on the carton").fill("18410000000115");
  await form.getByRole("button", { name: "Add an extra or rebate" }).click();
  const freight = form.getByRole("group", { name: "extra or rebate 1", exact: true });
  await freight.getByLabel("What for").fill("Freight");
  await freight.getByLabel("How much").fill("4.50");
  await form.getByRole("button", { name: "Add an extra or rebate" }).click();
  const rebate = form.getByRole("group", { name: "extra or rebate 2", exact: true });
  await rebate.getByLabel("What for").fill("Rebate");
  await rebate.getByLabel("It", { exact: true }).selectOption({ label: "is paid back" });
  await rebate.getByLabel("How much").fill("much");
  await rebate.getByLabel("For", { exact: true }).selectOption({ label: "% of the price" });
  await form.getByLabel("Applies from").fill(day(3));
  await form.getByRole("button", { name: "Record this price" }).click();
  const told = form.getByRole("alert").filter({ hasText: "Nothing was saved" });
  await expect(told).toContainText("“6/#10” names a can size, and what a can holds stands on its label");
  await expect(told).toContainText("That is not a GTIN");
  await expect(rebate.getByLabel("How much")).toHaveValue("much");
  await expectAccessible(page);
  await form.getByRole("group", { name: "What a can holds" }).getByRole("button", { name: "6 lb" }).click();
  await expect(form.getByLabel("Pack", { exact: true })).toHaveValue("6/#10 (6 lb)");
  await expect(form.getByText("reads as case of 6 #10 cans of 6 lb")).toBeVisible();
  await form.getByLabel("GTIN on the carton").fill("18410000000112");
  await rebate.getByLabel("How much").fill("2");
  await form.getByRole("button", { name: "Record this price" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Roasted piquillos, whole" })).toBeVisible();
  await expect(page.getByText(/A new price waits: Quillfeather Imports, \$61\.00\sa pack\. It applies by itself from/)).toBeVisible();
  await page.getByRole("link", { name: "Every price of every dealer" }).click();
  await expect(page.getByRole("row").filter({ hasText: "Quillfeather Imports" })).toContainText("waits");
  // (61 + 4.50 − 1.22) ÷ 36 lb.
  await expect(page.getByRole("row").filter({ hasText: "Quillfeather Imports" })).toContainText("1.79");
  await expect(page.getByText("There are", { exact: false }).filter({ hasText: "lacking" })).toBeVisible();

  // In euros: asked, on top, and at the door.
  await page.goto("/items/anchovies");
  await expect(page.getByText(/Conservas Ribadoira asks €96\.00\sa pack\. With the exchange rate, sea freight, customs and broker it comes to/)).toBeVisible();
  await page.getByRole("link", { name: /\$9\.09/ }).first().click();
  const ledger = page.getByRole("table", { name: "The price it is costed at" });
  await expect(ledger).toContainText("€96.00 asked, at 1.09 for one EUR (the bank’s rate");
  await expect(ledger.getByRole("row").filter({ hasText: "Sea freight" })).toContainText("10.36");
  await expect(ledger.getByRole("row").filter({ hasText: "Customs and broker" })).toContainText("5.23");
  await expect(ledger.getByRole("row").filter({ hasText: "At the door" })).toContainText("120.23");
  await expectAccessible(page);

  await page.goto("/house");
  const euro = page.getByRole("group", { name: "currency 1", exact: true });
  await euro.getByLabel("One of it is worth").fill("1.20");
  await euro.getByLabel("Rate of").fill(day(0));
  const ripple = await tryIt(page);
  await expect(ripple.getByRole("heading", { name: "Prices of items" })).toBeVisible();
  await page.getByRole("button", { name: "Record these rules" }).click();
  await expect(page.getByRole("region", { name: "What this change did" })).toBeVisible();
  await page.goto("/dealers/ribadoira");
  await expect(page.getByRole("row").filter({ hasText: "Anchovy" })).toContainText("10.01");
  await expectAccessible(page);
  await expectNoSideways(page);
});

test("prices over time are drawn and told, and two years of them tell a season @phone", async ({ page }) => {
  await page.goto("/dealers/ossel-wray");
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Ossel & Wray, butchers");
  await expectNoSideways(page);
  await page.goto("/items/venison-saddle/prices");
  await expect(page.getByRole("img", { name: /^Price of Venison saddle over time, Ossel & Wray, butchers, Tarrow Meat & Poultry/ })).toBeVisible();
  await expect(page.getByRole("table", { name: /5 prices, newest first/ })).toContainText("16.98");
  await expectAccessible(page);
  await expectNoSideways(page);
  await page.goto("/items/asparagus/prices");
  await expect(page.getByText("Dearest in January")).toBeVisible();
  await expect(page.getByRole("table", { name: /from 24 months/ }).getByRole("row").filter({ hasText: "May" })).toContainText("below");
  await expectAccessible(page);
  await expectNoSideways(page);
});
